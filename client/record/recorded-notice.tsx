/** What an entry that was just recorded did, for the screen it was recorded on. */

import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { scaleKey } from '#shared/weighing/scales.ts';
import { say } from '#shared/words/say.ts';
import { useScales } from '../door/queries.ts';
import { plusMinus, shownIn } from '../pieces/units.ts';
import { CheckResult, checkOf } from '../setup/check-result.tsx';
import { rich } from '../words/rich.ts';

export function RecordedNotice(props: { readonly aircraft: AircraftReport; readonly recorded: RecordedReport }) {
  const { aircraft, recorded } = props;
  const shown = shownIn(aircraft);
  const scales = useScales(aircraft.id).data ?? [];
  const check = checkOf(recorded.entry);
  if (check !== undefined) {
    const { scale } = check.statement;
    return (
      <CheckResult check={check} scale={scales.find((one) => scaleKey(one.scale) === scaleKey(scale))} shown={shown} />
    );
  }
  const { massWithStd, units } = shown;
  const { headline } = recorded;
  return (
    <p className="notice good">
      {rich`${recorded.replayed ? say`Was recorded already: ` : say`Recorded: `}entry ${recorded.entry.seq}. Predicted empty weight ${plusMinus(massWithStd(headline.predictedKg, headline.predictedStdKg), units.mass)}.`}
    </p>
  );
}
