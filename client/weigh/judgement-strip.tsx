/** The gist of the judgement at the lower edge of a phone, where the panel itself lies below the keys. */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { Button } from '../pieces/controls.tsx';
import { FlagWord } from '../pieces/flag-word.tsx';
import { shownIn } from '../pieces/units.ts';
import { JUDGEMENT_ID } from './judgement-panel.tsx';
import type { Preview } from './use-preview.ts';

export function JudgementStrip({
  preview,
  aircraft,
  isAsking,
}: {
  readonly preview: Preview;
  readonly aircraft: AircraftReport;
  /** Something looks like a slip and has no answer yet. */
  readonly isAsking: boolean;
}) {
  const judgement = preview.data?.judgement;
  if (judgement === undefined) return null;
  return (
    <div className="judgement-strip">
      <Button onPress={() => document.getElementById(JUDGEMENT_ID)?.scrollIntoView({ block: 'start' })}>
        {isAsking ? <strong>Sure?</strong> : <FlagWord flag={judgement.flag} />}
        <strong>{shownIn(aircraft).massWithUnit(judgement.differenceKg, { sign: true })}</strong>
      </Button>
    </div>
  );
}
