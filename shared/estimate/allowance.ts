/**
 * Growth allowances by process and evidence (rule E1), as fractions of the mass. What a shop starts with is common practice, no source:
 * public tables disagree, so these are numbers to adjust. A shop records its own, and every estimate may state its own.
 */
import { Evidence, Process, type StatementOf } from '#shared/ledger/entry.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';

import { ERROR_FIELDS } from './shop-errors.ts';

type ByEvidence = Readonly<Record<Evidence, number>>;

const COMPOSITE: ByEvidence = { estimated: 0.24, calculated: 0.06 };
const BOND_OR_FINISH: ByEvidence = { estimated: 0.3, calculated: 0.15 };
const MADE_TO_SIZE: ByEvidence = { estimated: 0.15, calculated: 0.04 };

/** Common practice, no source. */
export const COMMON_GROWTH: Readonly<Record<Process, ByEvidence>> = {
  'resin-infused': COMPOSITE,
  'wet lay-up': COMPOSITE,
  prepreg: COMPOSITE,
  machined: MADE_TO_SIZE,
  printed: MADE_TO_SIZE,
  bought: { estimated: 0.2, calculated: 0.05 },
  wiring: { estimated: 0.5, calculated: 0.2 },
  bonding: BOND_OR_FINISH,
  finish: BOND_OR_FINISH,
  fluid: { estimated: 0.1, calculated: 0.03 },
  other: COMPOSITE,
};

/** The shop's own allowances; what they leave out stays as common practice has it. */
export type ShopAllowances = Pick<StatementOf<'allowances'>, 'shares'>;

/** What an estimate takes that states no allowance. */
export function shopGrowth(process: Process, evidence: Evidence, own?: ShopAllowances): number {
  const share = own?.shares.find((one) => one.process === process && one.evidence === evidence);
  return share?.growth ?? COMMON_GROWTH[process][evidence];
}

/** One field for each process and evidence: `prepreg calculated`. */
export function allowanceField(process: Process, evidence: Evidence): string {
  return `${process} ${evidence}`;
}

const CELLS = Process.options.flatMap((process) => Evidence.options.map((evidence) => ({ process, evidence })));

export const ALLOWANCE_FIELDS: readonly string[] = [
  ...CELLS.map(({ process, evidence }) => allowanceField(process, evidence)),
  ...Object.values(ERROR_FIELDS),
  'reason',
];

/** The shop's table as a person states it, whole: a field that is left empty goes back to common practice. */
export function allowancesFromWords(reader: FieldReader): StatementOf<'allowances'> | undefined {
  const before = reader.problems.length;
  const shares = CELLS.flatMap((cell) => {
    const read = reader.share(allowanceField(cell.process, cell.evidence));
    return read === undefined ? [] : [{ ...cell, growth: read.si }];
  });
  const errors = {
    processShiftStd: errorFrom(reader, ERROR_FIELDS.processShiftStd),
    pieceToPieceStd: errorFrom(reader, ERROR_FIELDS.pieceToPieceStd),
  };
  const reason = reader.text('reason', 400);
  if (reader.problems.length > before) return undefined;
  const { processShiftStd, pieceToPieceStd } = errors;
  return {
    kind: 'allowances',
    shares,
    ...(processShiftStd === undefined ? {} : { processShiftStd }),
    ...(pieceToPieceStd === undefined ? {} : { pieceToPieceStd }),
    ...(reason === undefined ? {} : { reason }),
    typed: { ...reader.typed },
  };
}

/** Nothing repeats itself exactly, and nothing is off by its whole. */
function errorFrom(reader: FieldReader, field: string): number | undefined {
  const read = reader.share(field);
  if (read === undefined || (read.si > 0 && read.si <= 1)) return read?.si;
  reader.problem(field, { code: 'out-of-range', text: read.typed, least: 'more than 0 %', most: '100 %' });
  return undefined;
}
