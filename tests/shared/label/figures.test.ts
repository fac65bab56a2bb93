/** What a label says of expected mass and limits is what a weighing is judged by (rules H1, E2, D1). */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { judge, partLimitOf } from '#shared/drift/part-drift.ts';
import { figuresInWords, labelFigures } from '#shared/label/figures.ts';
import { Condition } from '#shared/ledger/entry.ts';
import { MASS_UNIT_KG, MASS_UNITS } from '#shared/quantity/units.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import { previewWeighing } from '#shared/weighing/preview.ts';
import { Chain, estimateOf, ON, partIdOf, partOf, targetsOf, weighingOf } from '../ledger/make-entries.ts';

it('[H1] in every condition the label says what the judgement of a weighing of that day says', () => {
  const chain = new Chain();
  chain.record(targetsOf(12, { partLimit: { absoluteKg: 0.05, fraction: 0.08 } }));
  chain.record(partOf(1, { quantity: 2 }));
  chain.record(estimateOf(1, { massKg: 4, laterKg: 0.5, finishKg: 0.2, flashKg: 0.3 }));
  chain.record(partOf(2));
  chain.record(estimateOf(2, { massKg: 0.04 }));
  const ledger = chain.fold();
  const limit = partLimitOf(ledger);
  const expected = { 'as released': 3.8, trimmed: 3.5, fitted: 3.8, finished: 4 };
  for (const [at, part] of partsReport(ledger).entries())
    for (const condition of Condition.options) {
      const figures = labelFigures(part, condition, limit);
      const judged = previewWeighing(ledger, weighingOf(at + 1, 3.9, { condition }), ON)?.judgement;
      expect(judged).toBeDefined();
      expect(figures?.expectedKg).toBe(judged?.expectedKg);
      expect(figures?.highKg).toBe((judged?.expectedKg ?? 0) + (judged?.limitKg ?? 0));
      expect(figures?.lowKg).toBe(Math.max(0, (judged?.expectedKg ?? 0) - (judged?.limitKg ?? 0)));
      if (part.partId === partIdOf(1)) expect(figures?.expectedKg).toBeCloseTo(expected[condition], 12);
    }
});

it('[H1] a part without an estimate and an assembly have no figures, and no limit is below nothing', () => {
  const limit = { absoluteKg: 0.02, fraction: 0.06 };
  expect(labelFigures({ childCount: 0 }, 'trimmed', limit)).toBeUndefined();
  expect(labelFigures({ childCount: 2, estimateKg: 4 }, 'trimmed', limit)).toBeUndefined();
  expect(labelFigures({ childCount: 0, estimateKg: 0.005 }, 'trimmed', limit)).toEqual({
    expectedKg: 0.005,
    lowKg: 0,
    highKg: 0.025,
  });
});

it('[H1] whatever lies between the printed limits is not flagged, and one digit further out is, in every unit', () => {
  const decimals = { kg: 3, g: 0, lb: 2, oz: 1 } as const;
  const mass = fc.double({ min: 0.2, max: 80, noNaN: true });
  fc.assert(
    fc.property(
      mass,
      fc.double({ min: 0, max: 0.3, noNaN: true }),
      fc.constantFrom(...MASS_UNITS),
      (estimateKg, fraction, unit) => {
        const limit = { absoluteKg: 0.03, fraction };
        const figures = labelFigures({ childCount: 0, estimateKg }, 'finished', limit);
        if (figures === undefined) throw new Error('it has an estimate');
        const words = figuresInWords(figures, unit);
        const step = 10 ** -decimals[unit];
        const flagAt = (shown: number) =>
          judge({ expectedKg: figures.expectedKg, netKg: shown * MASS_UNIT_KG[unit], netStdKg: 0, limit }).flag;
        const [low, high] = [Number(words.low.replaceAll(',', '')), Number(words.high.replaceAll(',', ''))];
        expect(low).toBeLessThanOrEqual(high);
        expect(flagAt(high)).not.toContain('drifting');
        expect(flagAt(low)).not.toContain('drifting');
        expect(flagAt(high + 1.001 * step)).toBe('drifting heavy');
        if (low > step) expect(flagAt(low - 1.001 * step)).toBe('drifting light');
      },
    ),
    {
      examples: [
        [10, 0.08, 'kg'],
        [2.5, 0.06, 'kg'],
      ],
    },
  );
});
