/** How far a shop's processes and pieces are believed to be off (rules F1, D4, U2): stated with its allowances, else common practice. */
import { describe, expect, it } from 'vitest';
import { processDrifts } from '#shared/drift/process-drift.ts';
import { forecastByDay } from '#shared/forecast/history.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import { whatIf } from '#shared/forecast/what-if.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import { Entry } from '#shared/ledger/entry.ts';
import { describeEntry } from '#shared/rollup/describe-entry.ts';
import { entryReport, headlineReport } from '#shared/rollup/report.ts';
import { setUpReport } from '#shared/rollup/set-up-report.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { allowancesOf, Chain, estimateOf, ON, partIdOf, partOf, uuidOf, weighingOf } from '../ledger/make-entries.ts';

/** 10 kg released 6 % heavy, and 20 kg still open; no estimate states an uncertainty, the scale has none. */
function shop(own?: { processShiftStd?: number; pieceToPieceStd?: number }): Chain {
  const chain = new Chain();
  if (own !== undefined) chain.record(allowancesOf(0.24, own));
  for (const [number, massKg] of [
    [1, 10],
    [2, 20],
  ] as const) {
    chain.record(partOf(number));
    chain.record(estimateOf(number, { massKg, growth: 0, xM: number }));
  }
  chain.record(weighingOf(1, 10.6, { grossResolutionKg: 0 }));
  return chain;
}

function read(words: object, chain = new Chain()) {
  return entryFromWords(words, { ledger: chain.fold(), day: ON, by: 'Ann', newId: () => uuidOf(1, 7) });
}

describe('what a shop takes for granted', () => {
  it('[F1] is common practice until it states its own: 8 % for a process, 3 % from piece to piece', () => {
    const { assumed, processes, forecastStdKg } = forecastReport(shop().fold());
    expect(assumed).toEqual({ processShiftStd: 0.08, isOwnShift: false, pieceToPieceStd: 0.03, isOwnPiece: false });
    const shift = 0.06 / 0.0009 / (1 / 0.0064 + 1 / 0.0009);
    expect(processes[0]?.shiftFraction).toBeCloseTo(shift, 12);
    const shiftStd = 1 / Math.sqrt(1 / 0.0064 + 1 / 0.0009);
    expect(forecastStdKg).toBeCloseTo(Math.hypot(20 * shiftStd, 20 * 0.03), 12);
  });

  it('[F1] moves the forecast, its band, the charts and what if, once it is stated', () => {
    const chain = shop({ processShiftStd: 0.02, pieceToPieceStd: 0.05 });
    const { assumed, processes, forecastStdKg } = forecastReport(chain.fold());
    expect(assumed).toEqual({ processShiftStd: 0.02, isOwnShift: true, pieceToPieceStd: 0.05, isOwnPiece: true });
    const shift = 0.06 / 0.0025 / (1 / 0.0004 + 1 / 0.0025);
    const shiftStd = 1 / Math.sqrt(1 / 0.0004 + 1 / 0.0025);
    expect(processes[0]?.shiftFraction).toBeCloseTo(shift, 12);
    expect(processes[0]?.shiftStdFraction).toBeCloseTo(shiftStd, 12);
    expect(forecastStdKg).toBeCloseTo(Math.hypot(20 * shiftStd, 20 * 0.05), 12);
    expect(forecastByDay(chain.fold()).at(-1)?.forecastStdKg).toBeCloseTo(forecastStdKg, 12);
    expect(processDrifts(chain.fold())[0]?.points[0]?.deviation).toBeCloseTo(0.06 / 0.05, 12);
    const asked = whatIf(chain.fold(), { changes: [{ act: 'remove', partId: partIdOf(2) }] });
    if (!asked.ok) throw new Error('the part is there');
    expect(asked.value.before.forecastStdKg).toBeCloseTo(forecastStdKg, 12);
    expect(asked.value.after.forecastStdKg).toBeCloseTo(0, 9);
  });

  it('[U2] is the uncertainty of every estimate that states none, also of a headline that was carried on', () => {
    const chain = shop();
    const ledger = chain.fold();
    expect(headlineReport(ledger).predictedStdKg).toBeCloseTo(0.6, 12);
    chain.record(allowancesOf(0.24, { pieceToPieceStd: 0.1 }));
    expect(headlineReport(chain.fold()).predictedStdKg).toBeCloseTo(2, 12);
  });

  it('[L2] is put right by a correction, and common practice again where it is struck out', () => {
    const chain = shop();
    const stated = chain.record(allowancesOf(0.24, { processShiftStd: 0.5 }));
    chain.correct(stated, allowancesOf(0.24, { processShiftStd: 0.05 }));
    expect(forecastReport(chain.fold()).assumed.processShiftStd).toBe(0.05);
    const alone = shop();
    alone.correct(alone.record(allowancesOf(0.24, { processShiftStd: 0.5 })), undefined);
    expect(forecastReport(alone.fold()).assumed).toMatchObject({ processShiftStd: 0.08, isOwnShift: false });
  });
});

describe('in words', () => {
  it('[F1] are two shares beside the allowances, each told back', () => {
    const entry = read({ kind: 'allowances', 'process shift': '6 %', 'piece to piece': '2.5 %' });
    if (!entry.ok) throw new Error('it is taken');
    expect(entry.value).toMatchObject({ processShiftStd: 0.06, pieceToPieceStd: 0.025, shares: [] });
    const chain = new Chain();
    chain.add(entry.value);
    expect(setUpReport(chain.fold()).allowances).toMatchObject([{ processShiftStd: 0.06, pieceToPieceStd: 0.025 }]);
    const told = describeEntry(entryReport(chain.fold(), 0), { mass: 'kg', length: 'm' });
    expect(told).toContain('process shift 6 %');
  });

  it('[F1] nothing repeats itself exactly, and nothing is off by its whole', () => {
    for (const text of ['0 %', '101 %'])
      expect(read({ kind: 'allowances', 'piece to piece': text })).toMatchObject({ ok: false });
    for (const text of ['0.1 %', '100 %'])
      expect(read({ kind: 'allowances', 'piece to piece': text })).toMatchObject({ ok: true });
    const entry = { ...allowancesOf(0.2), id: uuidOf(1), happenedOn: ON, by: 'Ann' };
    for (const std of [0, -0.1, 1.01]) expect(Entry.safeParse({ ...entry, processShiftStd: std }).success).toBe(false);
    expect(Entry.safeParse({ ...entry, processShiftStd: 1 }).success).toBe(true);
  });

  it('[L5] an entry that states none has the text that it always had', () => {
    const entry = read({ kind: 'allowances', 'prepreg calculated': '5 %' });
    if (!entry.ok) throw new Error('it is taken');
    expect(entryText(entry.value)).not.toMatch(/Std/);
  });
});
