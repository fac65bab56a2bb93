/** A brief as text for a terminal, from its kept content alone. */
import {
  calledOnceWords,
  driftingProcesses,
  shownByProcessesKg,
  sparingProcesses,
} from '#shared/brief/process-lists.ts';
import type { Brief, BriefContent, BriefLine } from '#shared/contract/brief.ts';
import { type DisplayUnits, showMass, showMassWithStd, showPercent } from '#shared/quantity/show.ts';
import { bridgeText } from './print-growth.ts';
import { tableText } from './table-text.ts';

export function briefListText(aircraft: string, lines: readonly BriefLine[]): string {
  if (lines.length === 0) return `${aircraft} has no brief yet.\n`;
  return tableText(lines, [
    {
      heading: 'Brief',
      align: 'right',
      cell: ({ issued, briefId }) => (issued === undefined ? briefId.slice(0, 8) : String(issued.number)),
    },
    { heading: 'State', align: 'left', cell: ({ state }) => state },
    { heading: 'Entry', align: 'right', cell: ({ toSeq }) => String(toSeq) },
    { heading: 'since', align: 'right', cell: ({ fromSeq }) => String(fromSeq) },
    { heading: 'Made', align: 'left', cell: ({ madeAt, by }) => `${madeAt.slice(0, 10)} ${by}` },
    { heading: '', align: 'left', cell: ({ lead }) => lead },
  ]);
}

export function briefText(brief: Brief): string {
  const { content, remarks, issued } = brief;
  const { aircraft, from, to, made, headline, open } = content;
  const units: DisplayUnits = { mass: aircraft.massUnit, length: aircraft.lengthUnit };
  const title =
    issued === undefined ? `Brief of ${aircraft.name} (${brief.state})` : `Brief ${issued.number} of ${aircraft.name}`;
  const said = Object.entries(remarks).map(
    ([about, words]) => `Remark${about === 'all' ? '' : `, ${about}`}: ${words}`,
  );
  const parts = [
    `${title}\nAs known at entry ${to.seq}${from.seq === 0 ? '' : `, since entry ${from.seq}`}; made by ${made.by} on ${made.on}${issued === undefined ? '' : `, issued by ${issued.by} on ${issued.at.slice(0, 10)}`}\n`,
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
    `Open: ${open.counts.length === 0 ? 'nothing' : open.counts.map(({ what, count }) => `${what} ${count}`).join(', ')}${open.overdueProposals === 0 ? '' : `; proposals overdue ${open.overdueProposals}`}\n`,
    `Entry ${to.seq}: ${to.hash ?? ''}\n${issued === undefined ? '' : `Issued as: ${issued.hash}\n`}`,
    `${content.cautions.join('\n')}\n`,
  ];
  return parts.join('\n');
}

/** What of the two weights is basic mass, allowance, and shown by processes. */
function madeOfText({ figures, forecast }: BriefContent, { mass: unit }: DisplayUnits): string {
  const mass = (massKg: number, sign = false) => showMass(massKg, unit, { sign });
  const predicted = `basic ${mass(figures.basicKg)} ${unit} + growth allowance ${mass(figures.allowanceKg)} ${unit}`;
  return [
    `Predicted ${mass(figures.predictedKg)} ${unit} = ${predicted}`,
    `Forecast  ${mass(forecast.forecastKg)} ${unit} = the same ${mass(shownByProcessesKg({ forecast }), true)} ${unit} that processes have shown`,
    '',
  ].join('\n');
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
      { heading: 'Group', align: 'left', cell: ({ group }) => group },
      { heading: `predicted ${units.mass}`, align: 'right', cell: (row) => mass(row.predictedKg) },
      { heading: `forecast ${units.mass}`, align: 'right', cell: forecast },
      { heading: `target ${units.mass}`, align: 'right', cell: (row) => mass(row.targetKg) },
      { heading: `margin of forecast ${units.mass}`, align: 'right', cell: (row) => mass(row.marginKg, true) },
    ]),
    ...(drift.parts.count === 0
      ? []
      : [
          tableText(drift.parts.rows, [
            { heading: 'Drifting part', align: 'left', cell: ({ number, name }) => `${number} ${name}` },
            { heading: 'how', align: 'left', cell: ({ flag }) => flag },
            { heading: `off ${units.mass}`, align: 'right', cell: (row) => mass(row.differenceKg, true) },
            {
              heading: `effect on margin ${units.mass}`,
              align: 'right',
              cell: (row) => mass(row.marginEffectKg, true),
            },
            { heading: 'cause', align: 'left', cell: ({ cause }) => cause ?? 'not said' },
            { heading: 'owner', align: 'left', cell: ({ owner }) => owner?.name ?? 'nobody yet' },
          ]),
        ]),
    ...(
      [
        ['Drifting process', driftingProcesses(drift)],
        ['Process with allowance to spare', sparingProcesses(drift)],
      ] as const
    ).flatMap(([heading, rows]) =>
      rows.length === 0
        ? []
        : [
            tableText(rows, [
              { heading, align: 'left', cell: ({ process }) => process },
              { heading: 'how', align: 'left', cell: ({ signal }) => signal.reading },
              { heading: 'since', align: 'left', cell: ({ signal }) => `${signal.began.part}, ${signal.began.on}` },
              { heading: `adds ${units.mass}`, align: 'right', cell: (row) => mass(row.effectKg, true) },
              { heading: 'cause', align: 'left', cell: ({ cause }) => cause?.found ?? cause?.cause ?? 'not said' },
              { heading: 'owner', align: 'left', cell: ({ owner }) => owner?.name ?? 'nobody yet' },
            ]),
          ],
    ),
    ...(once === undefined ? [] : [`${once}\n`]),
    ...(proposals.count === 0
      ? []
      : [
          tableText(proposals.rows, [
            { heading: 'Proposal', align: 'left', cell: ({ title }) => title },
            { heading: 'owner', align: 'left', cell: ({ owner }) => owner },
            {
              heading: 'state',
              align: 'left',
              cell: ({ state, unfit }) => (unfit.length === 0 ? state : 'no longer fits'),
            },
            { heading: 'due', align: 'left', cell: ({ due, isOverdue }) => `${due}${isOverdue ? ' overdue' : ''}` },
            { heading: 'likely %', align: 'right', cell: ({ likelihood }) => showPercent(likelihood) },
            { heading: `saves ${units.mass}`, align: 'right', cell: ({ savingKg }) => mass(savingKg) },
          ]),
        ]),
  ];
}
