/** The story of the demonstration aircraft: repeatable, admitted, and with everything in it that there is to look at (G1). */
import { describe, expect, it } from 'vitest';
import { driftReport } from '#shared/drift/report.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { Entry, Process } from '#shared/ledger/entry.ts';
import { applyEntry, openLedger } from '#shared/ledger/fold.ts';
import { toKg } from '#shared/quantity/exact.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { firstSignal, releasesOf } from './process-chart.ts';
import { daysBetween, entriesOn, ledgerOf, TODAY } from './story.ts';

const entries = entriesOn(TODAY);
const ledger = ledgerOf(entries);
const headline = headlineReport(ledger);
const drifts = driftReport(ledger);

function given<T>(value: T | undefined): T {
  if (value === undefined) throw new Error('the story has no such entry');
  return value;
}

function ofKind<Kind extends Entry['kind']>(kind: Kind): readonly Extract<Entry, { kind: Kind }>[] {
  return entries.filter((entry): entry is Extract<Entry, { kind: Kind }> => entry.kind === kind);
}

describe('the entries', () => {
  it('[G1] are the same for the same seed and day, and others for another seed', () => {
    expect(entriesOn(TODAY)).toEqual(entries);
    expect(entriesOn(TODAY, 4)).not.toEqual(entries);
  });

  it.each(['2026-06-16', '2026-06-22', '2027-01-03', '2024-02-29'])('[G1] only move by whole weeks for %s', (today) => {
    const others = entriesOn(today);
    const shifts = new Set(others.map((entry, at) => daysBetween(entries[at]?.happenedOn ?? '', entry.happenedOn)));
    expect(shifts.size).toBe(1);
    expect([...shifts].every((days) => days % 7 === 0)).toBe(true);
    const undated = (list: readonly Entry[]) =>
      list.map((entry) => JSON.stringify(entry).replaceAll(/"(happenedOn|calibratedOn|dueOn)":"[^"]*"/g, ''));
    expect(undated(others)).toEqual(undated(entries));
  });

  it('[G1] have the shape of an entry, an id each, and are admitted in their order', () => {
    const growing = openLedger();
    for (const [at, entry] of entries.entries()) {
      expect(Entry.parse(entry)).toEqual(entry);
      expect(objectionsTo(entry, growing, TODAY)).toEqual([]);
      applyEntry(growing, { seq: at + 1, recordedAt: '', entry });
    }
    expect(new Set(entries.map((entry) => entry.id)).size).toBe(entries.length);
  });

  it('[G1] say that they are invented, and for whom, and the datum plainly', () => {
    const [first] = ofKind('aircraft');
    expect(first?.name).toContain('invented');
    expect(first?.datum).toMatch(/^0\.500 m ahead of the bow/);
    expect(first?.remark).toContain('invented, by a program, for ann');
  });

  it('[G1] are of five people over eighteen months of working days, ending shortly before today', () => {
    const days = entries.map((entry) => entry.happenedOn).sort();
    const first = days[0] ?? '';
    const last = days.at(-1) ?? '';
    expect(new Set(entries.map((entry) => entry.by)).size).toBe(5);
    expect(daysBetween(first, last)).toBeGreaterThan(530);
    expect(daysBetween(first, last)).toBeLessThan(550);
    expect(daysBetween(last, TODAY)).toBeGreaterThanOrEqual(3);
    expect(daysBetween(last, TODAY)).toBeLessThanOrEqual(10);
    for (const day of days) expect([1, 2, 3, 4, 5]).toContain(new Date(`${day}T00:00:00Z`).getUTCDay());
  });

  it('[G1] begin with one batch, and are then written in order but for the late ones', () => {
    const batchDay = entries[0]?.happenedOn;
    expect(entries.findIndex((entry) => entry.happenedOn !== batchDay)).toBeGreaterThan(200);
    const weighings = ofKind('weighing');
    const late = weighings.filter((entry) => {
      const at = entries.indexOf(entry);
      return entries.slice(0, at).some((before) => before.happenedOn > entry.happenedOn);
    });
    expect(late.length).toBeGreaterThan(3);
    expect(late.length).toBeLessThan(weighings.length / 4);
    expect(late.every((entry) => entry.remark !== undefined)).toBe(true);
  });
});

describe('the aircraft at the end of the story', () => {
  it('[G1] has some 150 parts in nine groups, none without an estimate or an arm', () => {
    expect(headline.partCount).toBeGreaterThanOrEqual(140);
    expect(headline.partCount).toBeLessThanOrEqual(160);
    expect(new Set(ofKind('part added').map((part) => part.group)).size).toBe(9);
    expect(headline.withoutEstimate.count).toBe(0);
    expect(headline.withoutArm.count).toBe(0);
  });

  it('[G1] is 2 to 5 kg over what its target leaves, two thirds of it weighed, and stands near the aft end of its range', () => {
    expect(headline.targets?.emptyMassKg).toBe(372);
    expect(headline.predictedKg).toBeGreaterThan(372);
    expect(headline.predictedKg).toBeLessThan(376);
    expect(headline.targets?.marginKg).toBeGreaterThan(-5);
    expect(headline.targets?.marginKg).toBeLessThan(-2);
    expect(headline.weighedShare).toBeGreaterThan(0.6);
    expect(headline.weighedShare).toBeLessThan(0.7);
    expect(headline.targets?.cgStanding).toBe('in range');
    expect(headline.cg.percentMac).toBeGreaterThan(30.5);
    expect(headline.cg.percentMac).toBeLessThan(32);
    expect(Math.abs(headline.cg.yM ?? 1)).toBeLessThan(0.01);
  });

  it('[G1] has findings with a cause and without, heavy and light, and most parts in line', () => {
    const drifting = drifts.filter((drift) => drift.flag.startsWith('drifting'));
    expect(drifting.filter((drift) => drift.cause !== undefined).length).toBeGreaterThanOrEqual(4);
    expect(drifting.filter((drift) => drift.cause === undefined).length).toBeGreaterThanOrEqual(4);
    expect(headline.watchCount).toBeGreaterThan(0);
    expect(headline.driftingCount).toBeLessThan(ofKind('weighing').length / 5);
    const light = drifting.filter((drift) => drift.flag === 'drifting light');
    expect(light.map((drift) => [drift.number, drift.cause])).toEqual([['W-31', undefined]]);
    const noted = new Set(ofKind('note').map((note) => note.partId));
    const aileron = ofKind('part added').find((part) => part.number === 'W-31');
    expect(noted.has(aileron?.partId)).toBe(false);
  });

  it('[G1] has three baselines with targets of nine groups, each revision with a reason', () => {
    const targets = ofKind('targets');
    expect(targets.map((baseline) => baseline.reason !== undefined)).toEqual([false, true, true]);
    for (const { groups, emptyMassKg, reserveKg } of targets) {
      expect(groups).toHaveLength(9);
      const sumKg = groups.reduce((sum, { massKg }) => sum + (massKg ?? 0), 0);
      expect(sumKg).toBeLessThanOrEqual(emptyMassKg - reserveKg);
      expect(sumKg).toBeGreaterThan(emptyMassKg - reserveKg - 8);
    }
  });
});

describe('what happens in the story', () => {
  it('[G1] a frame is scrapped and made again, a brake goes back, and both count as weighed in the end', () => {
    const [withdrawn] = ofKind('piece withdrawn');
    const scrapped = ofKind('disposition').filter(({ decision }) => decision === 'scrapped');
    expect(scrapped.map(({ inspection }) => inspection !== undefined)).toEqual([true]);
    for (const [gone, pieceCount] of [
      [scrapped[0], 1],
      [withdrawn, 2],
    ] as const) {
      const weighed = ofKind('weighing').filter((weighing) => weighing.partId === gone?.partId);
      expect(weighed.map((weighing) => weighing.happenedOn > (gone?.happenedOn ?? ''))).toEqual([false, true]);
      expect(ledger.books.byPart.get(given(weighed[0]).partId)?.state.weighedPieces).toBe(pieceCount);
    }
  });

  it('[G1] pounds typed as kilograms raise the prediction until they are corrected', () => {
    const [correction] = ofKind('correction');
    const at = entries.findIndex((entry) => entry.id === correction?.supersedesId);
    const wrong = ledger.rows[at];
    const right = ledger.rows[entries.findIndex((entry) => entry.id === correction?.id)];
    const massOf = (row: typeof wrong) =>
      (row?.effects ?? []).reduce((sum, effect) => sum + toKg(effect.change.massNg), 0);
    expect(massOf(wrong)).toBeGreaterThan(3);
    expect(massOf(right)).toBeLessThan(-3);
    expect(drifts.some((drift) => drift.number === 'W-51')).toBe(false);
  });

  it('[G1] people type kg, g, lb and lb with oz, gross and tare, one reading or several, on three scales', () => {
    const weighings = ofKind('weighing');
    const typed = weighings.flatMap((weighing) => weighing.readings.flatMap((reading) => Object.values(reading.typed)));
    for (const shape of [/^[\d.]+ kg$/, /^\d+ g$/, /^[\d.]+ lb$/, /^\d+ lb [\d.]+ oz$/])
      expect(typed.filter((text) => shape.test(text)).length).toBeGreaterThan(0);
    expect(weighings.some((weighing) => weighing.readings.length > 1)).toBe(true);
    expect(weighings.some((weighing) => weighing.readings.some((reading) => reading.tareKg > 0))).toBe(true);
    expect(weighings.some((weighing) => weighing.pieces.length > 1)).toBe(true);
    expect(new Set(weighings.map((weighing) => weighing.scale))).toEqual(new Set(['bench', 'floor', 'hand']));
    expect(new Set(weighings.map((weighing) => weighing.condition)).size).toBe(3);
    expect(weighings.filter((weighing) => /^(RI|RL|PR)-\d\d$/.test(weighing.lot ?? '')).length).toBeGreaterThan(30);
  });

  it('[G1] a laid-up part is weighed again as it is trimmed and finished', () => {
    const conditionsOf = new Map<string, string[]>();
    for (const { partId, condition } of ofKind('weighing'))
      conditionsOf.set(partId, [...(conditionsOf.get(partId) ?? []), condition]);
    const paths = [...conditionsOf.values()].map((conditions) => conditions.join(', '));
    expect(paths.filter((path) => path === 'as released, trimmed, finished').length).toBeGreaterThan(0);
    expect(paths.filter((path) => path === 'as released, trimmed').length).toBeGreaterThan(2);
  });

  it('[G1] estimates are worked out, arms measured, pieces built in, notes made, and one part leaves', () => {
    expect(ofKind('estimate').length - ofKind('part added').length).toBeGreaterThan(5);
    expect(ofKind('arm measured').length).toBeGreaterThanOrEqual(5);
    expect(ofKind('piece installed').length).toBeGreaterThan(40);
    expect(ofKind('note').length).toBeGreaterThanOrEqual(10);
    expect(ofKind('part removed')).toHaveLength(1);
    expect(headline.installedKg).toBeGreaterThan(100);
  });
});

describe('the process that runs rich', () => {
  const releases = releasesOf(ledger, 'resin-infused');
  const shiftedAt = releases.findIndex((release) => release.part === 'H-15');
  const meanOf = (some: typeof releases) => some.reduce((sum, release) => sum + release.grew, 0) / some.length;

  it('[G1] shifts halfway through its releases by about 13 %', () => {
    const before = releases.slice(0, shiftedAt);
    const after = releases.slice(shiftedAt);
    expect(before.length).toBeGreaterThanOrEqual(15);
    expect(after.length).toBeGreaterThanOrEqual(8);
    expect(Math.abs(meanOf(before))).toBeLessThan(0.02);
    expect(meanOf(after) - meanOf(before)).toBeGreaterThan(0.11);
    expect(meanOf(after) - meanOf(before)).toBeLessThan(0.15);
  });

  it.each([
    ['the difference itself', () => 0],
    ['what exceeds the allowance', (release: (typeof releases)[number]) => release.allowance],
  ] as const)('[G1] is signalled within five releases by an EWMA of %s', (_, centre) => {
    const signalled = firstSignal(releases.map((release) => (release.grew - centre(release)) / release.std));
    expect(signalled).toBeGreaterThanOrEqual(shiftedAt);
    expect(signalled).toBeLessThan(shiftedAt + 5);
  });

  it('[G1] is the only one', () => {
    const signalledAbout = (centre: (release: (typeof releases)[number]) => number) =>
      Process.options.filter((process) => {
        const deviations = releasesOf(ledger, process).map((release) => (release.grew - centre(release)) / release.std);
        return firstSignal(deviations) !== undefined;
      });
    expect(signalledAbout(() => 0)).toEqual(['resin-infused']);
    expect(signalledAbout((release) => release.allowance)).toEqual(['resin-infused']);
  });
});
