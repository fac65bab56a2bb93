/** What was saved a moment ago: the figure, what it was judged, its place in the ledger, and the way to put it right. */

import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { PartReport, PreviewReport } from '#shared/contract/reports.ts';
import { pieceNetKg } from '#shared/weighing/net.ts';
import { say, term } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { AddPhoto } from '../photo/add-photo.tsx';
import { EntryLink } from '../pieces/entry-link.tsx';
import { FlagWord } from '../pieces/flag-word.tsx';
import { shownIn } from '../pieces/units.ts';
import { CorrectButton } from '../record/correct-button.tsx';
import { rich } from '../words/rich.ts';

export function SavedNotice(props: {
  readonly aircraft: AircraftReport;
  readonly part: PartReport;
  readonly recorded: RecordedReport;
  readonly preview: PreviewReport | undefined;
  readonly onCorrected: (recorded: RecordedReport) => void;
}) {
  const { aircraft, part, preview } = props;
  const { entry, headline } = props.recorded;
  const { massWithUnit } = shownIn(aircraft);
  const mayCorrect = useMay('engineer');
  const each = entry.entry.kind === 'weighing' && entry.entry.pieces.length > 1 ? say` each` : '';
  const doesCount = preview?.doubts.some(({ slip }) => slip === 'does not count') !== true;
  return (
    <div className="notice good saved-notice">
      <p>{rich`Saved: ${savedWords(part, entry.entry)} is ${<EntryLink aircraftId={aircraft.id} seq={entry.seq} />}. ${netWords(entry.entry, (massKg) => `${massWithUnit(massKg)}${each}`)}${preview === undefined ? '' : say` Projected installed ${massWithUnit(preview.projectedKg)}${each}.`} Predicted empty weight ${massWithUnit(headline.predictedKg)}.`}</p>
      {preview?.judgement === undefined ? null : (
        <p>
          <FlagWord flag={preview.judgement.flag} /> {massWithUnit(preview.judgement.differenceKg, { sign: true })}
        </p>
      )}
      {doesCount ? null : <p>{say`It does not count: a weighing in a later condition stands.`}</p>}
      {mayCorrect ? null : <p className="soft">{say`Is it wrong? An engineer corrects it.`}</p>}
      <div className="row saved-acts">
        {mayCorrect ? (
          <CorrectButton aircraft={aircraft} seq={entry.seq} words={say`Correct it`} onRecorded={props.onCorrected} />
        ) : null}
        <AddPhoto key={entry.entry.id} aircraftId={aircraft.id} partId={part.partId} entryId={entry.entry.id} />
      </div>
    </div>
  );
}

function netWords(entry: RecordedReport['entry']['entry'], massWords: (massKg: number) => string): string {
  if (entry.kind === 'assembly weighing') return say`Net ${massWords(entry.netKg)}, ${term(entry.condition)}.`;
  if (entry.kind !== 'weighing') return '';
  return say`Net ${massWords(pieceNetKg(entry))}, ${term(entry.condition)}.`;
}

/** Of a part of several pieces, which of them. */
function savedWords(part: PartReport, entry: RecordedReport['entry']['entry']): string {
  if (entry.kind !== 'weighing' || part.quantity === 1) return part.number;
  if (entry.pieces.length === part.quantity) return say`${part.number}, all ${part.quantity} pieces,`;
  const pieces = entry.pieces.join(', ');
  return entry.pieces.length === 1 ? say`${part.number} piece ${pieces}` : say`${part.number} pieces ${pieces}`;
}
