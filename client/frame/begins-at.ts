/** Whether somebody who takes a browser over from another may go on at the page that it shows, or begins at their own (rule N15). */
import type { Role } from '#shared/contract/people.ts';

/** What the crew has to do with; the others are for who estimates and decides. */
const OF_CREW = ['weigh', 'ledger', 'where', 'aircraft-weighing', 'brief'];

/** `path` as in the address: `/aircraft/…/ledger`. */
export function isPageOf(role: Role, path: string): boolean {
  const [, first = '', , screen = ''] = path.split('/');
  if (first === 'people' || first === 'new') return role === 'lead';
  if (first !== 'aircraft') return true;
  return role === 'crew' ? OF_CREW.includes(screen) : role !== 'viewer' || screen !== 'weigh';
}
