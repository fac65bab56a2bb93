/** The acts that close each kind of open item, the first thing to do first: an entry recorded on the spot, or the screen where it is done. */

import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import type { Role } from '#shared/contract/people.ts';
import { say } from '#shared/words/say.ts';
import type { Form } from '../record/field-spec.ts';
import type { Kind } from '../record/kinds.ts';
import { type OpenThing, OVERDUE } from './overdue.ts';

export type Act =
  | { readonly by: 'cause' | 'decision' | 'sum cause'; readonly words: string; readonly role: Role }
  | { readonly by: 'entry'; readonly kind: Kind; readonly form: Form; readonly words: string; readonly role: Role }
  | { readonly by: 'screen'; readonly href: string; readonly words: string; readonly role: Role };

export function actsOf(item: OpenThing, aircraftId: string): readonly [Act, ...Act[]] {
  const act = actOf(item, aircraftId);
  if (item.what !== 'CG out of range' && item.what !== 'group over target') return [act];
  const href = `/aircraft/${aircraftId}/what-if`;
  return [{ by: 'screen', href, words: say`Try what would help`, role: 'viewer' }, act];
}

function actOf(item: OpenThing, aircraftId: string): Act {
  const { what, subject } = item;
  const entry = (kind: Kind, form: Form, words: string): Act => {
    return { by: 'entry', kind, form, words, role: ROLE_OF_KIND[kind] };
  };
  switch (what) {
    case 'CG out of range':
    case 'group over target':
      return entry('targets', {}, say`Revise the targets`);
    case 'cause missing':
      return { by: 'cause', words: say`State the cause`, role: ROLE_OF_KIND.disposition };
    case 'decision missing':
    case 'assembly off its parts':
    case 'laminate dry or impossible':
      return { by: 'decision', words: say`Decide`, role: ROLE_OF_KIND.disposition };
    case 'calibration out of date':
      return entry('scale', { scale: subject }, say`New calibration`);
    case 'check weight failed':
      return entry('check weight', { scale: subject }, say`Record a check weight`);
    case 'estimate missing':
      return entry('estimate', { part: subject }, say`State the estimate`);
    case 'arm missing':
      return entry('arm measured', { part: subject }, say`State the station`);
    case 'scale in doubt':
      return {
        by: 'screen',
        href: `/aircraft/${aircraftId}/weigh?part=${encodeURIComponent(subject)}`,
        words: say`Weigh it again`,
        role: ROLE_OF_KIND.weighing,
      };
    case 'process changed':
      return entry('process cause', { process: subject }, say`State the cause`);
    case OVERDUE:
      return {
        by: 'screen',
        href: `/aircraft/${aircraftId}/what-if?change=${item.proposalId}`,
        words: say`Say how it stands`,
        role: 'engineer',
      };
    case 'many small ones':
      return { by: 'sum cause', words: say`State the cause`, role: ROLE_OF_KIND['process cause'] };
  }
}

/** Where the thing itself is looked at. */
export function placeOf(item: OpenThing, aircraftId: string): string {
  const at = `/aircraft/${aircraftId}`;
  if (item.what === OVERDUE) return `${at}/what-if?proposal=${item.proposalId}`;
  const { of, partId, subject } = item;
  switch (of) {
    case 'part':
      return partId === undefined ? `${at}/ledger?search=${encodeURIComponent(subject)}` : `${at}/parts/${partId}`;
    case 'group':
      return `${at}/set-up/groups`;
    case 'scale':
      return `${at}/set-up/scales`;
    case 'process':
      return `${at}/processes`;
    default:
      return item.what === 'many small ones' ? `${at}/ledger#what-drifts` : `${at}/ledger`;
  }
}
