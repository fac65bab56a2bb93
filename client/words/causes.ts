/** The name of a cause; what a correction changed stands under the cause of what it corrects, marked as one (rule L6). */

import type { EffectReport } from '#shared/contract/reports.ts';
import { say, term } from '#shared/words/say.ts';

export function causeName({ cause, isCorrection }: Pick<EffectReport, 'cause' | 'isCorrection'>): string {
  return isCorrection ? say`${term(cause)}, corrected` : term(cause);
}
