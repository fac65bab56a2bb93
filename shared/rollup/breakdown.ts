/**
 * The aircraft's mass by group, by process or by assembly (rule R3). Rows are exact: they add up to the headline to the last
 * nanogram, because each part stands in one row and its masses are whole numbers.
 */

import type { PartId, StatementOf } from '#shared/ledger/entry.ts';
import { inForce, type Ledger, presentParts, residualOf } from '#shared/ledger/fold.ts';
import type { PartState } from '#shared/ledger/part-state.ts';
import { whereaboutsIn } from '#shared/ledger/whereabouts.ts';
import { addTally, EMPTY_TALLY, type MassNg, seenFrom, type Tally, toKg, toMassNg } from '#shared/quantity/exact.ts';
import { cgStdM, gatherAll, massStdKg, type Shift } from '#shared/uncertainty/shift.ts';
import { say } from '#shared/words/say.ts';
import { centreOfGravityM } from './centre-of-gravity.ts';
import { settledShifts, shiftsOf } from './running.ts';

type Present = PartState & { readonly definition: StatementOf<'part added'> };

export type BreakdownKey = 'group' | 'process' | 'assembly';

export type BreakdownRow = {
  readonly name: string;
  readonly partCount: number;
  readonly basicNg: MassNg;
  readonly predictedNg: MassNg;
  readonly weighedNg: MassNg;
  readonly weighedShare: number | undefined;
  readonly predictedStdKg: number;
  readonly cgXM: number | undefined;
  readonly cgXStdM: number | undefined;
  /** Target and margin (target - predicted), where the baseline gives this row a target. */
  readonly targetKg: number | undefined;
  readonly marginKg: number | undefined;
};

/** The rows in order of their first part; groups that have a target and no part yet come last. */
export function breakdownOf(ledger: Ledger, key: BreakdownKey): readonly BreakdownRow[] {
  const nameOf = rowNames(ledger, key);
  const whereaboutsOf = whereaboutsIn(ledger.books);
  const targetsKg = key === 'group' ? groupTargetsKg(ledger) : new Map<string, number>();
  const shiftsOfPart = shiftsOf(ledger);
  const rows = new Map<string, Row>();
  for (const part of presentParts(ledger)) {
    const name = nameOf(part);
    const row = rows.get(name) ?? EMPTY_ROW;
    // What the scale found in an assembly beyond its parts stands where the assembly stands; allowance it did away with, with the part.
    const residual = residualOf(ledger, part.partId);
    const rowShifts = row === EMPTY_ROW ? new Map<string, Shift>() : row.shifts;
    gatherAll(rowShifts, shiftsOfPart(part.partId));
    rows.set(name, {
      shifts: rowShifts,
      parts: row.parts + 1,
      basic: addTally(row.basic, addTally(part.basic, residual.basic)),
      allowance: addTally(row.allowance, addTally(part.allowance, residual.allowance)),
      weighedNg: row.weighedNg + whereaboutsOf(part).weighedNg,
    });
  }
  const beyond = beyondParts(ledger);
  if (beyond !== undefined) rows.set(BEYOND_PARTS, beyond);
  for (const name of targetsKg.keys()) if (!rows.has(name)) rows.set(name, EMPTY_ROW);
  return [...rows].map(([name, row]) => {
    const predicted = seenFrom(addTally(row.basic, row.allowance), ledger.datumNm);
    const cg = centreOfGravityM(predicted, 'x');
    const targetKg = targetsKg.get(name);
    return {
      name,
      partCount: row.parts,
      basicNg: row.basic.massNg,
      predictedNg: predicted.massNg,
      weighedNg: row.weighedNg as MassNg,
      weighedShare: row.basic.massNg > 0n ? Number(row.weighedNg) / Number(row.basic.massNg) : undefined,
      predictedStdKg: massStdKg(row.shifts),
      cgXM: cg.ok ? cg.value : undefined,
      // About the first datum, as the books are kept: how far a CG is off does not depend on where it is counted from.
      cgXStdM: cgStdM(row.shifts, addTally(row.basic, row.allowance), 'x'),
      targetKg,
      marginKg: targetKg === undefined ? undefined : toKg((toMassNg(targetKg) - predicted.massNg) as MassNg),
    };
  });
}

type Row = {
  readonly parts: number;
  readonly basic: Tally;
  readonly allowance: Tally;
  readonly weighedNg: bigint;
  readonly shifts: Map<string, Shift>;
};
const EMPTY_ROW: Row = { parts: 0, basic: EMPTY_TALLY, allowance: EMPTY_TALLY, weighedNg: 0n, shifts: new Map() };

/** The row of what the aircraft weighed beyond its parts, which is no part's (rule A4). */
export const BEYOND_PARTS = say`(aircraft on its scales, beyond its parts)`;

function beyondParts(ledger: Ledger): Row | undefined {
  const { whole } = ledger.books.sums;
  if (ledger.books.aboard === undefined) return undefined;
  const shifts = new Map(settledShifts(ledger));
  return { ...EMPTY_ROW, basic: whole.basic, weighedNg: whole.basic.massNg, shifts };
}

/** Of the assembly breakdown: the row of a part that stands in no assembly. */
export const NO_ASSEMBLY = say`(no assembly)`;

function rowNames(ledger: Ledger, key: BreakdownKey): (part: Present) => string {
  switch (key) {
    case 'group':
      return (part) => part.definition.group;
    case 'process':
      return (part) => part.definition.process;
    case 'assembly': {
      const topOf = topAssemblies(ledger);
      return (part) => topOf(part.partId);
    }
  }
}

/** The number of the topmost part above a part; a part with others below it stands in its own row. */
function topAssemblies(ledger: Ledger): (partId: PartId) => string {
  const parts = new Map(presentParts(ledger).map((part) => [part.partId, part.definition]));
  const parents = new Set([...parts.values()].flatMap((definition) => definition.parentPartId ?? []));
  return (partId) => {
    let at = partId;
    const seen = new Set<PartId>([at]);
    for (;;) {
      const parentId = parts.get(at)?.parentPartId;
      if (parentId === undefined || !parts.has(parentId) || seen.has(parentId)) break;
      seen.add(parentId);
      at = parentId;
    }
    return at === partId && !parents.has(at) ? NO_ASSEMBLY : (parts.get(at)?.number ?? NO_ASSEMBLY);
  };
}

function groupTargetsKg(ledger: Ledger): ReadonlyMap<string, number> {
  const groups = inForce(ledger, 'targets')?.groups ?? [];
  return new Map(groups.flatMap(({ group, massKg }) => (massKg === undefined ? [] : [[group, massKg] as const])));
}
