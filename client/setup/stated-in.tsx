/** In which entry something of the set-up stands, whether it was corrected and by which, and the way to put it right. */

import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { EntryLink } from '../pieces/entry-link.tsx';
import { CorrectButton } from '../record/correct-button.tsx';
import { rich } from '../words/rich.ts';

export function StatedIn(props: {
  readonly aircraft: AircraftReport;
  readonly of: {
    readonly seq: number;
    /** The last of those that corrected it, or itself. */
    readonly latestSeq: number;
  };
  /** Undefined for whoever may not. */
  readonly onCorrected: ((recorded: RecordedReport) => void) | undefined;
}) {
  const { aircraft, onCorrected } = props;
  const { seq, latestSeq } = props.of;
  return (
    <>
      <EntryLink aircraftId={aircraft.id} seq={seq} />
      {latestSeq === seq ? null : rich`, corrected by ${<EntryLink aircraftId={aircraft.id} seq={latestSeq} />}`}
      {onCorrected === undefined ? null : (
        <CorrectButton aircraft={aircraft} seq={latestSeq} onRecorded={onCorrected} />
      )}
    </>
  );
}
