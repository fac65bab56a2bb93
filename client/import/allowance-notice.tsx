/** That the shop's defaults added an allowance, and where they stand (rule E1). */

import { Link } from 'wouter';
import { say } from '#shared/words/say.ts';

export function AllowanceNotice({ words, aircraftId }: { readonly words: string; readonly aircraftId: string }) {
  return (
    <p className="notice">
      {words}{' '}
      <Link href={`/aircraft/${aircraftId}/set-up/allowances`}>{say`The defaults stand in Set-up, Allowances`}</Link>.
    </p>
  );
}
