/** What is due for weighing, and what comes next on the scale (rule H3). */
import { describe, expect, it } from 'vitest';
import type { DueReport } from '#shared/contract/reports.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import { duePartsOf, nextAfter, notWeighedYet } from '#shared/weighing/next-part.ts';
import {
  assemblyOf,
  Chain,
  estimateOf,
  partIdOf,
  partOf,
  targetsOf,
  weighingOf,
  withdrawnOf,
} from '../ledger/make-entries.ts';

/** An assembly 1 of a part 2 in one piece and a part 3 in four; a part 4 by itself that has no estimate. */
function shop(): Chain {
  const chain = new Chain();
  chain.record(targetsOf(40));
  chain.record(partOf(1));
  chain.record(partOf(2, { parentPartId: partIdOf(1) }));
  chain.record(partOf(3, { parentPartId: partIdOf(1), quantity: 4 }));
  chain.record(partOf(4));
  chain.record(estimateOf(2, { massKg: 2, massStdKg: 0.1, flashKg: 0.2 }));
  chain.record(estimateOf(3, { massKg: 1, massStdKg: 0.2 }));
  return chain;
}

const rowsOf = (chain: Chain) => partsReport(chain.fold());
const dueIn = (chain: Chain) =>
  Object.fromEntries(
    rowsOf(chain).flatMap((part, at) =>
      part.due.length === 0 ? [] : [[at + 1, part.due.map(({ why, pieces }) => `${why} ${pieces.join(' ')}`)]],
    ),
  );

describe('what is due for weighing', () => {
  it('[H3] nothing is due that only an estimate tells of; it is offered as not weighed yet, the least sure first', () => {
    const rows = rowsOf(shop());
    expect(rows.flatMap(({ due }) => due)).toEqual([]);
    expect(notWeighedYet(rows).map(({ number }) => number)).toEqual([rows[2]?.number, rows[1]?.number]);
  });

  it('[H3] pieces that are left, a piece made anew, and flash that is still on are due, each piece once', () => {
    const chain = shop();
    chain.record(weighingOf(3, 1, { pieces: [2], condition: 'trimmed' }));
    chain.record(weighingOf(2, 2.2, { condition: 'as released' }));
    expect(dueIn(chain)).toEqual({ 2: ['flash on 1'], 3: ['pieces left 1 3 4'] });
    chain.record(withdrawnOf(3, [2]));
    chain.record(weighingOf(3, 3, { pieces: [1, 3, 4], condition: 'trimmed' }));
    chain.record(weighingOf(2, 2, { condition: 'trimmed' }));
    expect(dueIn(chain)).toEqual({ 3: ['made anew 2'] });
    chain.record(weighingOf(3, 1, { pieces: [2], condition: 'trimmed' }));
    // All that is in the assembly has been weighed, and it has not.
    expect(dueIn(chain)).toEqual({ 1: ['all in it weighed 1'] });
    chain.record(assemblyOf(1, 6, [2, 3], { condition: 'trimmed' }));
    expect(dueIn(chain)).toEqual({});
  });

  it('[H3] two assemblies that a correction leaves in each other end the walk up', () => {
    const chain = shop();
    chain.record(partOf(5, { parentPartId: partIdOf(1) }));
    chain.record(partOf(1, { parentPartId: partIdOf(5) }));
    chain.record(weighingOf(3, 1, { pieces: [2], condition: 'trimmed' }));
    expect(rowsOf(chain).find(({ partId }) => partId === partIdOf(3))?.due).toEqual([
      { why: 'pieces left', pieces: [1, 3, 4] },
    ]);
  });

  it('[H3] what was to be reworked, or stood on a scale in doubt, is due until it is weighed again', () => {
    const chain = shop();
    chain.record(weighingOf(2, 2.5, { condition: 'trimmed', scale: 'bench' }));
    chain.record({
      kind: 'disposition',
      partId: partIdOf(2),
      pieces: [1],
      decision: 'to be reworked',
    });
    expect(dueIn(chain)).toEqual({ 2: ['reworked 1'] });
    chain.record(weighingOf(2, 2.1, { condition: 'trimmed', scale: 'bench' }));
    expect(dueIn(chain)).toEqual({});
    chain.record({ kind: 'check weight', scale: 'bench', referenceKg: 5, shownKg: 5.2, limitKg: 0.01, typed: {} });
    expect(dueIn(chain)).toEqual({ 2: ['scale in doubt 1'] });
    chain.record({ kind: 'piece installed', partId: partIdOf(2), pieces: [1] });
    expect(dueIn(chain)).toEqual({});
  });

  it('[H3] what presses most comes first, and of one reason the least sure of its mass', () => {
    const row = (number: string, why: DueReport['why'], predictedStdKg: number) => ({
      ...{ partId: partIdOf(1), number, assembly: undefined, process: 'other' as const, quantity: 1, childCount: 0 },
      ...{ weighed: [], installed: [], estimateKg: 1, predictedStdKg, due: [{ why, pieces: [1] }] },
    });
    const parts = [
      row('a', 'flash on', 9),
      row('b', 'made anew', 0.1),
      row('c', 'made anew', 0.3),
      row('d', 'scale in doubt', 0),
    ];
    expect(duePartsOf(parts).map(({ part }) => part.number)).toEqual(['d', 'c', 'b', 'a']);
  });
});

describe('the next one', () => {
  const told = (chain: Chain, at: number, pieces: readonly number[]) => {
    const rows = rowsOf(chain);
    const part = rows[at - 1];
    if (part === undefined) throw new Error('there is such a part');
    return nextAfter(part, pieces, rows).map((next) =>
      `${next.why} ${rows.indexOf(next.part) + 1} ${next.piece ?? ''}`.trim(),
    );
  };

  it('[H3] it is the next piece, then the assembly, the process, and what is due, each part once', () => {
    const chain = shop();
    chain.record(partOf(5, { process: 'printed' }));
    chain.record(estimateOf(5));
    chain.record(partOf(6, { process: 'printed' }));
    chain.record(estimateOf(6));
    chain.record(weighingOf(2, 2.2, { condition: 'as released' }));
    // The list may not know yet what was weighed a moment ago.
    expect(told(chain, 3, [1])).toEqual(['next piece 3 2', 'due 2']);
    expect(told(chain, 3, [1, 2, 3, 4])).toEqual(['due 2']);
    expect(told(chain, 5, [1])).toEqual(['same process 6', 'due 2']);
    // Round about: behind the last one of the list the first ones follow.
    expect(told(chain, 6, [1])).toEqual(['same process 5', 'due 2']);
    expect(told(chain, 2, [1])).toEqual(['same assembly 3']);
  });
});
