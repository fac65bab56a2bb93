/** Why a part is due for weighing, and why it is offered next. */

import type { DueReport, PartReport } from '#shared/contract/reports.ts';
import type { Next } from '#shared/weighing/next-part.ts';
import { say, term } from '#shared/words/say.ts';

export function dueWords(part: PartReport, { why, pieces }: DueReport): string {
  const which = part.quantity === 1 ? '' : `${pieces.length === 1 ? say`piece` : say`pieces`} ${pieces.join(', ')}: `;
  switch (why) {
    case 'scale in doubt':
      return say`${which}weighed on a scale in doubt`;
    case 'reworked':
      return say`${which}was to be reworked`;
    case 'made anew':
      return say`${which}made anew, not weighed`;
    case 'pieces left':
      return say`${which}not weighed, others are`;
    case 'flash on':
      return say`${which}weighed with the flash on, not trimmed`;
    case 'all in it weighed':
      return say`all parts in it are weighed, the whole is not`;
  }
}

export function nextWords({ part, piece, why }: Next<PartReport>): string {
  switch (why) {
    case 'next piece':
      return say`its piece ${piece}`;
    case 'same assembly':
      return say`also in ${part.assembly}`;
    case 'same process':
      return say`also ${term(part.process)}`;
    case 'due':
      return part.due[0] === undefined ? say`due` : say`due: ${dueWords(part, part.due[0])}`;
  }
}
