/** On Weigh: what waits on this device, who made it and when, how it stands, and what can be done about it. */
import { useState } from 'react';
import { useLocation } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { ProblemError, wordsOf } from '../door/ask.ts';
import { useMay, usePerson } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { today } from '../words/days.ts';
import { DROP, QUEUE, STOPPED } from '../words/offline.ts';
import { changeInQueue, takeFromQueue } from './queue-store.ts';
import { isRefused, type Queued, standingOf } from './queued.ts';
import { sendNow, useQueue, useStopped } from './use-queue.ts';
import { shownOf, whenWords } from './words-of.ts';
import './queue.css';

export function QueueCard(props: { readonly aircraft: AircraftReport; readonly parts: readonly PartReport[] }) {
  const queue = useQueue();
  const stopped = useStopped();
  const person = usePerson();
  const [dropping, setDropping] = useState<Queued>();
  if (queue.length === 0) return null;
  const waits = queue.some((one) => one.person.id === person.id && !isRefused(one));
  return (
    <section className="card stack queue" aria-label={QUEUE.title}>
      <h2>{QUEUE.title}</h2>
      {waits ? (
        <div className="row">
          {stopped === undefined ? null : <p>{STOPPED[stopped]}</p>}
          <Button onPress={() => void sendNow(person.id)}>{QUEUE.sendAll}</Button>
        </div>
      ) : null}
      <ol className="queue-list">
        {queue.map((one) => (
          <QueueItem key={one.order} one={one} queue={queue} {...props} onDrop={() => setDropping(one)} />
        ))}
      </ol>
      <Dialog
        title={DROP.title(dropping?.partNumber ?? '')}
        isOpen={dropping !== undefined}
        onClose={() => setDropping(undefined)}
      >
        <p>
          {dropping === undefined ? '' : `${shownOf(dropping)}, ${dropping.person.initials}, ${whenWords(dropping)}.`}
        </p>
        <p>{DROP.words}</p>
        <div className="acts">
          <Button
            onPress={() => {
              if (dropping !== undefined) void takeFromQueue(dropping);
              setDropping(undefined);
            }}
          >
            {DROP.yes}
          </Button>
          <Button kind="main" onPress={() => setDropping(undefined)}>
            {DROP.no}
          </Button>
        </div>
      </Dialog>
    </section>
  );
}

function QueueItem(props: {
  readonly one: Queued;
  readonly queue: readonly Queued[];
  readonly aircraft: AircraftReport;
  readonly parts: readonly PartReport[];
  readonly onDrop: () => void;
}) {
  const { one, queue, aircraft } = props;
  const person = usePerson();
  const [, navigate] = useLocation();
  const isOwn = one.person.id === person.id;
  // Whoever keeps the list may clear what nobody can send any more.
  const mayDrop = useMay('engineer') || isOwn;
  const isHere = one.aircraftId === aircraft.id;
  const isGone = isHere && !props.parts.some((part) => part.partId === one.partId);
  const sendAgain = async (change: Partial<Pick<Queued, 'day' | 'weighedAt'>> = {}) => {
    await changeInQueue(one, { refused: undefined, ...change });
    await sendNow(person.id);
  };
  return (
    <li>
      <div className="queue-words">
        <p>
          <strong>{one.partNumber}</strong> {one.partName}
          {isHere ? '' : ` (${one.aircraftName})`}: {shownOf(one)}
        </p>
        <p className="soft small">
          {one.person.initials}, {one.person.name}, {QUEUE.weighed} {whenWords(one)}.{' '}
          {one.refused === undefined ? stateWords(one, queue, person.id) : null}
        </p>
      </div>
      {one.refused === undefined ? null : (
        <div className="notice bad stack-tight" role="alert">
          <p>
            <strong>{QUEUE.refused}</strong> {wordsOf(new ProblemError(one.refused))}
          </p>
          {isGone ? <p>{QUEUE.gone}</p> : null}
          {isOwn ? null : <p>{QUEUE.onlyOwn(one.person.initials)}</p>}
        </div>
      )}
      <div className="row">
        {one.refused === undefined || !isOwn ? null : (
          <>
            {isGone ? null : (
              <Button
                kind="main"
                onPress={() =>
                  navigate(
                    `/aircraft/${one.aircraftId}/weigh?${new URLSearchParams({ part: one.partNumber, again: one.id })}`,
                  )
                }
              >
                {QUEUE.putRight}
              </Button>
            )}
            <Button onPress={() => void sendAgain()}>{QUEUE.sendAgain}</Button>
            {isOfFuture(one) ? (
              <Button onPress={() => void sendAgain({ day: today(), weighedAt: new Date().toISOString() })}>
                {QUEUE.shopDay}
              </Button>
            ) : null}
          </>
        )}
        {mayDrop ? (
          <Button kind="quiet" onPress={props.onDrop} aria-label={`${QUEUE.drop}: ${one.partNumber}, ${shownOf(one)}`}>
            {QUEUE.drop}
          </Button>
        ) : null}
      </div>
    </li>
  );
}

function stateWords(one: Queued, queue: readonly Queued[], personId: string): string {
  const standing = standingOf(one, queue, personId);
  if (standing === 'of another person') return QUEUE.ofAnother(one.person.initials);
  if (standing === 'behind a refused one') return QUEUE.behind;
  return one.hasFailed ? QUEUE.failed : QUEUE.waiting;
}

/** This device's clock was ahead of the shop's when it was weighed. */
function isOfFuture({ refused }: Queued): boolean {
  return refused?.problems?.some(({ code }) => code === 'day-in-future') === true;
}
