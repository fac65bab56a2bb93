/** The two changes from the table that ask for a reason. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import { ledgerMoved } from '../door/queries.ts';
import type { Shown } from '../pieces/units.ts';
import type { Column } from './columns.tsx';
import { correctPart, send } from './record.ts';
import { WithReason } from './with-reason.tsx';

export type Correcting = { readonly part: PartReport; readonly column: Column; readonly text: string };

export function CorrectAsk(props: {
  readonly aircraft: AircraftReport;
  readonly shown: Shown;
  readonly correcting: Correcting;
  readonly onRecorded: (seq: number) => void;
  readonly onClose: () => void;
}) {
  const { aircraft } = props;
  const { part, column, text } = props.correcting;
  const { edit } = column;
  if (edit?.records !== 'part added') return null;
  const before = edit.text(part, props.shown) || 'nothing';
  return (
    <WithReason
      title={say`${column.heading} of ${part.number}`}
      words={say`From ${before} to ${text.trim() || say`nothing`}: a correction of the entry that added the part.`}
      act={say`Record the correction`}
      onRecord={async (reason, id) => {
        props.onRecorded(await correctPart(edit.field, { aircraft, part, text, id }, reason));
        ledgerMoved(aircraft.id);
      }}
      onClose={props.onClose}
    />
  );
}

export function RemoveAsk(props: {
  readonly aircraft: AircraftReport;
  readonly part: Pick<PartReport, 'number' | 'name' | 'childCount'>;
  readonly onRemoved?: () => void;
  readonly onClose: () => void;
}) {
  const { aircraft, part } = props;
  return (
    <WithReason
      title={say`Remove ${part.number}`}
      words={say`${part.number} ${part.name} stops counting. Its history stays in the ledger, and its number is free again.${part.childCount === 0 ? '' : say` What is in it stays and stands by itself.`}`}
      act={say`Remove the part`}
      onRecord={async (reason, id) => {
        await send(aircraft, { kind: 'part removed', id, part: part.number, reason });
        ledgerMoved(aircraft.id);
        props.onRemoved?.();
      }}
      onClose={props.onClose}
    />
  );
}
