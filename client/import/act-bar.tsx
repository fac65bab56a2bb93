/** What will be recorded, what is left unused, the one button that records it, and how far it is. It stays in sight below the rows. */

import { useEffect, useRef, useState } from 'react';
import type { ListPreview } from '#shared/contract/import.ts';
import { counted, LOCALE, say } from '#shared/words/say.ts';
import { wordsOf } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';
import { Button } from '../pieces/controls.tsx';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { record, type Told } from './record.ts';
import type { Look, Sent } from './use-look.ts';
import { kindsInWords } from './words.ts';

export function ActBar(props: {
  readonly aircraftId: string;
  readonly sent: Sent | undefined;
  /** The columns that are not used, in words. */
  readonly unused: string;
  readonly shown: Shown;
  readonly look: Look;
  /** Undefined while the columns are not settled. */
  readonly problemCount: number | undefined;
  /** Lines with a doubt that nobody has confirmed. */
  readonly doubtCount: number;
  readonly onDone: (done: Told) => void;
}) {
  const { look, sent, aircraftId } = props;
  const [progress, setProgress] = useState<{ recorded: number; total: number }>();
  const [failure, setFailure] = useState<string>();
  const stop = useRef<AbortController>(undefined);
  // Whoever leaves the page lets go.
  useEffect(() => () => stop.current?.abort(), []);
  const { preview } = look;
  const mayRecord =
    sent !== undefined &&
    preview !== undefined &&
    look.isCurrent &&
    look.error === undefined &&
    props.problemCount === 0 &&
    props.doubtCount === 0;
  const act = async () => {
    if (!mayRecord || progress !== undefined) return;
    setFailure(undefined);
    setProgress({ recorded: 0, total: preview.entryCount });
    stop.current = new AbortController();
    const { signal } = stop.current;
    try {
      const told = (recorded: number, total: number) => setProgress({ recorded, total });
      const done = await record(aircraftId, { ...sent, digest: preview.digest }, told, signal);
      ledgerMoved(aircraftId);
      const { allowances = [], drifts = [], driftCount = 0 } = preview.lists[sent.kind] ?? {};
      props.onDone({ ...done, allowances, drifts, driftCount });
    } catch (error) {
      setFailure(signal.aborted ? say`Cancelled: nothing is recorded.` : wordsOf(error));
    } finally {
      setProgress(undefined);
    }
  };
  return (
    <section className="act-bar" aria-label={say`Recording`}>
      {progress === undefined ? (
        <div className="act-words">
          <p>{summary(props)}</p>
          {props.unused === '' ? null : <p className="act-unused">{rich`△ Not used: ${props.unused}.`}</p>}
        </div>
      ) : (
        <p className="act-words" role="status">
          <progress aria-label={say`Recorded`} value={progress.recorded} max={Math.max(1, progress.total)} />{' '}
          {progress.recorded === 0
            ? say`Reading it once more …`
            : say`${progress.recorded.toLocaleString(LOCALE)} of ${counted(progress.total, 'entry', 'entries')}`}
        </p>
      )}
      {failure === undefined ? null : (
        <p className="notice bad" role="alert">
          {failure}
        </p>
      )}
      {progress === undefined ? (
        <Button kind="main" isDisabled={!mayRecord} onPress={() => void act()}>
          {preview !== undefined && mayRecord && preview.entryCount > 0
            ? say`Record ${counted(preview.entryCount, 'entry', 'entries')}`
            : say`Record`}
        </Button>
      ) : (
        <Button onPress={() => stop.current?.abort()}>{say`Cancel`}</Button>
      )}
    </section>
  );
}

function summary({ look: { preview }, sent, shown, problemCount, doubtCount }: Parameters<typeof ActBar>[0]): string {
  if (problemCount === undefined) return say`Nothing is recorded until every needed column is known.`;
  if (preview === undefined || sent === undefined) return '';
  if (problemCount > 0)
    return say`Nothing is recorded until ${problemCount === 1 ? say`the problem is` : say`all ${problemCount.toLocaleString(LOCALE)} problems are`} gone.`;
  if (doubtCount > 0)
    return say`Nothing is recorded until ${doubtCount === 1 ? say`the line in doubt is` : say`all ${doubtCount.toLocaleString(LOCALE)} lines in doubt are`} confirmed or put right.`;
  const known = preview.lists[sent.kind]?.knownRows ?? 0;
  const old = known === 0 ? '' : say` ${counted(known, 'row is', 'rows are')} in the ledger already.`;
  if (preview.entryCount === 0) return say`Nothing new in this list.${old}`;
  return say`To be recorded: ${kindsInWords(preview.kinds)}.${sent.kind === 'parts' ? listedWords(preview.lists.parts, shown) : ''}${old}`;
}

/** What a shop holds against the total of its own sheet. */
function listedWords(list: ListPreview | undefined, { massWithUnit }: Shown): string {
  if (list === undefined || list.listed.massKg === 0) return '';
  return say` The list comes to ${counted(list.listed.pieceCount, 'piece', 'pieces')}, ${massWithUnit(list.listed.massKg)} together, each estimate being of one piece.`;
}
