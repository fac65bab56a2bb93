/** What the first page of a printed brief has (rule B4): the headline in words, where the aircraft stands, and the pictures. */

import { shownByProcessesKg } from '#shared/brief/process-lists.ts';
import { endWords, standingWords } from '#shared/brief/standing.ts';
import type { Brief, BriefContent } from '#shared/contract/brief.ts';
import { chanceInWords } from '#shared/forecast/chance-words.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { bridgeHeight, bridgePicture } from './bridge-picture.ts';
import type { Told } from './print-words.ts';
import { INK, type Sheet } from './sheet.ts';
import { printTable } from './table.ts';
import { type TimePicture, timePicture } from './time-picture.ts';

export function firstPage(sheet: Sheet, brief: Brief, told: Told, remark: Remark): void {
  const { content } = brief;
  sheet.paragraph('H1', content.headline.lead, { size: 14, weight: 'bold' });
  const { aircraft, to, from } = content;
  sheet.paragraph(
    'P',
    say`${standingWords(brief)} ${aircraft.name} as known at ${endWords(to)}, told since ${endWords(from)}.`,
    { size: 8, colour: INK.soft },
  );
  sheet.bullets(content.headline.rest);
  remark('all');
  sheet.heading(say`Where we stand`);
  standTable(sheet, content, told);
  remark('weighed');
  sheet.pictures([timePicture(sheet, growthPicture(content, told))], GROWTH_PT);
  remark('growth');
  const pair = [bridgePicture(sheet, content, told), timePicture(sheet, cgPicture(content, told))];
  sheet.pictures(pair, Math.max(CG_PT, bridgeHeight(content)));
  remark('bridge');
  remark('CG');
}

export type Remark = (subject: keyof Brief['remarks']) => void;

const GROWTH_PT = 150;
const CG_PT = 125;

type Row = { readonly what: string; readonly now: string; readonly band: string; readonly before: string };

function standTable(sheet: Sheet, content: BriefContent, told: Told): void {
  const rows = [...massRows(content, told), ...cgRows(content, told)];
  printTable(
    sheet,
    [
      { heading: say`figure`, share: 40, cell: ({ what }) => what },
      { heading: say`now`, share: 22, isNumber: true, cell: ({ now }) => now },
      { heading: say`nine in ten`, share: 24, isNumber: true, cell: ({ band }) => band },
      { heading: say`at entry ${content.from.seq}`, share: 18, isNumber: true, cell: ({ before }) => before },
    ],
    rows,
  );
}

function massRows({ forecast, figures, from, to }: BriefContent, told: Told): readonly Row[] {
  const { massUnit: unit, massAlike } = told;
  const earlier = (massKg: number | undefined) => (from.seq === 0 ? '' : told.mass(massKg));
  const { targets } = forecast;
  const band = say`${massAlike(forecast.lowKg, forecast.forecastStdKg)} to ${massAlike(forecast.highKg, forecast.forecastStdKg)}`;
  const share = (fraction: number | undefined) => (fraction === undefined ? '–' : `${told.perCent(fraction)}\u00a0%`);
  return [
    {
      ...{
        what: say`forecast empty weight, ${unit}`,
        now: told.massWithStd(forecast.forecastKg, forecast.forecastStdKg),
      },
      ...{ band, before: earlier(from.forecastKg) },
    },
    {
      ...{
        what: say`predicted empty weight, ${unit}`,
        now: told.massWithStd(figures.predictedKg, figures.predictedStdKg),
      },
      ...{ band: '', before: earlier(from.predictedKg) },
    },
    {
      ...{ what: say`basic mass + growth allowance, in both, ${unit}`, band: '', before: '' },
      now: `${told.mass(figures.basicKg)} + ${told.mass(figures.allowanceKg)}`,
    },
    {
      ...{ what: say`shown by processes, in the forecast, ${unit}`, band: '', before: '' },
      now: told.massChange(shownByProcessesKg({ forecast })),
    },
    ...(targets === undefined
      ? [{ what: say`target, ${unit}`, now: 'not set', band: '', before: '' }]
      : [
          {
            ...{ what: say`target; reserve in it, ${unit}`, band: '', before: '' },
            now: `${told.mass(targets.emptyMassKg)}; ${told.mass(targets.reserveKg)}`,
          },
          { what: say`margin of the forecast, ${unit}`, now: told.massChange(targets.marginKg), band: '', before: '' },
          {
            what: say`chance to be within the target`,
            now: chanceInWords(targets.withinTarget).share,
            band: '',
            before: '',
          },
        ]),
    {
      ...{ what: say`weighed, by mass`, now: share(to.weighedShare), band: '' },
      before: from.seq === 0 ? '' : share(from.weighedShare),
    },
  ];
}

function cgRows({ forecast, figures: { cg, targets }, from }: BriefContent, told: Told): readonly Row[] {
  const { x } = forecast.cg;
  const unit = told.lengthUnit;
  const range = [targets?.cgForwardM, targets?.cgAftM];
  const inMac =
    cg.percentMac === undefined
      ? []
      : [{ what: say`CG predicted, % MAC`, now: told.perCent(cg.percentMac / 100), band: '', before: '' }];
  return [
    {
      ...{ what: say`CG x forecast, ${unit}`, now: told.stationWithStd(x?.atM, x?.stdM) },
      band: x === undefined ? '' : say`${told.station(x.lowM)} to ${told.station(x.highM)}`,
      before: '',
    },
    {
      ...{ what: say`CG x predicted, ${unit}`, now: told.stationWithStd(cg.xM, cg.xStdM), band: '' },
      before: from.seq === 0 ? '' : told.station(from.cgXM),
    },
    ...inMac,
    {
      ...{ what: say`CG range, ${unit}`, band: '', before: '' },
      now: range.every((end) => end === undefined) ? 'not set' : range.map((end) => told.station(end)).join(' to '),
    },
  ];
}

const PREDICTED = { name: 'predicted', colour: INK.text, widthPt: 1.5 } as const;
const FORECAST = { name: 'forecast', colour: INK.forecast, dash: [4, 2.5] } as const;
const TARGET = { colour: INK.target, dash: [9, 3], isStep: true } as const;
const BAND = { name: 'forecast, nine in ten', colour: '#d5e3f2' } as const;

function growthPicture({ days, to }: BriefContent, told: Told): TimePicture {
  const inUnit = (massKg: number | undefined) =>
    massKg === undefined ? undefined : massKg / MASS_UNIT_KG[told.massUnit];
  const last = days.at(-1);
  const target = last?.targetKg === undefined ? '' : say`, target ${told.mass(last.targetKg)}`;
  return {
    title: say`Predicted and forecast empty weight by day, ${told.massUnit}`,
    alt: say`On ${last === undefined ? say`no day yet` : dayWords(last.day)}: predicted ${told.mass(to.predictedKg)}, forecast ${told.mass(to.forecastKg)}${target} ${told.massUnit}.`,
    days: days.map(({ day }) => day),
    bands: [{ ...BAND, low: days.map(({ lowKg }) => inUnit(lowKg)), high: days.map(({ highKg }) => inUnit(highKg)) }],
    lines: [
      { ...TARGET, name: 'target', values: days.map(({ targetKg }) => inUnit(targetKg)) },
      { ...FORECAST, values: days.map(({ forecastKg }) => inUnit(forecastKg)) },
      { ...PREDICTED, values: days.map(({ predictedKg }) => inUnit(predictedKg)) },
    ],
  };
}

function cgPicture({ days }: BriefContent, told: Told): TimePicture {
  const inUnit = (stationM: number | undefined) =>
    stationM === undefined ? undefined : stationM / LENGTH_UNIT_M[told.lengthUnit];
  const last = days.at(-1);
  const range = say`${told.station(last?.cgForwardM)} to ${told.station(last?.cgAftM)}`;
  return {
    title: say`CG x by day against its range, ${told.lengthUnit}`,
    alt: say`On ${last === undefined ? say`no day yet` : dayWords(last.day)}: predicted ${told.station(last?.cgXM)}, forecast ${told.station(last?.cgForecastM)}, range ${range} ${told.lengthUnit}.`,
    days: days.map(({ day }) => day),
    bands: [
      { ...BAND, low: days.map(({ cgLowM }) => inUnit(cgLowM)), high: days.map(({ cgHighM }) => inUnit(cgHighM)) },
    ],
    lines: [
      { ...TARGET, name: 'forward end', values: days.map(({ cgForwardM }) => inUnit(cgForwardM)) },
      { ...TARGET, name: 'aft end', dash: [2, 2], values: days.map(({ cgAftM }) => inUnit(cgAftM)) },
      { ...FORECAST, values: days.map(({ cgForecastM }) => inUnit(cgForecastM)) },
      { ...PREDICTED, values: days.map(({ cgXM }) => inUnit(cgXM)) },
    ],
  };
}
