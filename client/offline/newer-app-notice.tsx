/** Says that this page is older than the server, and lets the person choose when to load the new one. */
import type { LineState } from '../door/live.ts';
import { Button } from '../pieces/controls.tsx';
import { NEWER_APP } from '../words/offline.ts';
import { useNewerApp } from './newer-app.ts';

export function NewerAppNotice({ line }: { readonly line: LineState }) {
  if (!useNewerApp(line)) return null;
  return (
    <div className="line-state row no-print" role="status">
      <span>
        {NEWER_APP.said} {NEWER_APP.kept}
      </span>
      <Button onPress={() => location.reload()}>{NEWER_APP.take}</Button>
    </div>
  );
}
