/** Says of a correction that its stations count from the datum of the entry it corrects (rule L2), where the datum has moved since. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { Statement } from '#shared/ledger/entry.ts';
import { say } from '#shared/words/say.ts';
import { useSetUp } from '../setup/questions.ts';

const WITH_STATIONS: ReadonlySet<Statement['kind']> = new Set([
  'aircraft',
  'targets',
  'estimate',
  'arm measured',
  'assembly weighing',
  'loading',
]);

export function DatumThen(props: {
  readonly aircraft: AircraftReport;
  readonly kind: Statement['kind'];
  /** The number of the entry that is corrected. */
  readonly seq: number;
}) {
  const { data } = useSetUp(props.aircraft.id);
  const hasMoved = data?.moves.some(({ seq }) => seq > props.seq) ?? false;
  if (!hasMoved || !WITH_STATIONS.has(props.kind)) return null;
  return (
    <p className="notice">{say`The datum has been moved since this entry. The stations below are counted from the datum of that time, and the move carries them on.`}</p>
  );
}
