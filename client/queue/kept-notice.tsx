/** What was saved a moment ago and waits on this device. */
import { say } from '#shared/words/say.ts';
import { KEPT } from '../words/offline.ts';
import type { NewQueued } from './queued.ts';
import type { Stopped } from './send.ts';
import { shownOf } from './words-of.ts';

export function KeptNotice({ one, why }: { readonly one: NewQueued; readonly why: Stopped | undefined }) {
  return (
    <div className="notice warn stack-tight">
      <p>
        <strong>{say`Kept on this device:`}</strong> {one.partNumber}, {shownOf(one)}.
      </p>
      <p>{KEPT[why ?? 'otherwise']}</p>
    </div>
  );
}
