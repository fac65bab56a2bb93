/**
 * The gist of the judgement at the lower edge of a phone, where the panel itself lies below the keys. It is there from the beginning, so that it
 * comes under no finger.
 */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
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
  return (
    <div className="judgement-strip">
      <Button onPress={() => document.getElementById(JUDGEMENT_ID)?.scrollIntoView({ block: 'start' })}>
        {isAsking ? (
          <strong>{say`Sure?`}</strong>
        ) : judgement === undefined ? (
          say`Judgement`
        ) : (
          <FlagWord flag={judgement.flag} />
        )}
        {judgement === undefined ? null : (
          <strong>{shownIn(aircraft).massWithUnit(judgement.differenceKg, { sign: true })}</strong>
        )}
      </Button>
    </div>
  );
}
