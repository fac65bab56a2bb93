/** Why a part is due for weighing, and why it is offered next. */
import type { DueReport, PartReport } from '#shared/contract/reports.ts';
import type { Next } from '#shared/weighing/next-part.ts';

export function dueWords(part: PartReport, { why, pieces }: DueReport): string {
  const which = part.quantity === 1 ? '' : `${pieces.length === 1 ? 'piece' : 'pieces'} ${pieces.join(', ')}: `;
  switch (why) {
    case 'scale in doubt':
      return `${which}weighed on a scale in doubt`;
    case 'reworked':
      return `${which}was to be reworked`;
    case 'made anew':
      return `${which}made anew, not weighed`;
    case 'pieces left':
      return `${which}not weighed, others are`;
    case 'flash on':
      return `${which}weighed with the flash on, not trimmed`;
    case 'all in it weighed':
      return 'all parts in it are weighed, the whole is not';
  }
}

export function nextWords({ part, piece, why }: Next<PartReport>): string {
  switch (why) {
    case 'next piece':
      return `its piece ${piece}`;
    case 'same assembly':
      return `also in ${part.assembly}`;
    case 'same process':
      return `also ${part.process}`;
    case 'due':
      return part.due[0] === undefined ? 'due' : `due: ${dueWords(part, part.due[0])}`;
  }
}
