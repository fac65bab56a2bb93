/** A weighed assembly in words and before the ledger (rules W7, L2, I4). */
import { describe, expect, it } from 'vitest';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { Entry, type PartId } from '#shared/ledger/entry.ts';
import { explain } from '#shared/problem/registry.ts';
import { importWeighings } from '#shared/table/weighings-file.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import {
  assemblyOf,
  Chain,
  ON,
  partIdOf,
  partOf,
  removedOf,
  TODAY,
  uuidOf,
  weighingOf,
} from '../ledger/make-entries.ts';
import { contextOf, recorded, tableOf, told as toldOf } from '../table/tables.ts';

/** WING holds a spar, four ribs and a FLAP, which holds two hinges; the FIN is no part of it. */
function begun(): Chain {
  const chain = new Chain();
  chain.record(partOf(1, { number: 'WING' }));
  chain.record(partOf(2, { number: 'SPAR', parentPartId: partIdOf(1) }));
  chain.record(partOf(3, { number: 'RIB', quantity: 4, parentPartId: partIdOf(1) }));
  chain.record(partOf(4, { number: 'FLAP', parentPartId: partIdOf(1) }));
  chain.record(partOf(5, { number: 'HINGE', quantity: 2, parentPartId: partIdOf(4) }));
  chain.record(partOf(6, { number: 'FIN' }));
  return chain;
}

const WEIGHED = { kind: 'assembly weighing', part: 'wing', gross: '12.5 kg', tare: '0.5 kg', condition: 'finished' };

function read(words: Record<string, unknown>, chain = begun()) {
  return entryFromWords(
    { ...WEIGHED, ...words },
    { ledger: chain.fold(), day: ON, by: 'Ann', newId: () => uuidOf(77, 7) },
  );
}

function entryOf(words: Record<string, unknown>, chain = begun()) {
  const entry = read(words, chain);
  if (!entry.ok) throw new Error(JSON.stringify(entry.refusal));
  return entry.value;
}

/** Who was in it, as `SPAR` or `RIB 1,3`. */
function membersOf(entry: Entry, chain = begun()): string[] {
  const statement = entry.kind === 'correction' ? entry.replacement?.statement : entry;
  if (statement?.kind !== 'assembly weighing') throw new Error('an assembly weighing');
  const numberOf = (partId: PartId) => chain.fold().books.byPart.get(partId)?.state.definition?.number;
  return statement.members.map(({ partId, pieces }) => [numberOf(partId), pieces?.join()].filter(Boolean).join(' '));
}

function told(words: Record<string, unknown>, chain = begun()): string[] {
  const entry = read(words, chain);
  const problems = entry.ok ? objectionsTo(entry.value, chain.fold(), TODAY) : entry.refusal;
  return problems.map(({ path, refusal }) => `${path.join('/')}: ${refusal.code}`);
}

describe('what was in it', () => {
  it('[W7] all parts below it, down to the last, unless it is said otherwise', () => {
    const entry = entryOf({ x: '1.7 m', 'arm uncertainty': '2 mm', fixture: 'cradle A', scale: 'Floor' });
    expect(Entry.safeParse(entry).success).toBe(true);
    expect(membersOf(entry)).toEqual(['SPAR', 'RIB', 'FLAP', 'HINGE']);
    expect(entry).toMatchObject({
      netKg: 12,
      xM: 1.7,
      armStdM: 0.002,
      fixture: 'cradle A',
      typed: { x: '1.7 m', 'arm uncertainty': '2 mm' },
      readings: [{ typed: { gross: '12.5 kg', tare: '0.5 kg' } }],
    });
    expect(told({ 'not yet in': 'none' })).toEqual([]);
  });

  it.each([
    ['RIB', ['SPAR', 'FLAP', 'HINGE']],
    ['rib piece 2', ['SPAR', 'RIB 1,3,4', 'FLAP', 'HINGE']],
    ['RIB piece 2; RIB pieces 3-4', ['SPAR', 'RIB 1', 'FLAP', 'HINGE']],
    ['RIB; RIB piece 2', ['SPAR', 'FLAP', 'HINGE']],
    ['RIB pieces 1-4', ['SPAR', 'FLAP', 'HINGE']],
    [' hinge ; SPAR; ', ['RIB', 'FLAP']],
    ['FLAP', ['SPAR', 'RIB']],
    ['FLAP piece 1', ['SPAR', 'RIB']],
    ['FLAP; HINGE piece 1', ['SPAR', 'RIB']],
    ['None', ['SPAR', 'RIB', 'FLAP', 'HINGE']],
  ])('[W7] "%s" is not yet in it', (notYetIn, members) => {
    const entry = entryOf({ 'not yet in': notYetIn });
    expect(membersOf(entry)).toEqual(members);
    expect(objectionsTo(entry, begun().fold(), TODAY)).toEqual([]);
  });

  it.each([
    [{ 'not yet in': 'NOSE' }, 'not yet in: unknown-part'],
    [{ 'not yet in': 'FIN' }, 'not yet in: not-in-assembly'],
    [{ 'not yet in': 'WING' }, 'not yet in: not-in-assembly'],
    [{ 'not yet in': 'FIN piece 1' }, 'not yet in: not-in-assembly'],
    [{ 'not yet in': 'SPAR, RIB' }, 'not yet in: unknown-part'],
    [{ 'not yet in': 'RIB piece 5' }, 'not yet in: no-such-piece'],
    [{ 'not yet in': 'RIB piece 3-2' }, 'not yet in: not-piece-numbers'],
    [{ 'not yet in': 'SPAR; RIB; FLAP' }, 'not yet in: nothing-in-it'],
    [{ part: 'FIN' }, 'part: has-no-parts'],
    [{ part: 'NOSE' }, 'part: unknown-part'],
    [{ gross: '12.5' }, 'gross: unit-missing'],
    [{ gross: '0.5 kg' }, 'gross: gross-not-above-tare'],
    [{ condition: '' }, 'condition: missing'],
    [{ x: '1700' }, 'x: unit-missing'],
    [{ 'arm uncertainty': '-1 mm' }, 'arm uncertainty: negative'],
    [{ piece: '1' }, 'piece: field-unknown'],
    [{ lot: 'L7' }, 'lot: field-unknown'],
  ])('[W7] %j is refused: %s', (words, problem) => {
    expect(told(words)).toContain(problem);
  });

  it('[W7] several numbers with commas between them are told how they are set apart', () => {
    const entry = read({ 'not yet in': 'SPAR, RIB' });
    const [first] = entry.ok ? [] : entry.refusal;
    expect(first === undefined ? '' : explain(first.refusal).remedy).toContain('semicolons');
  });
});

describe('the ledger', () => {
  const objections = (chain: Chain) => {
    const last = chain.entries.at(-1);
    if (last === undefined) throw new Error('an empty chain');
    return objectionsTo(last.entry, chain.fold(last.seq - 1), TODAY).map(
      ({ path, refusal }) => `${path.join('/')}: ${refusal.code}`,
    );
  };

  it.each([
    ['a part of another assembly', assemblyOf(1, 12, [2, 6]), ['members: not-in-assembly']],
    ['the assembly itself', assemblyOf(1, 12, [1, 2]), ['members: not-in-assembly']],
    ['a part without the assembly between', assemblyOf(1, 12, [2, 5]), ['members: in-without-its-assembly']],
    ['a part that nobody added', assemblyOf(1, 12, [9]), ['members: not-in-assembly']],
    ['a part twice', assemblyOf(1, 12, [2, 2]), ['members: shape-refused']],
    ['nothing', assemblyOf(1, 12, []), ['members: shape-refused']],
    [
      'a fifth piece of four',
      assemblyOf(1, 12, [], { members: [{ partId: partIdOf(3), pieces: [5] }] }),
      ['members: no-such-piece'],
    ],
    ['a net that is not that of its readings', { ...assemblyOf(1, 12, [2]), netKg: 11 }, ['netKg: net-disagrees']],
    ['an unknown assembly', assemblyOf(9, 12, [2]), ['partId: unknown-part']],
    ['a part weighed as one that has parts', weighingOf(1, 12), ['partId: is-an-assembly']],
    ['its parts, by themselves', weighingOf(2, 3), []],
    ['an assembly in it', assemblyOf(4, 3, [5]), []],
    ['the whole', assemblyOf(1, 12, [2, 3, 4, 5]), []],
  ] as const)('[W7] what stands against a weighing is told: %s', (_, statement, told) => {
    const chain = begun();
    chain.record(statement as ReturnType<typeof assemblyOf>);
    expect(objections(chain)).toEqual(told);
  });

  it('[W7] an assembly that is there several times cannot be weighed as one', () => {
    const chain = new Chain();
    chain.record(partOf(1, { quantity: 2 }));
    chain.record(partOf(2, { parentPartId: partIdOf(1) }));
    chain.record(assemblyOf(1, 12, [2]));
    expect(objections(chain)).toEqual(['partId: assembly-of-many']);
  });

  it('[W7] a part whose parts have all been removed is weighed as a part again', () => {
    const chain = begun();
    chain.record(removedOf(5));
    chain.record(weighingOf(4, 2));
    expect(objections(chain)).toEqual([]);
  });
});

describe('later on', () => {
  it('[W7] a part that was removed afterwards was in it, also where the weighing is recorded late', () => {
    const chain = begun();
    chain.record(removedOf(2), { on: '2026-05-20' });
    const before = entryOf({ happenedOn: '2026-05-19' }, chain);
    expect(membersOf(before, chain)).toEqual(['RIB', 'FLAP', 'SPAR', 'HINGE'].sort((a, b) => order(a) - order(b)));
    expect(objectionsTo(before, chain.fold(), TODAY)).toEqual([]);
    expect(membersOf(entryOf({ happenedOn: '2026-05-20' }, chain), chain)).toEqual(['RIB', 'FLAP', 'HINGE']);
    expect(told({ happenedOn: '2026-05-19', 'not yet in': 'SPAR' }, chain)).toEqual([]);
    expect(told({ happenedOn: '2026-05-20', 'not yet in': 'SPAR' }, chain)).toEqual(['not yet in: unknown-part']);
  });

  it('[L2] a correction of its gross leaves in it what was in it, removed since or not', () => {
    const chain = begun();
    const first = entryOf({}, chain);
    chain.add(first);
    chain.record(removedOf(2));
    const { kind: _, ...replacement } = { ...WEIGHED, gross: '12.6 kg' };
    const sent = { kind: 'correction', entry: '7', reason: 'misread', replacement };
    const context = { ledger: chain.fold(), day: TODAY, by: 'Ann', newId: () => uuidOf(78, 7) };
    const entry = entryFromWords(sent, context);
    if (!entry.ok) throw new Error(JSON.stringify(entry.refusal));
    expect(membersOf(entry.value, chain).sort()).toEqual(membersOf(first, chain).sort());
    expect(objectionsTo(entry.value, chain.fold(), TODAY)).toEqual([]);
  });

  it('[L2] a check weight that is corrected takes the limit of the scale as it was on its day', () => {
    const chain = new Chain();
    const state = (resolution: string, on: string) => ({ kind: 'scale', scale: 'Bench', resolution, happenedOn: on });
    const sent = [
      state('5 g', '2026-05-01'),
      { kind: 'check weight', scale: 'Bench', reference: '1 kg', shown: '1 kg', happenedOn: '2026-05-02' },
      state('1 g', '2026-05-10'),
      {
        kind: 'correction',
        entry: '2',
        reason: 'misread',
        replacement: { scale: 'Bench', reference: '1 kg', shown: '1.005 kg' },
      },
    ];
    for (const [at, words] of sent.entries()) {
      const context = { ledger: chain.fold(), day: TODAY, by: 'Ann', newId: () => uuidOf(at + 1) };
      const entry = entryFromWords(words, context);
      if (!entry.ok) throw new Error(JSON.stringify(entry.refusal));
      chain.add(entry.value);
    }
    expect(chain.entries[3]?.entry).toMatchObject({ replacement: { statement: { limitKg: 0.005, shownKg: 1.005 } } });
  });
});

describe('lists', () => {
  const LIST = [
    'part,date,gross,condition,scale,not yet in,note',
    'RIB,2026-05-04,4 kg,trimmed,Bench,,',
    'WING,2026-05-05,12.5 kg,finished,Floor,RIB piece 2; HINGE,',
  ].map((line, at) => (at === 1 ? line.replace('RIB', 'SPAR') : line));
  const imported = (lines: readonly string[], entries = begun().entries) =>
    importWeighings(tableOf(...lines), contextOf(entries));

  it('[W7] a row that says what is not yet in it is a weighed assembly, also where it says none', () => {
    const outcome = imported([...LIST, 'FLAP,2026-05-06,3 kg,trimmed,,none,']);
    expect(toldOf(outcome)).toEqual([]);
    expect(outcome.entries.map(({ kind }) => kind)).toEqual(['weighing', 'assembly weighing', 'assembly weighing']);
    expect(outcome.entries.slice(1).map((entry) => membersOf(entry))).toEqual([
      ['SPAR', 'RIB 1,3,4', 'FLAP'],
      ['HINGE'],
    ]);
  });

  it('[I4] a part that joins the assembly afterwards does not make another row of it', () => {
    const chain = begun();
    chain.entries.push(...recorded(imported(LIST), chain.entries).slice(chain.entries.length));
    chain.record(partOf(8, { number: 'TIP', parentPartId: partIdOf(1) }));
    expect(imported(LIST, chain.entries)).toMatchObject({ entries: [], problems: [], knownRows: 2 });
    const named = LIST.map((line) => line.replace('RIB piece 2; HINGE', ' hinge;rib PIECE 2 '));
    expect(imported(named, chain.entries)).toMatchObject({ entries: [], knownRows: 2 });
    const other = LIST.map((line) => line.replace('RIB piece 2; HINGE', 'RIB piece 2'));
    expect(imported(other, chain.entries).entries).toHaveLength(1);
  });

  it('[I2] what cannot be is told in its cell', () => {
    const told = (...rows: readonly string[]) =>
      toldOf(imported(['part,gross,condition,not yet in,piece,lot,scale', ...rows]));
    expect(told('WING,12 kg,finished,,,,')).toEqual(['2:1 is-an-assembly']);
    expect(told('FIN,12 kg,finished,none,,,')).toEqual(['2:1 has-no-parts']);
    expect(told('WING,12 kg,finished,FIN,,,')).toEqual(['2:4 not-in-assembly']);
    expect(told('WING,12,finished,NOSE,,,')).toEqual(['2:2 unit-missing', '2:4 unknown-part']);
    expect(told('WING,12 kg,finished,none,2,L7,')).toEqual(['2:5 not-of-assembly', '2:6 not-of-assembly']);
    expect(told('WING,12 kg,finished,none,1,,')).toEqual([]);
  });

  it('[I2] a gross above the capacity of its scale is told in its cell', () => {
    const chain = begun();
    chain.record({ kind: 'scale', scale: 'Bench', capacityKg: 3, gainStd: 0, typed: {} });
    const lines = ['part,gross,condition,scale', 'SPAR,4 kg,trimmed,bench'];
    expect(toldOf(imported(lines, chain.entries))).toEqual(['2:2 above-capacity']);
  });

  it('[U1] the digits of a scale are those of all its rows, whatever the case of its name', () => {
    const lines = ['part,gross,condition,scale', 'SPAR,4 kg,trimmed,Bench', 'FIN,2.005 kg,trimmed,bench'];
    expect(imported(lines).entries).toMatchObject([{ grossResolutionKg: 0.001 }, { grossResolutionKg: 0.001 }]);
  });
});

/** Parts come in the order in which they stand below the assembly, those that were removed since behind the others. */
function order(number: string): number {
  return ['RIB', 'FLAP', 'HINGE', 'SPAR'].indexOf(number);
}
