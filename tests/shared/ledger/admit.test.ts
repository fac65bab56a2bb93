/** What may be recorded (rules L2, E1, W1, and the ledger's own objections). */
import { describe, expect, it } from 'vitest';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { Entry, Statement } from '#shared/ledger/entry.ts';
import {
  aircraftOf,
  allowancesOf,
  armOf,
  Chain,
  datumOf,
  estimateOf,
  noteOf,
  partIdOf,
  partOf,
  removedOf,
  TODAY,
  targetsOf,
  weighingOf,
  withdrawnOf,
} from './make-entries.ts';

/** The objections to the last entry of a chain, as `path: code`. */
function objections(chain: Chain): string[] {
  const last = chain.entries.at(-1);
  if (last === undefined) throw new Error('an empty chain');
  return told(last.entry, chain, last.seq - 1);
}

function told(entry: Entry, chain: Chain, upToSeq = chain.entries.length): string[] {
  return objectionsTo(entry, chain.fold(upToSeq), TODAY).map(
    ({ path, refusal }) => `${path.join('/')}: ${refusal.code}`,
  );
}

/** One part of two pieces with an estimate. */
function begun(): Chain {
  const chain = new Chain();
  chain.record(partOf(1, { quantity: 2 }));
  chain.record(estimateOf(1));
  return chain;
}

function afterwards(statement: Statement, when = {}): string[] {
  const chain = begun();
  chain.record(statement, when);
  return objections(chain);
}

describe('entries', () => {
  it.each<[string, Statement]>([
    ['a part', partOf(2)],
    ['an estimate', estimateOf(1, { massKg: 1, laterKg: 1 })],
    ['a weighing', weighingOf(1, 3, { pieces: [2] })],
    ['an arm', armOf(1, { zM: 1 })],
    ['a removal', removedOf(1)],
    ['a datum move', datumOf(-1)],
    ['targets', targetsOf(300)],
    ['an aircraft', aircraftOf({ macM: 1, lemacM: 2 })],
    ['a note on a part', noteOf('x', 1)],
    ['a note', noteOf('x')],
  ])('[L2] %s is taken', (_, statement) => {
    expect(afterwards(statement, { on: TODAY })).toEqual([]);
  });

  it('[E1] what goes on later cannot exceed the estimate', () => {
    expect(afterwards(estimateOf(1, { massKg: 1, laterKg: 1.001 }))).toEqual(['laterKg: later-above-estimate']);
  });

  it.each<[string, Statement, string]>([
    ['a weighing of an unknown part', weighingOf(8, 1), 'partId: unknown-part'],
    ['a note on an unknown part', noteOf('x', 8), 'partId: unknown-part'],
    ['a weighing of a third piece of two', weighingOf(1, 1, { pieces: [1, 3] }), 'pieces: no-such-piece'],
    ['a withdrawal of a third piece of two', withdrawnOf(1, [3]), 'pieces: no-such-piece'],
    ['a measured arm without any arm', armOf(1, {}), ': arm-missing'],
    ['half a chord', aircraftOf({ macM: 1 }), 'macM: chord-half'],
  ])('[W1] %s is refused', (_, statement, objection) => {
    expect(afterwards(statement)).toEqual([objection]);
  });

  it('[W1] a piece that is named twice is refused, since a count divides a lot', () => {
    expect(afterwards(weighingOf(1, 1, { pieces: [1, 1] }))).toEqual(['pieces: shape-refused']);
  });

  it('[L4] what could not be read back is refused before it is recorded', () => {
    const readings = Array.from({ length: 101 }, () => ({ grossKg: 1, tareKg: 0, typed: {} }));
    expect(afterwards(weighingOf(1, 1, { readings }))).toEqual(['readings: shape-refused']);
    expect(afterwards(weighingOf(1, 1, { tareResolutionKg: Number.POSITIVE_INFINITY }))).toEqual([
      'tareResolutionKg: shape-refused',
    ]);
  });

  it('[L4] a day that has not come yet is refused, today is taken', () => {
    expect(afterwards(noteOf('x'), { on: '2026-07-01' })).toEqual(['happenedOn: day-in-future']);
    expect(afterwards(noteOf('x'), { on: TODAY })).toEqual([]);
  });

  it('[L2] revised targets need a reason, the first ones do not', () => {
    const chain = begun();
    chain.record(targetsOf(300));
    expect(objections(chain)).toEqual([]);
    chain.record(targetsOf(290));
    expect(objections(chain)).toEqual(['reason: reason-missing']);
  });

  it('[E1] allowances that the shop sets anew need a reason, its first own do not', () => {
    const chain = begun();
    chain.record(allowancesOf(0.3));
    expect(objections(chain)).toEqual([]);
    chain.record(allowancesOf(0.2));
    expect(objections(chain)).toEqual(['reason: reason-missing']);
    const twice = allowancesOf(0.2, { shares: [...allowancesOf(0.2).shares, ...allowancesOf(0.3).shares] });
    expect(afterwards({ ...twice, reason: 'x' })).toEqual(['shares: shape-refused']);
  });
});

describe('parts', () => {
  it('[I6] a number that a part holds is refused in any case, and is free again once that part is removed', () => {
    const chain = begun();
    chain.record(partOf(2, { number: 'p-1' }));
    expect(objections(chain)).toEqual(['number: number-taken']);
    const again = begun();
    again.record(removedOf(1));
    again.record(partOf(2, { number: 'p-1' }));
    expect(objections(again)).toEqual([]);
  });

  it('[I6] a second part under the id of a first is refused', () => {
    const chain = begun();
    chain.record(partOf(1, { number: 'other' }));
    expect(objections(chain)).toEqual(['partId: number-taken']);
  });

  it('[I6] a part in an unknown assembly, or in itself, is refused', () => {
    expect(afterwards(partOf(2, { parentPartId: partIdOf(8) }))).toEqual(['parentPartId: unknown-part']);
    expect(afterwards(partOf(2, { parentPartId: partIdOf(2) }))).toContain('parentPartId: assembly-cycle');
  });

  it('[I6] a correction that would put an assembly into its own part is refused and names the way round', () => {
    const chain = begun();
    chain.record(partOf(2, { parentPartId: partIdOf(1) }));
    chain.record(partOf(3, { parentPartId: partIdOf(2) }));
    const [first] = chain.entries;
    if (first === undefined) throw new Error('begun');
    chain.correct(first, partOf(1, { quantity: 2, parentPartId: partIdOf(3) }));
    expect(objections(chain)).toEqual(['replacement/statement/parentPartId: assembly-cycle']);
    const [objection] = objectionsTo(chain.entries[4]?.entry as Entry, chain.fold(4), TODAY);
    expect(objection?.refusal).toMatchObject({ path: ['P-1', 'P-3', 'P-2', 'P-1'] });
  });

  it('[W8] a removed part takes no further entries until its removal is corrected', () => {
    const chain = begun();
    const removal = chain.record(removedOf(1));
    expect(told(chain.record(weighingOf(1, 3)).entry, chain, 3)).toEqual(['partId: part-is-removed']);
    chain.entries.pop();
    chain.correct(removal, undefined);
    chain.record(weighingOf(1, 3));
    expect(objections(chain)).toEqual([]);
  });
});

describe('corrections', () => {
  it('[L2] an entry is corrected once; a second correction is refused and names the first', () => {
    const chain = begun();
    const weighing = chain.record(weighingOf(1, 3));
    const first = chain.correct(weighing, weighingOf(1, 4));
    expect(objections(chain)).toEqual([]);
    chain.correct(weighing, weighingOf(1, 5));
    const last = chain.entries.at(-1)?.entry as Entry;
    expect(objectionsTo(last, chain.fold(4), TODAY)).toEqual([
      { path: ['supersedesId'], refusal: { code: 'already-corrected', bySeq: 4 } },
    ]);
    chain.entries.pop();
    chain.correct(first, weighingOf(1, 5));
    expect(objections(chain)).toEqual([]);
  });

  it('[L2] a correction of what is not in the ledger is refused', () => {
    const chain = begun();
    const elsewhere = new Chain().record(noteOf('x'), { id: partIdOf(99) });
    chain.correct(elsewhere, undefined);
    expect(objections(chain)).toEqual(['supersedesId: nothing-to-correct']);
  });

  it('[L2] a correction cannot make an entry of another kind', () => {
    const chain = begun();
    const note = chain.record(noteOf('x'));
    chain.correct(note, targetsOf(300));
    expect(objections(chain)).toEqual(['replacement/statement: correction-of-other-kind']);
  });

  it('[L2] a correction that changes nothing is refused, one that changes only the day is taken', () => {
    const chain = begun();
    const weighing = chain.record(weighingOf(1, 3));
    chain.correct(weighing, weighingOf(1, 3));
    expect(objections(chain)).toEqual(['replacement: correction-changes-nothing']);
    chain.entries.pop();
    const moved = chain.correct(weighing, weighingOf(1, 3), { replacedOn: '2026-05-02' });
    expect(objections(chain)).toEqual([]);
    const struck = chain.correct(moved, undefined);
    expect(objections(chain)).toEqual([]);
    chain.correct(struck, undefined);
    expect(objections(chain)).toEqual(['replacement: correction-changes-nothing']);
  });

  it('[L2] a correction is held to what its replacement says', () => {
    const chain = begun();
    const weighing = chain.record(weighingOf(1, 3));
    chain.correct(weighing, weighingOf(1, 3, { pieces: [5] }));
    expect(objections(chain)).toEqual(['replacement/statement/pieces: no-such-piece']);
    chain.entries.pop();
    chain.correct(weighing, weighingOf(1, 4), { replacedOn: '2026-07-01' });
    expect(objections(chain)).toEqual(['replacement/happenedOn: day-in-future']);
    chain.entries.pop();
    chain.correct(weighing, weighingOf(1, 4), { on: '2026-07-01' });
    expect(objections(chain)).toEqual(['happenedOn: day-in-future']);
  });

  it('[L2] a part with entries of its own cannot be struck out, nor given another id', () => {
    const chain = begun();
    const [part] = chain.entries;
    if (part === undefined) throw new Error('begun');
    chain.correct(part, undefined);
    expect(objections(chain)).toEqual(['replacement: part-has-entries']);
    chain.entries.pop();
    chain.correct(part, partOf(7, { number: 'P-1', quantity: 2 }));
    expect(objections(chain)).toEqual(['replacement: part-has-entries']);
    const alone = new Chain();
    alone.correct(alone.record(partOf(1)), undefined);
    expect(objections(alone)).toEqual([]);
  });

  it('[L2] the words and the day of a removal can be corrected', () => {
    const chain = begun();
    const removal = chain.record(removedOf(1));
    chain.correct(removal, { ...removedOf(1), reason: 'bought instead' });
    expect(objections(chain)).toEqual([]);
  });
});
