/** An entry by its number: leads to its place in the ledger. */

import { Link } from 'wouter';
import { rich } from '../words/rich.ts';

export function EntryLink({ aircraftId, seq }: { readonly aircraftId: string; readonly seq: number }) {
  return (
    <Link href={`/aircraft/${aircraftId}/ledger?entry=${seq}`} className="unparted">
      {rich`entry ${seq}`}
    </Link>
  );
}
