/** Under the bar of every screen: how many weighings wait on this device, and whose. */
import { Link } from 'wouter';
import { WAITING } from '../words/offline.ts';
import { isRefused } from './queued.ts';
import { useQueue } from './use-queue.ts';

export function QueueLine({ personId, isOnWeigh }: { readonly personId?: string; readonly isOnWeigh: boolean }) {
  const queue = useQueue();
  const [first] = queue;
  if (first === undefined) return null;
  const own = queue.filter((one) => one.person.id === personId);
  const refused = own.filter(isRefused).length;
  const waiting = own.length - refused;
  const others = Map.groupBy(
    queue.filter((one) => one.person.id !== personId),
    (one) => one.person.initials,
  );
  const words = [
    ...(waiting === 0 ? [] : [WAITING.own(waiting)]),
    ...(refused === 0 ? [] : [WAITING.refused(refused)]),
    ...[...others].map(([initials, theirs]) => WAITING.ofOthers(theirs.length, initials)),
  ];
  return (
    <p className="line-state no-print" role="status">
      {words.join(' ')}{' '}
      {personId === undefined || isOnWeigh ? null : (
        <Link href={`/aircraft/${(own[0] ?? first).aircraftId}/weigh`}>{WAITING.see}</Link>
      )}
    </p>
  );
}
