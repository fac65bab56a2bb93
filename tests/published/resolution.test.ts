/**
 * Uncertainty of a reading from the resolution of the display.
 * Source: Guide to the Expression of Uncertainty in Measurement, JCGM 100:2008, F.2.2.1: an indication resolved to d has the standard
 * uncertainty d/sqrt(12), or 0.29 d. Read in a page that cites it.
 */
import { describe, expect, it } from 'vitest';
import { pieceNetStdKg } from '#shared/weighing/net.ts';
import { weighingOf } from '../shared/ledger/make-entries.ts';

describe('resolution', () => {
  it.each([1, 0.1, 0.005])('[U1] a reading resolved to %d has 0.29 of it', (stepKg) => {
    const stdKg = pieceNetStdKg(weighingOf(1, 40, { grossResolutionKg: stepKg, tareResolutionKg: 0 }));
    expect(Math.abs(stdKg / stepKg - 0.29)).toBeLessThanOrEqual(0.005); // read
    expect(stdKg).toBeCloseTo(stepKg / Math.sqrt(12), 15); // read
    expect(stdKg ** 2 * 12).toBeCloseTo(stepKg ** 2, 12); // derived
  });

  it('[U1] a net of gross and tare, both resolved to one, has the square root of a sixth', () => {
    const stdKg = pieceNetStdKg(weighingOf(1, 40, { grossResolutionKg: 1, tareResolutionKg: 1 }));
    expect(stdKg).toBeCloseTo(Math.sqrt(1 / 6), 12); // derived
  });
});
