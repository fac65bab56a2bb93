/** Scales, their calibration, and check weights (rules W1, W12, U1). */
import { describe, expect, it } from 'vitest';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { Entry, RecordedEntry, StatementOf } from '#shared/ledger/entry.ts';
import { checkFromWords, scaleFromWords, serviceLimitKg } from '#shared/weighing/scale-from-words.ts';
import { calibrationAt, gainStdAt, passesCheck, scaleKey, scaleMarks, scalesOf } from '#shared/weighing/scales.ts';
import { assemblyOf, Chain, checkOf, partIdOf, partOf, scaleOf, TODAY, weighingOf } from '../ledger/make-entries.ts';
import { problemsOf, readerOf } from '../words/words.ts';

function begun(): Chain {
  const chain = new Chain();
  chain.record(partOf(1));
  chain.record(partOf(2, { parentPartId: partIdOf(1) }));
  return chain;
}

/** What stands against the last entry. */
function objections(chain: Chain): string[] {
  const last = chain.entries.at(-1);
  if (last === undefined) throw new Error('an empty chain');
  return objectionsTo(last.entry, chain.fold(last.seq - 1), TODAY).map(
    ({ path, refusal }) => `${path.join('/')}: ${refusal.code}`,
  );
}

/** The marks of every weighing, by the net that tells them apart. */
function marks(chain: Chain): (readonly [number, ...string[]])[] {
  const scales = scalesOf(chain.fold());
  const isWeighing = (recorded: RecordedEntry): recorded is RecordedEntry & { entry: Entry & { kind: 'weighing' } } =>
    recorded.entry.kind === 'weighing';
  return chain.entries.filter(isWeighing).map(({ seq, entry }) => {
    const { happenedOn, scale, netKg } = entry;
    return [netKg, ...scaleMarks(scales, { happenedOn, seq, scale }).map(({ mark }) => mark)];
  });
}

const onBench = (netKg: number) => weighingOf(2, netKg, { scale: 'Bench' });
const FAILED = 'check weight failed';

describe('capacity', () => {
  it('[W1] a gross up to the capacity of its scale is taken, one above it is refused, net or not', () => {
    const chain = begun();
    chain.record(scaleOf('Bench', { capacityKg: 15 }));
    for (const [grossKg, told] of [
      [15, []],
      [15.001, ['readings: above-capacity']],
    ] as const) {
      const readings = [
        { grossKg: 12, tareKg: 6, typed: {} },
        { grossKg, tareKg: grossKg - 6, typed: { gross: 'as typed' } },
      ];
      chain.record({ ...onBench(6), readings });
      expect(objections(chain)).toEqual(told);
      chain.record({ ...assemblyOf(1, 6, [2]), scale: ' BENCH ', readings });
      expect(objections(chain)).toEqual(told);
    }
  });

  it('[W1] the gross and the capacity are told as they were typed', () => {
    const chain = begun();
    chain.record(scaleOf('Bench', { capacityKg: 9.0718474, typed: { capacity: '20 lb' } }));
    const readings = [{ grossKg: 10, tareKg: 0, typed: { gross: '22.05 lb' } }];
    const weighing = chain.record({ ...onBench(10), readings });
    const [objection] = objectionsTo(weighing.entry, chain.fold(3), TODAY);
    expect(objection?.refusal).toMatchObject({ gross: '22.05 lb', capacity: '20 lb', scale: 'Bench' });
  });

  it('[W1] a scale that is not known, or states no capacity, refuses nothing', () => {
    const chain = begun();
    chain.record(onBench(100));
    expect(objections(chain)).toEqual([]);
    chain.record(scaleOf('Bench'));
    chain.record(onBench(100));
    expect(objections(chain)).toEqual([]);
  });

  it('[W1] the capacity on the day of the weighing counts, and before the first statement the first one', () => {
    const chain = begun();
    chain.record(scaleOf('Bench', { capacityKg: 15 }), { on: '2026-05-02' });
    chain.record(scaleOf('Bench', { capacityKg: 30 }), { on: '2026-05-10' });
    const told = (on: string) => {
      chain.record(onBench(20), { on });
      return objections(chain);
    };
    expect(['2026-05-01', '2026-05-09', '2026-05-10'].map(told)).toEqual([
      ['readings: above-capacity'],
      ['readings: above-capacity'],
      [],
    ]);
  });
});

describe('calibration', () => {
  it('[W1] a calibration out of date on the day of the weighing is a mark; on its last day it holds', () => {
    const chain = begun();
    chain.record(scaleOf('Bench', { dueOn: '2026-05-10' }), { on: '2026-05-01' });
    chain.record(onBench(1), { on: '2026-05-10' });
    chain.record(onBench(2), { on: '2026-05-11' });
    chain.record(weighingOf(2, 3, { scale: 'Floor' }), { on: '2026-05-11' });
    chain.record(weighingOf(2, 4), { on: '2026-05-11' });
    expect(marks(chain)).toEqual([[1], [2, 'calibration out of date'], [3], [4]]);
    expect(objections(chain)).toEqual([]);
  });

  it('[W1] a new calibration takes the mark from what is weighed after it, though it is recorded late', () => {
    const chain = begun();
    chain.record(scaleOf('Bench', { dueOn: '2026-05-10' }), { on: '2026-05-01' });
    chain.record(onBench(1), { on: '2026-05-11' });
    chain.record(onBench(2), { on: '2026-05-20' });
    chain.record(scaleOf('bench', { dueOn: '2027-05-15' }), { on: '2026-05-15' });
    expect(marks(chain)).toEqual([[1, 'calibration out of date'], [2]]);
  });

  it('[U1] the uncertainty of the scale is that of the calibration in force', () => {
    const chain = begun();
    chain.record(scaleOf('Bench', { gainStd: 0.0001 }), { on: '2026-05-02' });
    chain.record(scaleOf('Bench', { gainStd: 0.0003 }), { on: '2026-05-10' });
    const scales = scalesOf(chain.fold());
    const at = (happenedOn: string) => gainStdAt(scales, 'bench', { happenedOn, seq: 99 });
    expect(['2026-05-01', '2026-05-09', '2026-05-10'].map(at)).toEqual([0.0001, 0.0001, 0.0003]);
    expect(gainStdAt(scales, 'Floor', { happenedOn: TODAY, seq: 99 })).toBe(0);
    expect(gainStdAt(scales, undefined, { happenedOn: TODAY, seq: 99 })).toBe(0);
    expect(calibrationAt(undefined, { happenedOn: TODAY, seq: 99 })).toBeUndefined();
  });
});

describe('check weights', () => {
  it('[W12] a check passes within its limit, bounds included', () => {
    const off = (shownKg: number) => passesCheck({ referenceKg: 10, shownKg, limitKg: 0.02 });
    expect([9.979, 9.98, 10, 10.02, 10.021].map(off)).toEqual([false, true, true, true, false]);
    // 1.1 - 1 is 0.10000000000000009 in binary.
    expect(passesCheck({ referenceKg: 1, shownKg: 1.1, limitKg: 0.1 })).toBe(true);
  });

  it('[W12] a failed check marks what was weighed since the last good one and until the next good one', () => {
    const chain = begun();
    const days: readonly (readonly [string, StatementOf<'weighing'> | StatementOf<'check weight'>])[] = [
      ['2026-05-01', onBench(1)],
      ['2026-05-02', checkOf('Bench', 10)],
      ['2026-05-03', onBench(3)],
      ['2026-05-04', checkOf('Bench', 10.05)],
      ['2026-05-05', onBench(5)],
      ['2026-05-06', checkOf('Bench', 10.04)],
      ['2026-05-07', onBench(7)],
      ['2026-05-08', checkOf('Bench', 10.01)],
      ['2026-05-09', onBench(9)],
    ];
    for (const [on, statement] of days) chain.record(statement, { on });
    chain.record(weighingOf(2, 70, { scale: 'Floor' }), { on: '2026-05-07' });
    chain.record(weighingOf(2, 71), { on: '2026-05-07' });
    expect(marks(chain)).toEqual([[1], [3, FAILED], [5, FAILED], [7, FAILED], [9], [70], [71]]);
  });

  it('[W12] a check that fails before any has passed marks everything before it, whenever it is recorded', () => {
    const chain = begun();
    chain.record(onBench(1), { on: '2026-05-01' });
    chain.record(onBench(9), { on: '2026-05-09' });
    expect(marks(chain)).toEqual([[1], [9]]);
    chain.record(checkOf('Bench', 11), { on: '2026-05-05' });
    expect(marks(chain)).toEqual([
      [1, FAILED],
      [9, FAILED],
    ]);
  });

  it('[W12] on one day the order of the entries counts', () => {
    const chain = begun();
    chain.record(checkOf('Bench', 10));
    chain.record(onBench(1));
    chain.record(checkOf('Bench', 11));
    chain.record(onBench(2));
    chain.record(checkOf('Bench', 10));
    chain.record(onBench(3));
    expect(marks(chain)).toEqual([[1, FAILED], [2, FAILED], [3]]);
  });

  it('[W12] a check that is corrected keeps its place and marks by what it says now', () => {
    const chain = begun();
    chain.record(onBench(1));
    const check = chain.record(checkOf('Bench', 11));
    chain.record(onBench(2));
    const corrected = chain.correct(check, checkOf('Bench', 10.01));
    expect(marks(chain)).toEqual([[1], [2]]);
    const again = chain.correct(corrected, checkOf('Bench', 10.5));
    const [mark] = scaleMarks(scalesOf(chain.fold()), { happenedOn: '2026-05-01', seq: 5, scale: 'Bench' });
    expect(mark).toEqual({ mark: FAILED, checkSeq: again.seq, checkedOn: '2026-05-01' });
    chain.correct(again, undefined);
    expect(marks(chain)).toEqual([[1], [2]]);
  });

  it('[W12] the name of a scale is one name whatever its case', () => {
    const chain = begun();
    chain.record(onBench(1));
    chain.record(checkOf('  bENCH', 11));
    chain.record(checkOf('Bench 2', 10));
    expect(marks(chain)).toEqual([[1, FAILED]]);
    expect([...scalesOf(chain.fold()).keys()]).toEqual(['bench', 'bench 2']);
    expect(scaleKey(' Wa\u0308ge ')).toBe(scaleKey('w\u00e4ge'));
  });
});

describe('words', () => {
  const scale = (words: Record<string, string>) => {
    const reader = readerOf({ scale: 'Bench', ...words });
    return { read: scaleFromWords(reader), problems: problemsOf(reader) };
  };
  const check = (words: Record<string, string>, known?: StatementOf<'scale'>) => {
    const reader = readerOf({ scale: 'Bench', reference: '10 kg', shown: '10.004 kg', ...words });
    return { read: checkFromWords(reader, () => known), problems: problemsOf(reader) };
  };

  it('[U1] what is kept of a calibration is its relative standard uncertainty', () => {
    const full = { capacity: '15 kg', resolution: '5 g', calibrated: '2026-02-01', 'calibration due': '2027-02-01' };
    // 0.02 % with k = 2 is 0.0001; 6 g at 15 kg with k = 2 is 0.0002.
    expect(scale({ ...full, 'calibration uncertainty': '0.02 %', coverage: 'k = 2' }).read).toEqual({
      kind: 'scale',
      scale: 'Bench',
      capacityKg: 15,
      resolutionKg: 0.005,
      calibratedOn: '2026-02-01',
      dueOn: '2027-02-01',
      gainStd: 0.0001,
      typed: { capacity: '15 kg', resolution: '5 g', 'calibration uncertainty': '0.02 %', coverage: 'k = 2' },
    });
    expect(scale({ ...full, 'calibration uncertainty': '6 g', coverage: '2' }).read?.gainStd).toBeCloseTo(0.0002, 15);
    expect(scale({ 'calibration uncertainty': '0.01 %', coverage: '1' }).read?.gainStd).toBe(0.0001);
    expect(scale({}).read).toEqual({ kind: 'scale', scale: 'Bench', gainStd: 0, typed: {} });
  });

  it.each([
    [{ scale: '' }, 'scale: missing'],
    [{ 'calibration uncertainty': '0.02 %' }, 'coverage: coverage-missing'],
    [{ 'calibration uncertainty': '6 g', coverage: '2' }, 'capacity: missing'],
    [{ 'calibration uncertainty': '0.02', coverage: '2' }, 'calibration uncertainty: unit-missing'],
    [{ 'calibration uncertainty': '200 %', coverage: '1' }, 'calibration uncertainty: out-of-range'],
    [{ capacity: '15 kg', 'calibration uncertainty': '16 kg', coverage: '1' }, 'calibration uncertainty: out-of-range'],
    [{ 'calibration uncertainty': '0.02 %', coverage: '0' }, 'coverage: out-of-range'],
    [{ 'calibration uncertainty': '0.02 %', coverage: 'two' }, 'coverage: not-a-number'],
    [{ capacity: '15' }, 'capacity: unit-missing'],
    [{ capacity: '0 kg' }, 'capacity: out-of-range'],
    [{ resolution: '0 g' }, 'resolution: out-of-range'],
    [{ calibrated: '1.2.2026' }, 'calibrated: not-a-day'],
    [{ calibrated: '2026-02-02', 'calibration due': '2026-02-01' }, 'calibration due: days-reversed'],
  ])('[W1] a scale with %j is refused: %s', (words, problem) => {
    expect(scale(words).problems).toContain(problem);
    expect(scale(words).read).toBeUndefined();
  });

  it('[W12] without a stated limit that of class III in service is taken, by the resolution of the scale', () => {
    // 10 kg are 2,000 intervals of 5 g: twice 1 interval; 500 are twice half of one; 2,001 twice one and a half.
    expect(serviceLimitKg(10, 0.005)).toBe(0.01);
    expect(serviceLimitKg(2.5, 0.005)).toBe(0.005);
    expect(serviceLimitKg(10.005, 0.005)).toBe(0.015);
    // 25 lb are 500 intervals of 0.05 lb, though the binary quotient lies above.
    expect(serviceLimitKg(11.33980925, 0.0226796185)).toBe(0.0226796185);
    expect(check({}, scaleOf('Bench', { resolutionKg: 0.005 })).read).toMatchObject({ limitKg: 0.01, shownKg: 10.004 });
    expect(check({ limit: '3 g' }, scaleOf('Bench', { resolutionKg: 0.005 })).read?.limitKg).toBe(0.003);
    expect(check({ limit: '3 g' }).read?.limitKg).toBe(0.003);
  });

  it.each([
    [{}, 'limit: missing'],
    [{ shown: '' }, 'shown: missing'],
    [{ reference: '0 kg' }, 'reference: out-of-range'],
    [{ reference: '10' }, 'reference: unit-missing'],
    [{ scale: '' }, 'scale: missing'],
    [{ limit: '-1 g' }, 'limit: out-of-range'],
  ])('[W12] a check weight with %j is refused: %s', (words, problem) => {
    expect(check(words).problems).toContain(problem);
    expect(check(words).read).toBeUndefined();
  });
});
