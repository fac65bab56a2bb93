/**
 * What a label says a piece should weigh, and between which figures it is in line (rule H1). They are those that a weighing in that condition is
 * judged by (rules E2, D1) while the estimate and the limits stand as they do.
 */
import type { PartReport } from '#shared/contract/reports.ts';
import { limitAtKg } from '#shared/drift/part-drift.ts';
import { expectedAtScaleKg } from '#shared/estimate/condition.ts';
import type { Condition, PartLimit } from '#shared/ledger/entry.ts';
import { showMass, showMassBetween } from '#shared/quantity/show.ts';
import type { MassUnit } from '#shared/quantity/units.ts';

type Estimated = Pick<PartReport, 'childCount' | 'estimateKg' | 'flashKg' | 'laterKg' | 'finishKg'>;

/** Of one piece, in kilograms. */
export type LabelFigures = { readonly expectedKg: number; readonly lowKg: number; readonly highKg: number };

/**
 * Undefined without an estimate, and of an assembly: it is judged against the parts that are in it on the day it is weighed. `lowKg` is never
 * below nothing.
 */
export function labelFigures(part: Estimated, condition: Condition, limit: PartLimit): LabelFigures | undefined {
  if (part.childCount > 0 || part.estimateKg === undefined) return undefined;
  const { flashKg = 0, laterKg = 0, finishKg } = part;
  const expectedKg = expectedAtScaleKg({ massKg: part.estimateKg, flashKg, laterKg, finishKg }, condition);
  const limitKg = limitAtKg(limit, expectedKg);
  return { expectedKg, lowKg: Math.max(0, expectedKg - limitKg), highKg: expectedKg + limitKg };
}

/** In the display unit, the ends moved inwards to the last digit shown, so that what the label allows the scale allows too. */
export function figuresInWords(
  figures: LabelFigures,
  unit: MassUnit,
): { readonly expected: string; readonly low: string; readonly high: string } {
  return { expected: showMass(figures.expectedKg, unit), ...showMassBetween(figures, unit) };
}
