/** The reports that programs read (rules R1, R3, D1, D2, L6, L7): the rules' own figures, parsed by the schemas of the wire. */
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { DriftReport } from '#shared/contract/drift.ts';
import {
  BreakdownReport,
  DayReport,
  EntryReport,
  HeadlineReport,
  PartReport,
  PreviewReport,
} from '#shared/contract/reports.ts';
import { partLimitOf, SHOP_PART_LIMIT } from '#shared/drift/part-drift.ts';
import { driftReport } from '#shared/drift/report.ts';
import { describeEntry } from '#shared/rollup/describe-entry.ts';
import { partsOfEntry } from '#shared/rollup/entry-parts.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import { breakdownReport, daysReport, entriesReport, entryReport, headlineReport } from '#shared/rollup/report.ts';
import { previewWeighing } from '#shared/weighing/preview.ts';
import {
  assemblyOf,
  Chain,
  datumOf,
  estimateOf,
  ON,
  partIdOf,
  partOf,
  targetsOf,
  weighingOf,
} from '../ledger/make-entries.ts';

/** A heavy spar at 2 m, a light and larger fin at 8 m, and a cable in line. */
function bird(): Chain {
  const chain = new Chain();
  chain.record(targetsOf(40));
  for (const [number, massKg, xM] of [
    [1, 10, 2],
    [2, 20, 5],
    [3, 1, 8],
  ] as const) {
    chain.record(partOf(number));
    chain.record(estimateOf(number, { massKg, xM }));
  }
  chain.record(weighingOf(1, 11, { cause: 'resin-rich' }));
  chain.record(weighingOf(3, 0.5));
  chain.record(weighingOf(2, 20.1));
  return chain;
}

describe('reports', () => {
  it('[R1] the headline counts what drifts and names what has no cause yet', () => {
    const report = headlineReport(bird().fold());
    expect(HeadlineReport.parse(report)).toEqual(report);
    expect(report).toMatchObject({
      driftingCount: 2,
      watchCount: 0,
      withoutCause: { count: 1, first: ['P-3'] },
      predictedKg: 31.6,
    });
  });

  it('[W5] a drifting weighing stays open until a cause is stated', () => {
    const chain = bird();
    const fin = chain.entries.find(({ entry }) => entry.kind === 'weighing' && entry.netKg === 0.5);
    if (fin === undefined) throw new Error('the fin');
    expect(headlineReport(chain.fold()).withoutCause).toEqual({ count: 1, first: ['P-3'] });
    chain.correct(fin, weighingOf(3, 0.5, { cause: 'dry' }));
    expect(headlineReport(chain.fold())).toMatchObject({ withoutCause: { count: 0, first: [] }, driftingCount: 2 });
  });

  it('[D2] findings are sorted by their effect on margin or on CG', () => {
    const ledger = bird().fold();
    const numbers = (order: 'margin' | 'cg') => driftReport(ledger, order).map(({ number }) => number);
    expect([numbers('margin'), numbers('cg')]).toEqual([
      ['P-1', 'P-3'],
      ['P-1', 'P-3'],
    ]);
    const [first] = driftReport(ledger);
    expect(DriftReport.parse(first)).toEqual(first);
    expect(first).toMatchObject({ marginEffectKg: -1, flag: 'drifting heavy', cause: 'resin-rich', weighingSeq: 8 });
    expect(partLimitOf(new Chain().fold())).toEqual(SHOP_PART_LIMIT);
  });

  it('[R3] breakdowns are told in kilograms', () => {
    const rows = breakdownReport(bird().fold(), 'group');
    expect(z.array(BreakdownReport).parse(rows)).toEqual(rows);
    expect(rows).toMatchObject([{ name: 'wing', basicKg: 31.6, weighedKg: 31.6, weighedShare: 1 }]);
  });

  it('[L6] each entry is told with its effects, and with what it corrects or is corrected by', () => {
    const chain = bird();
    const [, , , , , , , spar] = chain.entries;
    if (spar === undefined) throw new Error('the spar');
    chain.correct(spar, weighingOf(1, 10.5));
    const rows = entriesReport(chain.fold());
    expect(z.array(EntryReport).parse(rows)).toEqual(rows);
    expect(rows[7]).toMatchObject({ part: 'P-1', correctedBySeq: 11, predictedKg: 32, marginKg: 8 });
    expect(rows[10]).toMatchObject({ correctsSeq: 8, part: 'P-1', effects: [{ massKg: -0.5, isCorrection: true }] });
  });

  it('[L7] each day is told with where it left the aircraft', () => {
    const days = daysReport(bird().fold());
    expect(z.array(DayReport).parse(days)).toEqual(days);
    expect(days).toMatchObject([{ day: ON, predictedKg: 31.6, targetKg: 40 }]);
  });

  it('[L8] stations of parts are told from the present datum', () => {
    const chain = bird();
    chain.record(datumOf(0.5));
    const parts = partsReport(chain.fold());
    expect(z.array(PartReport).parse(parts)).toEqual(parts);
    expect(parts.map(({ number, xM, weighed, flag }) => [number, xM, weighed, flag])).toEqual([
      ['P-1', 1.5, [1], 'drifting heavy'],
      ['P-2', 4.5, [1], 'in line'],
      ['P-3', 7.5, [1], 'drifting light'],
    ]);
  });
});

describe('preview', () => {
  it('[D1] a weighing is judged before it is saved as it is judged after', () => {
    const chain = bird();
    const weighing = weighingOf(2, 23);
    const preview = previewWeighing(chain.fold(), weighing, ON);
    chain.record(weighing);
    const after = headlineReport(chain.fold());
    expect(PreviewReport.parse(preview)).toEqual(preview);
    expect(preview).toMatchObject({
      predictedBeforeKg: 31.6,
      predictedAfterKg: after.predictedKg,
      marginAfterKg: after.targets?.marginKg,
      cgAfterXM: after.cg.xM,
      judgement: { flag: 'drifting heavy' },
    });
    const [saved] = driftReport(chain.fold());
    expect(saved).toMatchObject(preview?.judgement ?? {});
  });

  it('[L8] a preview after the datum moved agrees with what is saved', () => {
    const chain = bird();
    chain.record(datumOf(1.25));
    const weighing = weighingOf(1, 15);
    const preview = previewWeighing(chain.fold(), weighing, ON);
    chain.record(weighing);
    expect(preview?.cgAfterXM).toBe(headlineReport(chain.fold()).cg.xM);
    expect(previewWeighing(chain.fold(), weighingOf(9, 1), ON)).toBeUndefined();
  });

  it('[W4] an assembly is judged against the parts in it, and shows what the scale then does to the aircraft', () => {
    const chain = bird();
    chain.record(partOf(8));
    chain.record(partOf(7, { parentPartId: partIdOf(8) }));
    chain.record(estimateOf(7, { massKg: 5, laterKg: 1, growth: 0.2, xM: 3 }));
    const weighing = assemblyOf(8, 4.5, [7], { condition: 'trimmed', xM: 3.1 });
    const before = chain.fold();
    const preview = previewWeighing(before, weighing, ON);
    const entryCount = before.entries.length;
    chain.record(weighing);
    const after = headlineReport(chain.fold());
    expect(PreviewReport.parse(preview)).toEqual(preview);
    // 4 kg are expected without what goes on later, and 5.5 will be there with it.
    expect(preview).toMatchObject({
      judgement: { expectedKg: 4, netKg: 4.5, flag: 'drifting heavy' },
      projectedKg: 5.5,
      predictedAfterKg: after.predictedKg,
      cgAfterXM: after.cg.xM,
      marginAfterKg: after.targets?.marginKg,
      doubts: [],
    });
    expect(before.entries).toHaveLength(entryCount);
    expect(headlineReport(before).predictedKg).toBe(preview?.predictedBeforeKg);
    const slip = previewWeighing(before, assemblyOf(8, 4 * 2.20462, [7], { condition: 'trimmed' }), ON);
    expect(slip?.doubts.map((doubt) => doubt.slip)).toContain('kg for lb');
  });

  it('[W4] the same reading again on the same day looks as if it were entered twice', () => {
    const chain = bird();
    const first = chain.record(weighingOf(1, 10));
    const slips = (netKg: number, on = ON) =>
      previewWeighing(chain.fold(), weighingOf(1, netKg), on)?.doubts.map(({ slip, words }) => [slip, words]);
    expect(slips(10)).toEqual([
      ['entered before', `Entry ${first.seq} of the same day says the same. Is it entered twice?`],
    ]);
    expect(slips(10.01)?.map(([slip]) => slip)).toEqual(['takes the place of another']);
    expect(slips(10, '2026-05-02')).toEqual([]);
  });

  it('[W4] a figure out of line that fits a part of nearly the same number names that part, once it is not weighed', () => {
    const chain = bird();
    chain.record(partOf(11, { name: 'Fin' }));
    chain.record(estimateOf(11, { massKg: 7 }));
    chain.record(partOf(12_345));
    chain.record(estimateOf(12_345, { massKg: 7 }));
    const words = () => previewWeighing(chain.fold(), weighingOf(1, 7.1), ON)?.doubts.map((doubt) => doubt.words);
    expect(words()).toContain('It would fit P-11 Fin: not weighed yet.');
    expect(previewWeighing(chain.fold(), weighingOf(1, 11), '2026-05-02')?.doubts).toEqual([]);
    chain.record(weighingOf(11, 7));
    expect(words()?.join()).not.toContain('P-11');
  });

  it('[L2] an entry stays with the part that it named, and its correction is found under both', () => {
    const chain = bird();
    const wrong = chain.record(weighingOf(1, 10));
    const right = chain.correct(wrong, weighingOf(2, 10));
    const ledger = chain.fold();
    const rows = entriesReport(ledger);
    expect(rows.at(-2)).toMatchObject({ part: 'P-1', correctedBySeq: right.seq });
    expect(rows.at(-1)).toMatchObject({ part: 'P-2' });
    expect(partsOfEntry(ledger, right.entry).map(({ number }) => number)).toEqual(['P-2', 'P-1']);
    const struck = chain.correct(right, undefined);
    expect(partsOfEntry(chain.fold(), struck.entry).map(({ number }) => number)).toEqual(['P-2', 'P-1']);
  });

  it.each([
    [10 * 2.20462, 'kg for lb'],
    [10 / 2.20462, 'lb for kg'],
    [10_000, 'kg for g'],
    [0.01, 'g for kg'],
    [40, 'far above'],
    [2, 'far below'],
  ])('[W1] a reading of %d kg where 10 are expected looks like: %s', (netKg, slip) => {
    const preview = previewWeighing(bird().fold(), weighingOf(1, netKg), ON);
    expect(preview?.doubts.map((doubt) => doubt.slip)).toContain(slip);
  });

  it('[W1] a reading near what is expected raises no doubt', () => {
    const chain = bird();
    chain.record(partOf(4));
    chain.record(estimateOf(4, { massKg: 10 }));
    for (const netKg of [8.6, 10, 11.4])
      expect(previewWeighing(chain.fold(), weighingOf(4, netKg), ON)?.doubts).toEqual([]);
  });
});

it('[L2] an entry that is struck out says so, and the one that strikes it out says what it had said', () => {
  const chain = bird();
  const fin = chain.entries.find(({ entry }) => entry.kind === 'weighing' && entry.netKg === 0.5);
  if (fin === undefined) throw new Error('the fin');
  const struck = chain.correct(fin, undefined);
  const ledger = chain.fold();
  const [was, by] = [entryReport(ledger, fin.seq - 1), entryReport(ledger, ledger.entries.length - 1)];
  const units = { mass: 'kg', length: 'm' } as const;
  expect(struck).toBeDefined();
  expect(EntryReport.parse(by)).toEqual(by);
  expect(describeEntry(was, units)).toMatch(new RegExp(`\\[struck out by ${by.seq}\\]$`));
  expect(describeEntry(by, units)).toContain(`correction of ${fin.seq}: struck out, which said: weighing: P-3`);
});
