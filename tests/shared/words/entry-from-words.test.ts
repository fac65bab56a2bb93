/** One entry in words (rules L2, L3, L4, I2, W1, E1). */
import { describe, expect, it } from 'vitest';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { Entry } from '#shared/ledger/entry.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import {
  aircraftOf,
  Chain,
  datumOf,
  estimateOf,
  ON,
  partIdOf,
  partOf,
  removedOf,
  TODAY,
  uuidOf,
  weighingOf,
} from '../ledger/make-entries.ts';

function begun(): Chain {
  const chain = new Chain();
  chain.record(aircraftOf({ macM: 1.25, lemacM: 2 }));
  chain.record(partOf(1, { quantity: 2 }));
  chain.record(estimateOf(1));
  chain.record(weighingOf(1, 4));
  return chain;
}

function read(sent: unknown, chain = begun()) {
  return entryFromWords(sent, { ledger: chain.fold(), day: ON, by: 'Ann', newId: () => uuidOf(77, 7) });
}

/** The problems as `path: code`. */
function told(sent: unknown, chain = begun()): string[] {
  const entry = read(sent, chain);
  return entry.ok ? [] : entry.refusal.map(({ path, refusal }) => `${path.join('/')}: ${refusal.code}`);
}

const STATED = [
  { kind: 'aircraft', name: 'Bird', datum: 'spinner', mac: '50 in', lemac: '2 m', 'mass unit': 'lb' },
  { kind: 'part added', number: 'W-1', group: 'wing', assembly: 'p-1', quantity: 3 },
  { kind: 'part removed', part: 'P-1', reason: 'bought' },
  { kind: 'estimate', part: 'p-1', estimate: '4 kg', x: '2 m', allowance: '24 %' },
  { kind: 'weighing', part: 'P-1', piece: '2', gross: '9 lb 2 oz', tare: '100 g', condition: 'trimmed' },
  { kind: 'arm measured', part: 'P-1', x: '81 in', 'arm uncertainty': '2 mm' },
  { kind: 'piece withdrawn', part: 'P-1', piece: '1', reason: 'dry' },
  { kind: 'piece installed', part: 'P-1', piece: '1-2' },
  { kind: 'datum moved', shift: '-0.5 m', datum: 'firewall', reason: 'drawing' },
  { kind: 'targets', 'empty mass': '370 kg', 'cg aft': '30 % MAC', groups: { wing: '80 kg' } },
  { kind: 'allowances', 'prepreg calculated': '8 %', reason: 'five releases' },
  { kind: 'note', part: 'P-1', text: 'late' },
  { kind: 'note', text: 'late' },
  { kind: 'correction', entry: '4', reason: 'typed wrongly', replacement: null },
] as const;

describe('kinds', () => {
  it.each(STATED)('[L4] $kind in words becomes an entry that the ledger takes', (sent) => {
    const entry = read(sent);
    if (!entry.ok) throw new Error(JSON.stringify(entry.refusal));
    expect(Entry.safeParse(entry.value).success).toBe(true);
    expect(objectionsTo(entry.value, begun().fold(), TODAY)).toEqual([]);
    expect(entry.value).toMatchObject({ kind: sent.kind, by: 'Ann', happenedOn: ON, id: uuidOf(77, 7) });
  });

  it('[L4] what is typed is kept, with who, when and a remark', () => {
    const entry = read({ ...STATED[4], by: 'Bo', happenedOn: '2026-05-04', remark: 'wet' });
    expect(entry).toMatchObject({
      value: { by: 'Bo', happenedOn: '2026-05-04', remark: 'wet', readings: [{ typed: { gross: '9 lb 2 oz' } }] },
    });
  });

  it('[L3] the sender makes the id, and one that is no UUID is refused', () => {
    const id = uuidOf(123, 10);
    expect(read({ ...STATED[11], id: id.toUpperCase() })).toMatchObject({ value: { id } });
    expect(told({ ...STATED[11], id: '7' })).toEqual(['id: shape-refused']);
  });
});

describe('problems', () => {
  it('[I2] every problem is told with the path of its field', () => {
    expect(told({ ...STATED[4], gross: '9', condition: 'painted', colour: 'red', happenedOn: '4.5.2026' })).toEqual([
      'happenedOn: not-a-day',
      'colour: field-unknown',
      'condition: not-a-choice',
      'gross: unit-missing',
    ]);
    expect(told({ kind: 'estimate', part: 'P-1' })).toContain('estimate: missing');
    expect(told({ kind: 'weighing', part: 'P-8', gross: '1 kg', condition: 'trimmed' })).toEqual([
      'part: unknown-part',
    ]);
  });

  it.each([7, 'x', null, [], { kind: { deep: {} }, x: [1] }])('[I2] %j is no entry', (sent) => {
    expect(told(sent).length).toBeGreaterThan(0);
  });

  it.each([
    [{ kind: 'scrapped' }, 'kind: not-a-choice'],
    [{ kind: 'constructor' }, 'kind: not-a-choice'],
    [{ kind: 'part removed', part: 'P-1' }, 'reason: missing'],
    [{ kind: 'datum moved', shift: '1 m' }, 'datum: missing'],
    [{ kind: 'note' }, 'text: missing'],
    [{ kind: 'allowances', 'wiring estimated': 'half' }, 'wiring estimated: not-a-number'],
    [{ kind: 'allowances', 'fabric estimated': '5 %' }, 'fabric estimated: field-unknown'],
    [{ kind: 'arm measured', part: 'P-1' }, 'x: arm-missing'],
    [{ kind: 'arm measured', part: 'P-1', x: '1 m', 'arm uncertainty': '-1 m' }, 'arm uncertainty: negative'],
    [{ kind: 'piece withdrawn', part: 'P-1', reason: 'dry' }, 'piece: which-piece'],
    [{ kind: 'piece installed', part: 'P-1', piece: '3' }, 'piece: no-such-piece'],
    [{ kind: 'aircraft', name: 'B', datum: 'd', mac: '1 m' }, 'mac: chord-half'],
    [{ kind: 'aircraft', name: 'B', datum: 'd', mac: '0 m', lemac: '1 m' }, 'mac: out-of-range'],
    [{ kind: 'targets', 'empty mass': '9 kg', groups: { wing: '8' } }, 'groups: unit-missing'],
  ])('[I2] %j is refused: %s', (sent, problem) => {
    expect(told(sent)).toContain(problem);
  });
});

describe('corrections', () => {
  it('[L2] a replacement states the entry anew; its day is the corrected one unless it names another', () => {
    const replacement = { part: 'P-1', piece: '1', gross: '4.2 kg', condition: 'finished' };
    const sent = { kind: 'correction', entry: 4, reason: 'typed wrongly', replacement };
    expect(read(sent)).toMatchObject({
      value: { supersedesId: uuidOf(4), replacement: { happenedOn: ON, statement: { kind: 'weighing', netKg: 4.2 } } },
    });
    const moved = { ...sent, replacement: { ...replacement, happenedOn: '2026-05-03' } };
    expect(read(moved)).toMatchObject({ value: { replacement: { happenedOn: '2026-05-03' } } });
  });

  it('[L2] a corrected part keeps its id', () => {
    const replacement = { number: 'P-1b', group: 'wing', quantity: '2' };
    const entry = read({ kind: 'correction', entry: 2, reason: 'number', replacement });
    expect(entry).toMatchObject({ value: { replacement: { statement: { partId: partIdOf(1), number: 'P-1b' } } } });
  });

  it('[L2] a correction of nothing, without a reason or without a replacement is refused', () => {
    expect(told({ kind: 'correction', entry: 9, reason: 'x', replacement: null })).toEqual([
      'entry: nothing-to-correct',
    ]);
    expect(told({ kind: 'correction', entry: 4, replacement: null })).toEqual(['reason: missing']);
    expect(told({ kind: 'correction', entry: 4, reason: 'x' })).toContain('replacement: missing');
    const replacement = { part: 'P-1', gross: 'x' };
    expect(told({ kind: 'correction', entry: 4, reason: 'x', replacement })).toContain(
      'replacement/gross: not-a-number',
    );
  });

  it('[I2] a reason that is missing and a replacement that is wrong are told together', () => {
    const replacement = { part: 'P-1', gross: 'x', colour: 'red' };
    expect(told({ kind: 'correction', entry: 4, by: ' ', replacement }).sort()).toEqual([
      'reason: missing',
      'replacement/colour: field-unknown',
      'replacement/condition: missing',
      'replacement/gross: not-a-number',
      'replacement/piece: which-piece',
    ]);
    expect(told({ kind: 'correction', entry: 4, id: 'no', replacement: { part: 'P-9', gross: '4 kg' } })).toEqual(
      expect.arrayContaining(['id: shape-refused', 'reason: missing', 'replacement/part: unknown-part']),
    );
  });

  it('[L2] a removal can be struck out and its part is there again', () => {
    const chain = begun();
    chain.record(removedOf(1));
    const entry = read({ kind: 'correction', entry: 5, reason: 'not removed', replacement: null }, chain);
    if (!entry.ok) throw new Error('a correction');
    expect(objectionsTo(entry.value, chain.fold(), TODAY)).toEqual([]);
    chain.add(entry.value);
    expect(told({ kind: 'note', part: 'P-1', text: 'back' }, chain)).toEqual([]);
  });
});

describe('after the datum has moved', () => {
  it('[L2] a corrected target in per cent MAC is a station about the datum of the entry it corrects', () => {
    const chain = begun();
    const first = { kind: 'targets', 'empty mass': '370 kg', 'cg aft': '20 % MAC' };
    const targets = read(first, chain);
    if (!targets.ok || targets.value.kind !== 'targets') throw new Error('targets');
    expect(targets.value.cgAftM).toBe(2.25);
    chain.add({ ...targets.value, id: uuidOf(5) as Entry['id'] });
    chain.record(datumOf(0.5));
    const again = { ...first, 'empty mass': '371 kg' };
    const { kind: _, ...fields } = again;
    const correction = read({ kind: 'correction', entry: '5', reason: 'misread', replacement: fields }, chain);
    if (!correction.ok || correction.value.kind !== 'correction') throw new Error('a correction');
    expect(correction.value.replacement?.statement).toMatchObject({ cgAftM: 2.25, emptyMassKg: 371 });
    // A revision speaks from where the datum is now.
    const revised = read({ ...again, reason: 'lighter engine' }, chain);
    if (!revised.ok) throw new Error('a revision');
    expect(revised.value).toMatchObject({ cgAftM: 1.75 });
  });
});

describe('parts that were removed', () => {
  const removed = () => {
    const chain = begun();
    chain.record(removedOf(1));
    return chain;
  };

  it('[I2] are known by their number, and are said to be removed', () => {
    const chain = removed();
    const note = read({ kind: 'note', part: 'p-1', text: 'late' }, chain);
    if (!note.ok) throw new Error('a note');
    expect(objectionsTo(note.value, chain.fold(), TODAY)).toMatchObject([{ refusal: { code: 'part-is-removed' } }]);
  });

  it('[L2] the removal itself can be corrected in words', () => {
    const chain = removed();
    const words = {
      kind: 'correction',
      entry: '5',
      reason: 'wrong reason',
      replacement: { part: 'P-1', reason: 'bought' },
    };
    const correction = read(words, chain);
    if (!correction.ok) throw new Error(JSON.stringify(correction.refusal));
    expect(objectionsTo(correction.value, chain.fold(), TODAY)).toEqual([]);
  });
});

describe('what is no entry', () => {
  it('[I2] an entry to be corrected is named by its number', () => {
    for (const entry of ['the last', '0', '-4', '4.5', '4 ', '1e1'])
      expect(told({ kind: 'correction', entry, reason: 'x', replacement: null }), entry).toEqual(
        entry === '4 ' ? [] : ['entry: not-an-entry'],
      );
  });

  it('[I2] groups that differ by outer spaces alone are one group named twice', () => {
    const groups = { wing: '80 kg', 'wing ': '90 kg' };
    expect(told({ kind: 'targets', 'empty mass': '370 kg', groups })).toContain('group: group-twice');
  });

  it('[I2] an hour that no clock shows makes no day', () => {
    expect(told({ kind: 'note', text: 'x', happenedOn: '2026-05-31T99:99' })).toEqual(['happenedOn: not-a-day']);
    expect(told({ kind: 'note', text: 'x', happenedOn: '2026-05-31T09:59:30Z' })).toEqual([]);
  });
});
