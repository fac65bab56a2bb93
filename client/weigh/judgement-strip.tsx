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
}: {
  readonly preview: Preview;
  readonly aircraft: AircraftReport;
}) {
  const judgement = preview.data?.judgement;
  if (judgement === undefined) return null;
  return (
    <div className="judgement-strip">
      <Button onPress={() => document.getElementById(JUDGEMENT_ID)?.scrollIntoView({ block: 'start' })}>
        <FlagWord flag={judgement.flag} />
        <strong>{shownIn(aircraft).massWithUnit(judgement.differenceKg, { sign: true })}</strong>
      </Button>
    </div>
  );
}
