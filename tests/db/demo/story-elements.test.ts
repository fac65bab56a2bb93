/** What the story of the demonstration aircraft has to show of scales, decisions, assemblies and the shop, as the views report it (G1). */
import { describe, expect, it } from 'vitest';
import { findingsReport, splitReport } from '#shared/drift/report.ts';
import type { Entry } from '#shared/ledger/entry.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { pairReport } from '#shared/weighing/pairs.ts';
import { scaleReport } from '#shared/weighing/scale-report.ts';
import { passesCheck } from '#shared/weighing/scales.ts';
import { daysBetween, entriesOn, ledgerOf, TODAY } from './story.ts';

const entries = entriesOn(TODAY);
const ledger = ledgerOf(entries);
const headline = headlineReport(ledger);
const findings = findingsReport(ledger);
const scales = scaleReport(ledger);

function ofKind<Kind extends Entry['kind']>(kind: Kind): readonly Extract<Entry, { kind: Kind }>[] {
  return entries.filter((entry): entry is Extract<Entry, { kind: Kind }> => entry.kind === kind);
}

function numberOf(partId: string): string | undefined {
  return ofKind('part added').find((part) => part.partId === partId)?.number;
}

function marksOn(scale: string) {
  return scales.find((row) => row.scale === scale)?.marked.flatMap(({ marks }) => marks.map(({ mark }) => mark)) ?? [];
}

describe('the scales', () => {
  it('[G1] three have a capacity, a resolution and a calibration with its uncertainty, and nothing is in doubt on the floor scale', () => {
    expect(scales.map(({ scale }) => scale)).toEqual(['bench', 'floor', 'hand']);
    for (const { capacityKg, resolutionKg, gainStd, dueOn } of scales) {
      expect(capacityKg).toBeGreaterThan(10);
      expect(resolutionKg).toBeGreaterThan(0);
      expect(gainStd).toBeGreaterThan(0.0001);
      expect(gainStd).toBeLessThanOrEqual(0.001);
      expect(dueOn).toBeDefined();
    }
    expect(ofKind('scale').every(({ typed }) => typed['coverage'] === '2')).toBe(true);
    expect(marksOn('floor')).toEqual([]);
  });

  it('[G1] the calibration of one is out of date for some weeks, and two weighings bear the mark', () => {
    expect(marksOn('hand')).toEqual(['calibration out of date', 'calibration out of date']);
    const [before, after] = ofKind('scale').filter(({ scale }) => scale === 'hand');
    const daysOverdue = daysBetween(before?.dueOn ?? '', after?.calibratedOn ?? '');
    expect(daysOverdue).toBeGreaterThan(28);
    expect(daysOverdue).toBeLessThan(70);
  });

  it('[G1] some twenty check weights, one failed, which puts three weighings in doubt until one passes again', () => {
    const checks = ofKind('check weight');
    expect(checks.length).toBeGreaterThanOrEqual(18);
    expect(checks.length).toBeLessThanOrEqual(26);
    expect(checks.filter((check) => !passesCheck(check)).map(({ scale }) => scale)).toEqual(['bench']);
    expect(marksOn('bench')).toEqual(['check weight failed', 'check weight failed', 'check weight failed']);
    expect(scales.every(({ lastCheckPassed }) => lastCheckPassed)).toBe(true);
  });

  it('[G1] fixtures are named, and each takes off the same tare', () => {
    const tares = new Map<string, Set<number>>();
    for (const { fixture, readings } of ofKind('weighing')) {
      if (fixture === undefined) continue;
      const known = tares.get(fixture) ?? new Set();
      for (const { tareKg } of readings) known.add(Number(tareKg.toFixed(2)));
      tares.set(fixture, known);
    }
    expect([...tares.keys()].sort()).toEqual(['board', 'cradle', 'hoist beam', 'sling', 'tray']);
    // The slip types the sling's pounds as kilograms.
    expect([...tares].filter(([, known]) => known.size > 1).map(([fixture]) => fixture)).toEqual(['sling']);
  });
});

describe('the assemblies', () => {
  const byNumber = new Map(findings.assemblies.map((assembly) => [assembly.number, assembly]));

  it('[G1] the tailplane is bonded heavier than estimated, its arm measured, elevators and tab not yet in it', () => {
    const tailplane = byNumber.get('T-20');
    expect(tailplane?.residualKg).toBeGreaterThan(0.15);
    expect(tailplane?.residualKg).toBeLessThan(0.35);
    const weighing = ofKind('assembly weighing').find(({ partId }) => numberOf(partId) === 'T-20');
    const members = weighing?.members.map(({ partId }) => numberOf(partId));
    expect(members).toContain('T-29');
    expect(members).not.toContain('T-24');
    expect(members).not.toContain('T-28');
    expect(weighing?.xM).toBeGreaterThan(6.9);
    expect(weighing?.xM).toBeLessThan(7.15);
    expect(weighing?.armStdM).toBe(0.005);
  });

  it('[G1] the whole tail has the tailplane in it and a smaller residual of its own', () => {
    const weighing = ofKind('assembly weighing').find(({ partId }) => numberOf(partId) === 'T-00');
    expect(weighing?.members.map(({ partId }) => numberOf(partId))).toContain('T-20');
    expect(byNumber.get('T-00')?.residualKg).toBeGreaterThan(0);
    expect(byNumber.get('T-00')?.residualKg).toBeLessThan(byNumber.get('T-20')?.residualKg ?? 0);
  });
});

describe('the decisions', () => {
  it('[G1] some are accepted, some to be reworked, and the light aileron and others are open', () => {
    const decided = findings.parts.map(({ number, disposition }) => [number, disposition] as const);
    const asDecided = (what: string | undefined) =>
      decided.filter(([, disposition]) => disposition === what).map(([number]) => number);
    expect(asDecided('accepted').length).toBeGreaterThanOrEqual(5);
    expect(asDecided('to be reworked')).toEqual(['S-12']);
    expect(asDecided(undefined)).toContain('W-31');
    expect(asDecided(undefined).length).toBeGreaterThanOrEqual(4);
  });

  it('[G1] a flap is reworked, weighed again lighter, and accepted', () => {
    const isFlap = ({ partId }: { readonly partId: string }) => numberOf(partId) === 'W-41';
    const steps = entries.flatMap((entry): readonly (string | number)[] => {
      if (entry.kind === 'weighing' && isFlap(entry)) return [entry.netKg];
      return entry.kind === 'disposition' && isFlap(entry) ? [entry.decision] : [];
    });
    const [heavyKg, rework, lighterKg, accepted] = steps;
    expect([rework, accepted, steps.length]).toEqual(['to be reworked', 'accepted', 4]);
    expect(Number(heavyKg) - Number(lighterKg)).toBeGreaterThan(0.1);
  });
});

describe('how pieces were made', () => {
  it.each(['lot', 'batch', 'temperature'] as const)('[G1] a split by %s shows the rich run', (key) => {
    const rows = splitReport(ledger, key).filter(({ name }) => key === 'temperature' || /^(RI|HI)-/.test(name));
    const rich = rows.filter(({ meanFraction = 0 }) => meanFraction > 0.08);
    const usual = rows.filter(({ meanFraction = 0 }) => Math.abs(meanFraction) < 0.025);
    expect(rich.length).toBeGreaterThan(0);
    expect(usual.length).toBeGreaterThan(0);
    expect(rich.length + usual.length).toBe(rows.length);
    const names = { lot: 'RI-09', batch: 'HI-03', temperature: '25 to 30 °C' };
    expect(rich[0]?.name).toBe(names[key]);
  });

  it('[G1] both who lay up had rich pieces, and every laid-up piece says by whom, how warm and how damp', () => {
    const laidUp = ofKind('weighing').filter(({ lot }) => lot !== undefined);
    expect(laidUp.length).toBeGreaterThan(60);
    expect(laidUp.every(({ operator, temperatureC }) => operator !== undefined && temperatureC !== undefined)).toBe(
      true,
    );
    expect(laidUp.every(({ humidityFraction = 0 }) => humidityFraction > 0.25 && humidityFraction < 0.6)).toBe(true);
    const warm = laidUp.filter(({ temperatureC = 0 }) => temperatureC >= 24.5);
    expect(new Set(warm.map(({ operator }) => operator)).size).toBe(2);
  });

  it('[G1] pieces weighed twice teach more flash and more to come than was estimated for infused parts', () => {
    const pairs = pairReport(ledger).filter(({ process }) => process === 'resin-infused');
    expect(pairs.map(({ what }) => what)).toEqual(['flash', 'later']);
    for (const { pairCount, meanFraction, estimatedFraction, offers } of pairs) {
      expect(pairCount).toBeGreaterThanOrEqual(3);
      expect(meanFraction).toBeGreaterThan(1.1 * estimatedFraction);
      expect(meanFraction).toBeLessThan(1.5 * estimatedFraction);
      expect(offers.map(({ number }) => number)).toContain('W-22');
    }
  });
});

describe('what is known how well', () => {
  it('[G1] two parts lie on two supports, near where they were estimated', () => {
    const onSupports = ofKind('arm measured').filter(({ supports }) => supports !== undefined);
    expect(onSupports.map(({ partId }) => numberOf(partId)).sort()).toEqual(['H-11', 'P-11']);
    for (const { partId, xM = 0, armStdM = 1 } of onSupports) {
      const estimated = ofKind('estimate').findLast((estimate) => estimate.partId === partId);
      expect(Math.abs(xM - (estimated?.xM ?? 0))).toBeLessThan(0.05);
      expect(armStdM).toBeLessThan(0.01);
    }
  });

  it('[G1] every estimate states its uncertainty and that of its arm, and the prediction is good to some 2 or 3 kg', () => {
    expect(ofKind('estimate').every(({ massStdKg, armStdM }) => massStdKg !== undefined && armStdM !== undefined)).toBe(
      true,
    );
    expect(headline.predictedStdKg).toBeGreaterThan(1.5);
    expect(headline.predictedStdKg).toBeLessThan(4);
  });

  it('[G1] groups are over their targets, and small differences of machined parts add up', () => {
    expect(findings.groups.map(({ group }) => group)).toContain('hull and sponsons');
    expect(findings.manySmall.map(({ by, name }) => [by, name])).toContainEqual(['process', 'machined']);
  });
});
