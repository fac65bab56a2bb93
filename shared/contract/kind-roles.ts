/** Who may record each kind of entry (rule N4): the server refuses by it, and a screen offers by it. */
import type { Statement } from '#shared/ledger/entry.ts';
import type { Role } from './people.ts';

export const ROLE_OF_KIND: Readonly<Record<Statement['kind'], Role>> = {
  weighing: 'crew',
  'assembly weighing': 'crew',
  'check weight': 'crew',
  note: 'crew',
  'part added': 'engineer',
  'part removed': 'engineer',
  estimate: 'engineer',
  'arm measured': 'engineer',
  'piece withdrawn': 'engineer',
  'piece installed': 'engineer',
  disposition: 'engineer',
  material: 'engineer',
  'process cause': 'engineer',
  scale: 'lead',
  aircraft: 'lead',
  'aircraft weighing': 'lead',
  targets: 'lead',
  allowances: 'lead',
  loading: 'lead',
  'datum moved': 'lead',
};
