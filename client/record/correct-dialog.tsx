/**
 * Puts an entry of any kind right (rule L2): the old one stays, and the new one says what it should have said, and why. Of a correction
 * it is the correction that is put right.
 */

import { useQuery } from '@tanstack/react-query';
import { useRef, useState } from 'react';
import { Link } from 'wouter';
import { type AircraftReport, PartsReport, type RecordedReport } from '#shared/contract/aircraft.ts';
import type { EntryReport, PartReport } from '#shared/contract/reports.ts';
import type { Statement } from '#shared/ledger/entry.ts';
import { numberKey } from '#shared/part/from-words.ts';
import type { MassUnit } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { ask, wordsOf as wordsOfError } from '../door/ask.ts';
import { useLedger, useParts } from '../door/queries.ts';
import { Choice, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { partsBelow } from '../pieces/not-yet-in.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { inUnit } from '../pieces/typed-units.ts';
import { shownIn } from '../pieces/units.ts';
import { MarginWords } from '../setup/margin-words.tsx';
import { Doubts } from '../weigh/doubts.tsx';
import { Effects, Judged } from '../weigh/judgement-panel.tsx';
import { type Preview, usePreview } from '../weigh/use-preview.ts';
import { rich } from '../words/rich.ts';
import '../weigh/weigh.css';
import { statementInWords } from '#shared/words/statement-in-words.ts';
import { DatumThen } from './datum-then.tsx';
import { useDraft } from './draft.ts';
import { EntryForm } from './entry-form.tsx';
import { EntrySaid } from './entry-said.tsx';
import type { Form } from './field-spec.ts';
import { wordsOfForm } from './form-words.ts';
import { KIND_SPECS } from './kinds.ts';
import { statementOf } from './standing.ts';
import './record.css';

const WAYS = [
  { value: 'replace', words: say`It should say something else` },
  { value: 'strike', words: say`It should never have been made` },
] as const;

/** Beside the fields of the entry, some of which have a reason of their own. */
const HOW = 'what is wrong';
const WHY = 'reason for the correction';

type Props = {
  readonly aircraft: AircraftReport;
  readonly row: EntryReport;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
};

type Said = { readonly statement: Statement; readonly words: Form };

export function CorrectDialog(props: Props) {
  const { aircraft, row } = props;
  const said = useQuery({
    queryKey: ['said', aircraft.id, row.seq],
    queryFn: () => whatItSaid(aircraft.id, row),
    staleTime: Number.POSITIVE_INFINITY,
  });
  return (
    <Dialog title={say`Correct entry ${row.seq}`} isOpen isForm isWide onClose={props.onClose}>
      {said.isPending ? <Waiting what={say`the entry`} /> : null}
      {said.isError ? <Failed error={said.error} again={() => void said.refetch()} /> : null}
      {said.data === undefined ? null : <CorrectForm {...props} said={said.data} />}
    </Dialog>
  );
}

function CorrectForm({ aircraft, row, said, onRecorded, onClose }: Props & { readonly said: Said }) {
  const draft = useDraft(`${aircraft.id} correct ${row.seq}`, () => said.words);
  const { kind } = said.statement;
  // Limits and weighings of the aircraft are stated as a whole, where they are laid out.
  const way = kind === 'loading' || kind === 'aircraft weighing' || draft.form[HOW] === 'strike' ? 'strike' : 'replace';
  const reason = draft.form[WHY] ?? '';
  const isJudged = way === 'replace' && (kind === 'weighing' || kind === 'assembly weighing');
  const replacement = {
    ...wordsOfForm(draft.form, KIND_SPECS[kind].fields, aircraft),
    happenedOn: draft.form['happenedOn'],
  };
  const asked = isJudged ? { kind: 'correction', entry: row.seq, replacement } : undefined;
  const preview = usePreview(aircraft.id, asked);
  const [sureOf, setSureOf] = useState<string>();
  const isSure = sureOf === JSON.stringify(asked);
  const judgement = useRef<HTMLDivElement>(null);
  const headline = useLedger(aircraft.id).data?.headline;
  return (
    <EntryForm
      aircraft={aircraft}
      kind={said.statement.kind}
      draft={draft}
      under="/replacement"
      standing={said.statement.kind === 'estimate' ? said.statement : undefined}
      isStruck={way === 'strike'}
      predictedKg={kind === 'targets' ? headline?.predictedKg : undefined}
      body={(words) => ({
        id: draft.id,
        kind: 'correction',
        entry: row.seq,
        ...(reason.trim() === '' ? {} : { reason }),
        replacement: way === 'strike' ? null : { ...words, happenedOn: draft.form['happenedOn'] },
      })}
      before={
        <>
          <EntrySaid row={row} aircraft={aircraft} />
          <p className="soft">
            {way === 'strike'
              ? say`The entry stays in the ledger; a new one says that it should never have been made.`
              : say`The entry stays in the ledger; a new one says what it should have said.`}
          </p>
          {way === 'strike' ? null : <DatumThen aircraft={aircraft} kind={kind} seq={row.correctsSeq ?? row.seq} />}
          {kind === 'aircraft weighing' ? (
            <p className="notice">{rich`A weighing with another figure in it is put right on ${<Link href={`/aircraft/${aircraft.id}/aircraft-weighing`}>{say`Aircraft weighing`}</Link>}, where all of it is laid out. Here it can be struck out.`}</p>
          ) : kind === 'loading' ? (
            <p className="notice">{rich`Limits that should say something else are ${<Link href={`/aircraft/${aircraft.id}/loading?correct=${row.seq}`}>{say`laid out on Loading as they were`}</Link>}, and put right there. Here they can be struck out: then those before them hold.`}</p>
          ) : (
            <Choice
              label={say`What is wrong`}
              options={WAYS}
              value={way}
              onChange={(next) => draft.set({ [HOW]: next })}
            />
          )}
        </>
      }
      doubt={{
        isWaiting: preview.isWaiting,
        isOpen: (preview.data?.doubts.length ?? 0) > 0 && !isSure,
        look: () => judgement.current?.querySelector('button')?.focus(),
      }}
      after={(problemAt) => (
        <>
          {way === 'replace' && kind === 'targets' && headline !== undefined ? (
            <MarginWords form={draft.form} headline={headline} shown={shownIn(aircraft)} />
          ) : null}
          {isJudged ? (
            <div ref={judgement}>
              <ReplacementJudged
                aircraft={aircraft}
                number={draft.form['part'] ?? ''}
                preview={preview}
                isSure={isSure}
                onSure={() => setSureOf(JSON.stringify(asked))}
                onUnit={(unit) => draft.set(onDisplay(draft.form, unit))}
              />
            </div>
          ) : null}
          <Field
            label={say`Reason for the correction`}
            value={reason}
            onChange={(next) => draft.set({ [WHY]: next })}
            hint={say`Stands beside the correction for good.`}
            problem={problemAt('/reason')}
          />
        </>
      )}
      main={way === 'strike' ? say`Strike the entry out` : say`Record the correction`}
      onRecorded={onRecorded}
      onClose={onClose}
    />
  );
}

/** The replacement judged as a weighing is before it is saved (rule W4). */
function ReplacementJudged(props: {
  readonly aircraft: AircraftReport;
  readonly number: string;
  readonly preview: Preview;
  readonly isSure: boolean;
  readonly onSure: () => void;
  readonly onUnit: (unit: MassUnit) => void;
}) {
  const { aircraft, preview } = props;
  const parts = useParts(aircraft.id).data?.parts;
  const part = parts?.find((one) => numberKey(one.number) === numberKey(props.number));
  const shown = shownIn(aircraft);
  return (
    <section className="stack" aria-label={say`Judgement`}>
      <div aria-live="polite" className="stack">
        {preview.error === undefined ? null : (
          <p className="notice">{rich`Not judged as it stands. ${wordsOfError(preview.error)}`}</p>
        )}
        {preview.data === undefined || part === undefined ? null : (
          <>
            <p className="soft">{say`With the correction, in place of what the entry says:`}</p>
            <Judged preview={preview.data} part={part} shown={shown} />
            <Effects preview={preview.data} shown={shown} />
            <p className="soft">{rich`Projected installed: ${shown.massWithUnit(preview.data.projectedKg)}.`}</p>
          </>
        )}
      </div>
      <Doubts preview={preview.data} isSure={props.isSure} onSure={props.onSure} onUnit={props.onUnit} />
    </section>
  );
}

/** The same readings in the unit that was on the display. */
function onDisplay({ gross = '', tare = '' }: Form, unit: MassUnit): Form {
  const each = (text: string) =>
    text
      .split('/')
      .map((reading) => inUnit(reading.trim(), unit))
      .join(' / ');
  return { gross: each(gross), ...(tare.trim() === '' ? {} : { tare: each(tare) }) };
}

async function whatItSaid(aircraftId: string, row: EntryReport): Promise<Said> {
  const [said, now, then] = await Promise.all([
    statementOf(aircraftId, row),
    partsAt(aircraftId, undefined),
    partsAt(aircraftId, row.seq),
  ]);
  if (said === undefined) throw new Error('an entry states something');
  const { statement, happenedOn } = said;
  const parts = [...now, ...then];
  const numbers = new Map(parts.map((part) => [part.partId, part.number]));
  return {
    statement,
    words: {
      ...statementInWords(statement, row.part ?? '', numbers),
      happenedOn,
      ...(statement.kind === 'assembly weighing'
        ? { 'not yet in': notYetIn(statement, row.part ?? '', [now, then]) }
        : {}),
    },
  };
}

async function partsAt(aircraftId: string, seq: number | undefined): Promise<readonly PartReport[]> {
  const at = seq === undefined ? '' : `?asKnownAt=${seq}`;
  return (await ask(`/api/aircraft/${aircraftId}/parts${at}`, { reply: PartsReport })).parts;
}

/**
 * What was not yet in it, from what was: of the parts below the assembly now, and of those that were there then and have been removed
 * since.
 */
function notYetIn(
  { members }: Extract<Statement, { kind: 'assembly weighing' }>,
  assembly: string,
  lists: readonly (readonly PartReport[])[],
): string {
  const below = new Map(
    lists.flatMap((parts) => partsBelow(parts, assembly)).map(({ part }) => [part.partId, part] as const),
  );
  const inIt = new Map(members.map(({ partId, pieces }) => [partId, pieces]));
  return [...below.values()]
    .flatMap((part) => {
      if (!inIt.has(part.partId)) return [part.number];
      const pieces = inIt.get(part.partId);
      if (pieces === undefined) return [];
      const all = Array.from({ length: part.quantity }, (_, at) => at + 1);
      return [say`${part.number} piece ${all.filter((piece) => !pieces.includes(piece)).join(', ')}`];
    })
    .join('; ');
}
