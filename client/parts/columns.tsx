/** The columns of the table of parts: what each shows, by what it sorts, and what typing into it records. */

import type { ReactNode } from 'react';
import type { PartReport } from '#shared/contract/reports.ts';
import type { ESTIMATE_FIELDS } from '#shared/estimate/from-words.ts';
import { Evidence, Process, Side } from '#shared/ledger/entry.ts';
import type { PART_FIELDS } from '#shared/part/from-words.ts';
import { showMassWithStd, showPercent } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { say, term } from '#shared/words/say.ts';
import { FlagWord } from '../pieces/flag-word.tsx';
import { minus, type Shown } from '../pieces/units.ts';

/** What a cell can need to know beside its own row. */
export type Around = {
  readonly shown: Shown;
  /** By group, in kilograms. */
  readonly targets: ReadonlyMap<string, number>;
  /** Predicted with everything in it, by number. */
  readonly sums: ReadonlyMap<string, number>;
};

type Unit = 'mass' | 'length' | '%';

/** Where what is typed goes: a revised estimate, or a correction of what the part was added as. */
export type Edit = {
  readonly text: (part: PartReport, shown: Shown) => string;
  readonly unit?: Unit;
  readonly choices?: readonly string[];
} & (
  | { readonly records: 'estimate'; readonly field: (typeof ESTIMATE_FIELDS)[number] }
  | { readonly records: 'part added'; readonly field: (typeof PART_FIELDS)[number] }
);

export type Column = {
  readonly id: string;
  readonly heading: string;
  readonly unit?: Unit;
  readonly widthRem: number;
  readonly isText?: boolean;
  readonly isAtFirstShown: boolean;
  readonly cell: (part: PartReport, around: Around) => ReactNode;
  readonly sortBy: (part: PartReport, around: Around) => string | number | undefined;
  readonly edit?: Edit;
};

const NOT_KNOWN = '–';

/** Every digit of a figure, as somebody would type it. */
export function plainFigure(si: number | undefined, unit: Unit | undefined, { units }: Shown): string {
  if (si === undefined) return '';
  const factor = unit === 'mass' ? MASS_UNIT_KG[units.mass] : unit === 'length' ? LENGTH_UNIT_M[units.length] : 0.01;
  return String(Number((si / factor).toPrecision(12)));
}

/** The unit of a column as its heading shows it, and as it stands behind a bare number that is typed. */
export function unitName(unit: Unit | undefined, { units }: Shown): string | undefined {
  return unit === 'mass' ? units.mass : unit === 'length' ? units.length : unit;
}

function textColumn(
  field: 'name' | 'group' | 'process' | 'assembly' | 'side',
  rest: Pick<Column, 'heading' | 'widthRem' | 'isAtFirstShown'> & { readonly choices?: readonly string[] },
): Column {
  const { choices, ...column } = rest;
  const text = (part: PartReport) => part[field] ?? '';
  const edit: Edit = { records: 'part added', field, text, ...(choices === undefined ? {} : { choices }) };
  return {
    ...column,
    id: field,
    isText: true,
    cell: choices === undefined ? text : (part) => term(text(part)),
    sortBy: (part) => part[field],
    edit,
  };
}

function massColumn(field: 'flash' | 'later', of: (part: PartReport) => number | undefined, heading: string): Column {
  return {
    ...{ id: field, heading, unit: 'mass', widthRem: 7, isAtFirstShown: false },
    cell: (part, { shown }) => shown.mass(of(part)),
    sortBy: of,
    edit: { records: 'estimate', field, unit: 'mass', text: (part, shown) => plainFigure(of(part), 'mass', shown) },
  };
}

function armColumn(axis: 'x' | 'y' | 'z', isAtFirstShown: boolean): Column {
  const of = (part: PartReport) => part[`${axis}M`];
  return {
    ...{ id: axis, heading: say`Arm ${axis}`, unit: 'length', widthRem: 5.25, isAtFirstShown },
    cell: (part, { shown }) => shown.length(of(part)),
    sortBy: of,
    edit: {
      records: 'estimate',
      field: axis,
      unit: 'length',
      text: (part, shown) => plainFigure(of(part), 'length', shown),
    },
  };
}

/** An assembly without a figure of its own is the sum of what is in it. */
function hasOwnMass({ childCount, predictedKg, estimateKg }: PartReport): boolean {
  return childCount === 0 || predictedKg !== 0 || estimateKg !== undefined;
}

function weighedWords({ weighed, quantity, childCount, asAssembly }: PartReport): string {
  if (asAssembly !== undefined) return 'whole';
  return childCount > 0 && weighed.length === 0 ? NOT_KNOWN : say`${weighed.length} of ${quantity}`;
}

const FLAG_RANK = ['drifting heavy', 'drifting light', 'watch heavy', 'watch light', 'in line'] as const;

export const COLUMNS: readonly Column[] = [
  {
    ...{ id: 'number', heading: say`Number`, widthRem: 8.5, isText: true, isAtFirstShown: true },
    cell: (part) => part.number,
    sortBy: (part) => part.number,
  },
  textColumn('name', { heading: say`Name`, widthRem: 9.5, isAtFirstShown: true }),
  textColumn('group', { heading: say`Group`, widthRem: 7, isAtFirstShown: true }),
  textColumn('process', { heading: say`Process`, widthRem: 7.5, isAtFirstShown: true, choices: Process.options }),
  textColumn('assembly', { heading: say`Is in`, widthRem: 8, isAtFirstShown: false }),
  textColumn('side', { heading: say`Side`, widthRem: 6, isAtFirstShown: false, choices: ['', ...Side.options] }),
  {
    ...{ id: 'quantity', heading: say`Pieces`, widthRem: 5.5, isAtFirstShown: false },
    cell: (part) => part.quantity,
    sortBy: (part) => part.quantity,
    edit: { records: 'part added', field: 'quantity', text: (part) => String(part.quantity) },
  },
  {
    ...{ id: 'estimate', heading: say`Estimate each`, unit: 'mass', widthRem: 6, isAtFirstShown: true },
    cell: (part, { shown }) => shown.mass(part.estimateKg),
    sortBy: (part) => part.estimateKg,
    edit: {
      ...{ records: 'estimate', field: 'estimate', unit: 'mass' },
      text: (part, shown) => plainFigure(part.estimateKg, 'mass', shown),
    },
  },
  {
    ...{ id: 'evidence', heading: say`Evidence`, widthRem: 7, isText: true, isAtFirstShown: false },
    cell: (part) => part.evidence ?? '',
    sortBy: (part) => part.evidence,
    edit: { records: 'estimate', field: 'evidence', text: (part) => part.evidence ?? '', choices: Evidence.options },
  },
  massColumn('flash', (part) => part.flashKg, say`Flash`),
  massColumn('later', (part) => part.laterKg, say`Later`),
  {
    ...{ id: 'weighed', heading: say`Weighed`, widthRem: 5.5, isAtFirstShown: true },
    cell: weighedWords,
    sortBy: (part) => part.weighed.length / part.quantity,
  },
  {
    ...{ id: 'predicted', heading: say`Predicted`, unit: 'mass', widthRem: 9.75, isAtFirstShown: true },
    cell: (part, { shown }) => (hasOwnMass(part) ? <WithStd part={part} shown={shown} /> : NOT_KNOWN),
    sortBy: (part) => (hasOwnMass(part) ? part.predictedKg : undefined),
  },
  {
    ...{ id: 'differenceShare', heading: say`Difference`, unit: '%', widthRem: 6.5, isAtFirstShown: true },
    cell: ({ differenceFraction: share }) =>
      share === undefined ? NOT_KNOWN : minus(showPercent(share, { sign: true })),
    sortBy: (part) => part.differenceFraction,
  },
  {
    ...{ id: 'flag', heading: say`Flag`, widthRem: 9.5, isText: true, isAtFirstShown: true },
    cell: (part) => (part.flag === undefined ? '' : <FlagWord flag={part.flag} />),
    sortBy: (part) => (part.flag === undefined ? undefined : FLAG_RANK.indexOf(part.flag)),
  },
  armColumn('x', true),
  {
    ...{ id: 'allowance', heading: say`Allowance`, unit: '%', widthRem: 6.5, isAtFirstShown: true },
    cell: (part) => (part.growth === undefined ? NOT_KNOWN : showPercent(part.growth)),
    sortBy: (part) => part.growth,
    edit: {
      ...{ records: 'estimate', field: 'allowance', unit: '%' },
      text: (part, shown) => plainFigure(part.growth, '%', shown),
    },
  },
  {
    ...{ id: 'whole', heading: say`With its parts`, unit: 'mass', widthRem: 7, isAtFirstShown: true },
    cell: (part, { shown, sums }) => (part.childCount === 0 ? '' : shown.mass(sums.get(part.number))),
    sortBy: (part, { sums }) => (part.childCount === 0 ? undefined : sums.get(part.number)),
  },
  {
    ...{ id: 'difference', heading: say`Difference`, unit: 'mass', widthRem: 7, isAtFirstShown: true },
    cell: (part, { shown }) => shown.mass(part.differenceKg, { sign: true }),
    sortBy: (part) => part.differenceKg,
  },
  armColumn('y', false),
  armColumn('z', false),
  {
    ...{ id: 'target', heading: say`Target of group`, unit: 'mass', widthRem: 7, isAtFirstShown: true },
    cell: (part, { shown, targets }) => shown.mass(targets.get(part.group)),
    sortBy: (part, { targets }) => targets.get(part.group),
  },
  {
    ...{ id: 'open', heading: say`Open`, widthRem: 15, isText: true, isAtFirstShown: false },
    cell: (part) => part.open.join(', '),
    sortBy: (part) => (part.open.length === 0 ? undefined : -part.open.length),
  },
];

function WithStd({ part, shown }: { readonly part: PartReport; readonly shown: Shown }) {
  const { value, std } = showMassWithStd(part.predictedKg, part.predictedStdKg, shown.units.mass);
  return (
    <span className="with-std">
      <span>{minus(value)}</span>
      <span className="soft">{std === undefined ? '' : `± ${std}`}</span>
    </span>
  );
}
