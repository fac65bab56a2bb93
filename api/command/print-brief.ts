/** A brief as text for a terminal, from its kept content alone. */
import {
  calledOnceWords,
  driftingProcesses,
  shownByProcessesKg,
  sparingProcesses,
} from '#shared/brief/process-lists.ts';
import type { Brief, BriefContent, BriefLine } from '#shared/contract/brief.ts';
import { type DisplayUnits, showMass, showMassWithStd, showPercent } from '#shared/quantity/show.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { bridgeText } from './print-growth.ts';
import { labelled, tableText } from './table-text.ts';

export function briefListText(aircraft: string, lines: readonly BriefLine[]): string {
  if (lines.length === 0) return `${say`${aircraft} has no brief yet.`}\n`;
  return tableText(lines, [
    {
      heading: say`Brief`,
      align: 'right',
      cell: ({ issued, briefId }) => (issued === undefined ? briefId.slice(0, 8) : String(issued.number)),
    },
    { heading: say`State`, align: 'left', cell: ({ state }) => term(state) },
    { heading: say`Entry`, align: 'right', cell: ({ toSeq }) => String(toSeq) },
    { heading: say`since`, align: 'right', cell: ({ fromSeq }) => String(fromSeq) },
    { heading: say`Made`, align: 'left', cell: ({ madeAt, by }) => `${dayWords(madeAt)} ${by}` },
    { heading: '', align: 'left', cell: ({ lead }) => lead },
  ]);
}

export function briefText(brief: Brief): string {
  const { content, remarks, issued } = brief;
  const { aircraft, from, to, made, headline, open } = content;
  const units: DisplayUnits = { mass: aircraft.massUnit, length: aircraft.lengthUnit };
  const title =
    issued === undefined
      ? say`Brief of ${aircraft.name} (${term(brief.state)})`
      : say`Brief ${issued.number} of ${aircraft.name}`;
  const said = Object.entries(remarks).map(([about, words]) =>
    about === 'all' ? say`Remark: ${words}` : say`Remark, ${term(about)}: ${words}`,
  );
  const parts = [
    `${title}\n${say`As known at entry ${to.seq}${from.seq === 0 ? '' : say`, since entry ${from.seq}`}; made by ${made.by} on ${dayWords(made.on)}${issued === undefined ? '' : say`, issued by ${issued.by} on ${dayWords(issued.at)}`}`}\n`,
    `${[headline.lead, ...headline.rest.map((sentence) => `- ${sentence}`), ...said].join('\n')}\n`,
    madeOfText(content, units),
    bridgeText(
      {
        axis: 'entry',
        by: 'cause',
        from: { ...from, at: String(from.seq) },
        to: { ...to, at: String(to.seq) },
        effects: content.bridge.causes,
        rows: [],
      },
      units,
    ),
    ...tables(content, units),
    `${say`Open: ${open.counts.length === 0 ? say`nothing` : open.counts.map(({ what, count }) => `${term(what)} ${count}`).join(', ')}${open.overdueProposals === 0 ? '' : say`; proposals overdue ${open.overdueProposals}`}`}\n`,
    `${say`Entry ${to.seq}: ${to.hash ?? ''}`}\n${issued === undefined ? '' : `${say`Issued as: ${issued.hash}`}\n`}`,
    `${content.cautions.join('\n')}\n`,
  ];
  return parts.join('\n');
}

/** What of the two weights is basic mass, allowance, and shown by processes. */
function madeOfText({ figures, forecast }: BriefContent, { mass: unit }: DisplayUnits): string {
  const mass = (massKg: number, sign = false) => showMass(massKg, unit, { sign });
  const lines = labelled([
    [
      say`Predicted`,
      say`${mass(figures.predictedKg)} ${unit} = basic ${mass(figures.basicKg)} ${unit} + growth allowance ${mass(figures.allowanceKg)} ${unit}`,
    ],
    [
      say`Forecast`,
      say`${mass(forecast.forecastKg)} ${unit} = the same ${mass(shownByProcessesKg({ forecast }), true)} ${unit} that processes have shown`,
    ],
  ]);
  return `${lines.join('\n')}\n`;
}

function tables({ groups, drift, proposals }: BriefContent, units: DisplayUnits): readonly string[] {
  const mass = (massKg: number | undefined, sign = false) =>
    massKg === undefined ? '' : showMass(massKg, units.mass, { sign });
  const forecast = (row: BriefContent['groups'][number]) => {
    const { value, std } = showMassWithStd(row.forecastKg, row.forecastStdKg, units.mass);
    return std === undefined ? value : `${value} ± ${std}`;
  };
  const once = calledOnceWords(drift);
  return [
    tableText(groups, [
      { heading: say`Group`, align: 'left', cell: ({ group }) => group },
      { heading: say`predicted ${units.mass}`, align: 'right', cell: (row) => mass(row.predictedKg) },
      { heading: say`forecast ${units.mass}`, align: 'right', cell: forecast },
      { heading: say`target ${units.mass}`, align: 'right', cell: (row) => mass(row.targetKg) },
      { heading: say`margin of forecast ${units.mass}`, align: 'right', cell: (row) => mass(row.marginKg, true) },
    ]),
    ...(drift.parts.count === 0
      ? []
      : [
          tableText(drift.parts.rows, [
            { heading: say`Drifting part`, align: 'left', cell: ({ number, name }) => `${number} ${name}` },
            { heading: say`how`, align: 'left', cell: ({ flag }) => term(flag) },
            { heading: say`off ${units.mass}`, align: 'right', cell: (row) => mass(row.differenceKg, true) },
            {
              heading: say`effect on margin ${units.mass}`,
              align: 'right',
              cell: (row) => mass(row.marginEffectKg, true),
            },
            { heading: say`cause`, align: 'left', cell: ({ cause }) => term(cause) ?? say`not said` },
            { heading: say`owner`, align: 'left', cell: ({ owner }) => owner?.name ?? say`nobody yet` },
          ]),
        ]),
    ...(
      [
        [say`Drifting process`, driftingProcesses(drift)],
        [say`Process with allowance to spare`, sparingProcesses(drift)],
      ] as const
    ).flatMap(([heading, rows]) =>
      rows.length === 0
        ? []
        : [
            tableText(rows, [
              { heading, align: 'left', cell: ({ process }) => term(process) },
              { heading: say`how`, align: 'left', cell: ({ signal }) => term(signal.reading) },
              {
                heading: say`since`,
                align: 'left',
                cell: ({ signal }) => `${signal.began.part}, ${dayWords(signal.began.on)}`,
              },
              { heading: say`adds ${units.mass}`, align: 'right', cell: (row) => mass(row.effectKg, true) },
              {
                heading: say`cause`,
                align: 'left',
                cell: ({ cause }) => cause?.found ?? term(cause?.cause) ?? say`not said`,
              },
              { heading: say`owner`, align: 'left', cell: ({ owner }) => owner?.name ?? say`nobody yet` },
            ]),
          ],
    ),
    ...(once === undefined ? [] : [`${once}\n`]),
    ...(proposals.count === 0
      ? []
      : [
          tableText(proposals.rows, [
            { heading: say`Proposal`, align: 'left', cell: ({ title }) => title },
            { heading: say`owner`, align: 'left', cell: ({ owner }) => owner },
            {
              heading: say`state`,
              align: 'left',
              cell: ({ state, unfit }) => (unfit.length === 0 ? term(state) : say`no longer fits`),
            },
            {
              heading: say`due`,
              align: 'left',
              cell: ({ due, isOverdue }) => (isOverdue ? say`${dayWords(due)} overdue` : dayWords(due)),
            },
            { heading: say`likely %`, align: 'right', cell: ({ likelihood }) => showPercent(likelihood) },
            { heading: say`saves ${units.mass}`, align: 'right', cell: ({ savingKg }) => mass(savingKg) },
          ]),
        ]),
  ];
}
