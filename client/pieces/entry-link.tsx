/** An entry by its number: leads to its place in the ledger. */
import { Link } from 'wouter';

export function EntryLink({ aircraftId, seq }: { readonly aircraftId: string; readonly seq: number }) {
  return (
    <Link href={`/aircraft/${aircraftId}/ledger?entry=${seq}`} className="unparted">
      entry {seq}
    </Link>
  );
}
