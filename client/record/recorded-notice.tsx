/** What an entry that was just recorded did, for the screen it was recorded on. */
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { passesCheck } from '#shared/weighing/scales.ts';
import { useScales } from '../door/queries.ts';
import { plusMinus, shownIn } from '../pieces/units.ts';

export function RecordedNotice(props: { readonly aircraft: AircraftReport; readonly recorded: RecordedReport }) {
  const { aircraft, recorded } = props;
  const { entry } = recorded.entry;
  if (entry.kind === 'check weight') return <CheckResult {...props} check={entry} />;
  const { massWithStd, units } = shownIn(aircraft);
  const { headline } = recorded;
  return (
    <p className="notice good">
      {recorded.replayed ? 'Was recorded already: ' : 'Recorded: '}
      entry {recorded.entry.seq}. Predicted empty weight{' '}
      {plusMinus(massWithStd(headline.predictedKg, headline.predictedStdKg), units.mass)}.
    </p>
  );
}

/** Rule W12, plainly: passed or failed, and what is in doubt because of it. */
function CheckResult(props: {
  readonly aircraft: AircraftReport;
  readonly recorded: RecordedReport;
  readonly check: StatementOf<'check weight'>;
}) {
  const { check, recorded } = props;
  const { massWithUnit } = shownIn(props.aircraft);
  const scales = useScales(props.aircraft.id);
  const off = massWithUnit(check.shownKg - check.referenceKg, { sign: true });
  const limit = `±\u00a0${massWithUnit(check.limitKg)}`;
  if (passesCheck(check))
    return (
      <div className="notice good stack-tight">
        <p>
          <strong>● Passed.</strong> {check.scale} is off by {off}; it passes within {limit}. Entry {recorded.entry.seq}
          .
        </p>
      </div>
    );
  const { seq } = recorded.entry;
  const doubted = (scales.data ?? [])
    .flatMap(({ marked }) => marked)
    .filter(({ marks }) => marks.some((mark) => mark.mark === 'check weight failed' && mark.checkSeq === seq));
  return (
    <div className="notice bad stack-tight">
      <p>
        <strong>▲ Failed.</strong> {check.scale} is off by {off}; it passes within {limit}. Entry {seq}.
      </p>
      <p>
        {doubted.length === 0
          ? 'No weighing on it is in doubt yet; what is weighed on it from now on will be, until a check weight passes.'
          : `In doubt since the last one that passed: ${listOf(doubted)}. Weigh them again on a scale that passes, and use another scale until this one does.`}
      </p>
    </div>
  );
}

function listOf(doubted: readonly { readonly seq: number; readonly part?: string | undefined }[]): string {
  const names = doubted.slice(0, 12).map(({ seq, part }) => `${part === undefined ? '' : `${part}, `}entry ${seq}`);
  return `${names.join('; ')}${doubted.length > 12 ? `; and ${doubted.length - 12} more` : ''}`;
}
