/** The shape of entries (rules L3, L4, W1). */
import { describe, expect, it } from 'vitest';
import { enter, openBooks, stateOf, strike } from '#shared/ledger/books.ts';
import { differingFields, entryFromText, entryText } from '#shared/ledger/canonical.ts';
import { CAUSES, causesOf } from '#shared/ledger/cause.ts';
import { Entry } from '#shared/ledger/entry.ts';
import { plainText } from '#shared/ledger/plain-text.ts';
import { KINDS } from '#shared/words/fields.ts';
import { Chain, estimateOf, noteOf, partIdOf, partOf, targetsOf, weighingOf } from './make-entries.ts';

const weighing = new Chain().record(weighingOf(1, 4.2)).entry;
const accepts = (entry: unknown) => Entry.safeParse(entry).success;

describe('shape', () => {
  it('[L4] an entry keeps number, unit, gross, tare and every reading as typed beside the SI value', () => {
    const reading = { grossKg: 5, tareKg: 0.5, typed: { gross: '11.02 lb', tare: '500 g' } };
    const entry = { ...weighing, readings: [reading, reading] };
    expect(Entry.parse(entry)).toEqual(entry);
    expect(entryFromText(entryText(entry as Entry))).toEqual(entry);
  });

  it('[L4] who and the day are part of every entry', () => {
    expect(accepts(weighing)).toBe(true);
    for (const missing of ['by', 'happenedOn', 'id', 'kind'])
      expect(accepts({ ...weighing, [missing]: undefined })).toBe(false);
    for (const happenedOn of ['2026-02-30', '26-05-01', '2026-05-01T10:00', '31.05.2026'])
      expect(accepts({ ...weighing, happenedOn })).toBe(false);
  });

  it('[I5] NaN, infinities and numbers beyond all aircraft are refused', () => {
    for (const netKg of [Number.NaN, Number.POSITIVE_INFINITY, -1, 0, 1e6 + 1])
      expect(accepts({ ...weighing, netKg })).toBe(false);
    const estimate = new Chain().record(estimateOf(1)).entry;
    expect(accepts({ ...estimate, xM: -1000 })).toBe(true);
    for (const xM of [Number.NaN, Number.NEGATIVE_INFINITY, 1001]) expect(accepts({ ...estimate, xM })).toBe(false);
  });

  it('[L4] a field that an entry does not have is refused, not dropped', () => {
    expect(accepts({ ...weighing, colour: 'red' })).toBe(false);
  });

  it('[W1] pieces are named once each, and at least one', () => {
    for (const pieces of [[], [0], [1.5], [2, 2], [10_001]]) expect(accepts({ ...weighing, pieces })).toBe(false);
    expect(accepts({ ...weighing, pieces: [3, 1] })).toBe(true);
  });

  it('[L4] a text that storage would change is refused', () => {
    const text = plainText(10);
    expect(text.parse(' 翼 größe\n🛩 ')).toBe('翼 größe\n🛩');
    for (const bad of ['', '   ', 'a\0b', 'a\u0007', '\u007f', '\ud800', '12345678901'])
      expect(text.safeParse(bad).success).toBe(false);
  });

  it('[L2] a correction names its entry, gives a reason, and a replacement or null', () => {
    const chain = new Chain();
    const { entry } = chain.correct(chain.record(noteOf('x')), undefined);
    expect(accepts(entry)).toBe(true);
    for (const change of [{ reason: '' }, { supersedesId: 'x' }, { replacement: undefined }, { replacement: {} }])
      expect(accepts({ ...entry, ...change })).toBe(false);
  });
});

describe('text', () => {
  it('[L3] one content has one text, whatever the order of its fields', () => {
    const backwards = Object.fromEntries(Object.entries(weighing).reverse()) as Entry;
    expect(entryText(backwards)).toBe(entryText(weighing));
    expect(JSON.parse(entryText(weighing))).toEqual(weighing);
  });

  it('[L3] the fields in which two entries differ are named in order, none for one content', () => {
    const other = { ...weighing, netKg: 4.3, by: 'Bo', scale: 'S1' } as Entry;
    expect(differingFields(weighing, other)).toEqual(['by', 'netKg', 'scale']);
    expect(differingFields(other, weighing)).toEqual(['by', 'netKg', 'scale']);
    expect(differingFields(weighing, structuredClone(weighing))).toEqual([]);
    const deeper = structuredClone(weighing) as Entry & { readings: { grossKg: number }[] };
    deeper.readings = [{ grossKg: 9 }];
    expect(differingFields(weighing, deeper)).toEqual(['readings']);
  });

  it('[L3] what JSON cannot say and what is no entry are bugs, told loudly', () => {
    expect(() => entryText({ ...weighing, netKg: Number.NaN } as Entry)).toThrow();
    expect(() => entryFromText('{"kind":"weighing"}')).toThrow();
  });
});

describe('causes', () => {
  it('[L6] every kind of entry has a cause from the list for mass and for allowance', () => {
    const kinds = Entry.options.map((option) => option.shape.kind.value).filter((kind) => kind !== 'correction');
    expect([...kinds].sort()).toEqual([...KINDS].sort());
    for (const kind of kinds)
      for (const firstKnown of [true, false]) {
        const { basic, allowance } = causesOf(kind, firstKnown);
        expect(CAUSES).toContain(basic);
        expect(CAUSES).toContain(allowance);
      }
  });

  it('[L6] every cause of the list is the cause of some entry', () => {
    const kinds = Entry.options.map((option) => option.shape.kind.value).filter((kind) => kind !== 'correction');
    const used = kinds.flatMap((kind) => [true, false].flatMap((first) => Object.values(causesOf(kind, first))));
    expect(new Set(used)).toEqual(new Set(CAUSES));
  });
});

describe('books', () => {
  it('[L6] what is entered and struck again leaves the sums as they were', () => {
    const books = openBooks();
    const stand = (statement: Parameters<typeof enter>[1]['statement'], seq: number) =>
      enter(books, { seq, happenedOn: '2026-05-01', frameNm: 0n as never, statement });
    stand(partOf(1), 1);
    stand(estimateOf(1, { massKg: 3, growth: 0.5 }), 2);
    const before = books.sums;
    stand(weighingOf(1, 7), 3);
    expect(books.sums.basic.massNg).toBe(7_000_000_000_000n);
    strike(books, partIdOf(1), 3);
    expect(books.sums).toEqual(before);
    expect(stateOf(books, partIdOf(1))?.weighings).toEqual([]);
    expect(stateOf(books, partIdOf(2))).toBeUndefined();
  });

  it('[I6] a part holds its number in any case and gives the old one back when it is renumbered', () => {
    const chain = new Chain();
    const added = chain.record(partOf(1, { number: 'Wing-1' }));
    chain.record(targetsOf(1));
    expect(chain.fold().books.byNumber.get('wing-1')).toBe(partIdOf(1));
    chain.correct(added, partOf(1, { number: 'Wing-2' }));
    expect([...chain.fold().books.byNumber]).toEqual([['wing-2', partIdOf(1)]]);
  });
});
