/** What moved the aircraft, as text for a terminal: day by day, and from one moment to another by cause. */
import type { BridgeReport, DayReport, EffectReport } from '#shared/contract/reports.ts';
import { type DisplayUnits, showFixed, showMass } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { tableText } from './table-text.ts';

export function effectText(effect: EffectReport, units: DisplayUnits): string {
  const name = causeText(effect);
  if (effect.massKg !== 0) return `${name} ${showMass(effect.massKg, units.mass, { sign: true })}`;
  if (effect.marginKg !== 0) return say`${name} ${showMass(effect.marginKg, units.mass, { sign: true })} margin`;
  return `${name} ${showFixed(effect.momentXKgM / MASS_UNIT_KG[units.mass] / LENGTH_UNIT_M[units.length], 2, { sign: true })} ${units.mass} ${units.length}`;
}

function causeText({ cause, isCorrection }: EffectReport): string {
  return isCorrection ? say`${term(cause)} (corrected)` : term(cause);
}

export function bridgeText({ axis, from, to, effects }: BridgeReport, units: DisplayUnits): string {
  const mass = (massKg: number, sign = false) => showMass(massKg, units.mass, { sign });
  const moment = (momentKgM: number) =>
    showFixed(momentKgM / MASS_UNIT_KG[units.mass] / LENGTH_UNIT_M[units.length], 2, { sign: true });
  const end = (at: string) =>
    at === '' || at === '0'
      ? say`At the beginning`
      : axis === 'entry'
        ? say`At the end of entry ${at}`
        : say`At the end of day ${dayWords(at)}`;
  type Row = { readonly what: string; readonly mass: string; readonly moment: string };
  const rows: Row[] = [
    { what: end(from.at), mass: mass(from.predictedKg), moment: '' },
    ...effects.map((effect) => ({
      what: `  ${causeText(effect)}`,
      mass: mass(effect.massKg, true),
      moment: moment(effect.momentXKgM),
    })),
    { what: end(to.at), mass: mass(to.predictedKg), moment: '' },
  ];
  return tableText(rows, [
    { heading: say`Predicted empty weight`, align: 'left', cell: (row) => row.what },
    { heading: units.mass, align: 'right', cell: (row) => row.mass },
    { heading: say`moment x ${units.mass} ${units.length}`, align: 'right', cell: (row) => row.moment },
  ]);
}

export function growthText(rows: readonly DayReport[], units: DisplayUnits): string {
  const signed = (massKg: number | undefined) =>
    massKg === undefined ? '' : showMass(massKg, units.mass, { sign: true });
  return tableText(rows, [
    { heading: say`Day`, align: 'left', cell: (row) => dayWords(row.day) },
    { heading: say`basic ${units.mass}`, align: 'right', cell: (row) => showMass(row.basicKg, units.mass) },
    { heading: say`predicted ${units.mass}`, align: 'right', cell: (row) => showMass(row.predictedKg, units.mass) },
    {
      heading: say`target ${units.mass}`,
      align: 'right',
      cell: (row) => (row.targetKg === undefined ? '' : showMass(row.targetKg, units.mass)),
    },
    { heading: say`margin of predicted ${units.mass}`, align: 'right', cell: (row) => signed(row.marginKg) },
    {
      heading: say`change`,
      align: 'left',
      cell: (row) =>
        row.effects
          .filter((effect) => effect.massKg !== 0)
          .map((effect) => `${term(effect.cause)} ${signed(effect.massKg)}`)
          .join(', '),
    },
  ]);
}
