/** One part on the scale: its readings, its judgement, and the way into the ledger. */

import { useMemo, useRef, useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { PartReport, PreviewReport } from '#shared/contract/reports.ts';
import type { ScaleReading } from '#shared/weighing/scale-line.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { ProblemError, wordsOf } from '../door/ask.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button, Choice } from '../pieces/controls.tsx';
import { NotYetIn, partsBelow } from '../pieces/not-yet-in.tsx';
import { shownIn } from '../pieces/units.ts';
import type { NewQueued, Queued } from '../queue/queued.ts';
import { QueuedOfPart } from '../queue/queued-of-part.tsx';
import type { Stopped } from '../queue/send.ts';
import { useSave } from '../queue/use-save.ts';
import { CorrectButton } from '../record/correct-button.tsx';
import type { Form } from '../record/field-spec.ts';
import { CONDITIONS } from '../words/choices.ts';
import { rich } from '../words/rich.ts';
import { LINE_WORDS } from '../words/scale-lines.ts';
import { Doubts, type Ways } from './doubts.tsx';
import { likelyCondition, weighedOf } from './first-reading.ts';
import { keptFrom, rememberHabit, tareOf } from './habit.ts';
import { HandButton, useHand } from './hand.tsx';
import { JudgementPanel } from './judgement-panel.tsx';
import { JudgementStrip } from './judgement-strip.tsx';
import { KeptTare } from './kept-tare.tsx';
import { MoreFields } from './more-fields.tsx';
import { NumberPad } from './number-pad.tsx';
import { PieceChoice } from './piece-choice.tsx';
import { isAssembly, pressKey, type Reading, type ReadingField, wordsOfReading } from './reading.ts';
import { ReadingFields } from './reading-fields.tsx';
import { usePreview } from './use-preview.ts';
import { useReading } from './use-reading.ts';
import { useTypedAnywhere } from './use-typed-anywhere.ts';
import type { Undo } from './use-wedge.ts';

export function WeighPart(props: {
  readonly aircraft: AircraftReport;
  readonly part: PartReport;
  readonly parts: readonly PartReport[];
  /** The piece whose label was scanned. */
  readonly piece: number | undefined;
  readonly undo: Undo;
  readonly onSaved: (recorded: RecordedReport, preview: PreviewReport | undefined) => void;
  /** It waits on this device for the server. */
  readonly onKept: (one: NewQueued, why: Stopped | undefined) => void;
  /** The weighing that was not taken, and is put right here. */
  readonly again: Queued | undefined;
  readonly onLeave: () => void;
  readonly onOther: (part: PartReport) => void;
}) {
  const { aircraft, part, parts } = props;
  const typed = useReading({ aircraft, part, parts, begun: props.again?.reading, piece: props.piece });
  const mayCorrect = useMay('engineer');
  const { reading } = typed;
  props.undo.current = () => () => typed.change(reading);
  const [active, setActive] = useState<ReadingField>('gross');
  const [sureOf, setSureOf] = useState<string>();
  const hand = useHand();
  const likely = useMemo(() => likelyCondition(part, parts), [part, parts]);
  const below = useMemo(() => partsBelow(parts, part.number), [parts, part.number]);
  const fields = { gross: useRef<HTMLInputElement>(null), tare: useRef<HTMLInputElement>(null) };
  const words = wordsOfReading(part, reading, aircraft);
  const preview = usePreview(aircraft.id, words);

  const change = (changed: Partial<Reading>) => {
    // Why and what else is to be said change nothing of what is asked.
    if (Object.keys(changed).some((name) => name !== 'cause' && name !== 'remark')) setSureOf(undefined);
    save.reset();
    typed.change(changed);
  };
  const save = useSave<PreviewReport | undefined>({
    aircraft,
    part,
    again: props.again,
    onRecorded: (recorded, judged) => {
      rememberHabit(reading, weighedOf(part, aircraft));
      typed.forget();
      props.onSaved(recorded, judged);
    },
    onKept: (one, why) => {
      rememberHabit(reading, weighedOf(part, aircraft));
      typed.forget();
      props.onKept(one, why);
    },
  });
  const send = () => {
    if (words === undefined || save.isPending) return;
    const remark = reading.remark.trim() === '' ? {} : { remark: reading.remark };
    save.mutate({ id: typed.id, words: { ...words, ...remark }, reading, given: preview.data });
  };
  const doubts = preview.data?.doubts ?? [];
  const asked = JSON.stringify(doubts);
  const isSure = doubts.length === 0 || sureOf === asked;
  const isReady = words !== undefined && (preview.data !== undefined || preview.isUnjudged) && isSure;
  const onEnter = (field: ReadingField) => {
    if (field === 'gross') fields.tare.current?.focus();
    else if (isReady) send();
  };
  const tareFrom = keptFrom(reading, weighedOf(part, aircraft));
  // A fixture that was on this tablet's scale before brings its tare and takes it along, unless another was typed.
  const changeMore = (changed: Form) => {
    const more = { ...reading.more, ...changed };
    const isFree = reading.tare === '' || tareFrom !== undefined;
    const isOfFixture = tareFrom !== undefined && 'fixture' in tareFrom;
    const fixture = changed['fixture'];
    const tare = fixture === undefined ? undefined : (tareOf(fixture) ?? (isOfFixture ? '' : undefined));
    change({ more, ...(tare === undefined || !isFree ? {} : { tare }) });
  };
  const problemOf = (name: string) => placed(save.error, name) ?? placed(preview.error, name);
  const onKey = (key: string) => {
    // A kept tare is another text as a whole, or none: a figure behind its unit would make no sense.
    const text = active === 'tare' && tareFrom !== undefined ? '' : reading[active];
    change({ [active]: pressKey(text, key) });
    fields[active].current?.focus();
  };
  useTypedAnywhere(onKey);
  const ways: Ways = {
    onUnit: (unit) => change({ unit }),
    onNoTare: () => change({ tare: '' }),
    quantity: part.quantity,
    pieces: reading.pieces,
    onPieces: (pieces) => change({ pieces }),
    onWeighAs: (condition) => change({ condition }),
    onPart: (number) => {
      const other = parts.find((one) => one.number === number);
      if (other === undefined) return;
      typed.giveTo(other);
      props.onOther(other);
    },
    onDrop: () => {
      typed.forget();
      props.onLeave();
    },
    // What it did to the question is asked anew.
    correct: (seq) =>
      mayCorrect ? (
        <CorrectButton aircraft={aircraft} seq={seq} words={say`Correct entry ${seq}`} onRecorded={NOTHING} />
      ) : (
        <p>{rich`An engineer can correct entry ${seq}.`}</p>
      ),
  };
  return (
    <div className={`weigh-part keys-${hand.side}`}>
      <section className="stack weigh-what" aria-label={say`The part`}>
        <div className="weigh-head">
          <Button kind="quiet" onPress={props.onLeave}>{say`‹ Another part`}</Button>
          <div className="weigh-name">
            <h2>
              {part.number} <span className="part-name">{part.name}</span>
            </h2>
            <p className="soft">
              {part.group}, {term(part.process)}
              {estimateWords(part, aircraft)}
            </p>
            <LastWeighing aircraft={aircraft} part={part} />
          </div>
          <HandButton {...hand} />
        </div>
        <QueuedOfPart aircraft={aircraft} part={part} again={props.again} />
        {typed.isRestored && props.again === undefined ? (
          <div className="notice row">
            <span>
              {rich`Typed before and not saved yet.${
                props.piece === undefined || reading.pieces.includes(props.piece)
                  ? ''
                  : say` It is of piece ${reading.pieces.join(', ')}, and the label is of piece ${props.piece}.`
              }`}
            </span>
            <Button onPress={typed.drop}>{say`Drop it`}</Button>
          </div>
        ) : null}
        {isAssembly(part) ? (
          <NotYetIn
            label={say`Not yet in it`}
            below={below}
            value={reading.notYetIn}
            onChange={(notYetIn) => change({ notYetIn })}
            problem={problemOf('not yet in')}
          />
        ) : (
          <PieceChoice
            part={part}
            pieces={reading.pieces}
            isOffered={typed.offered === reading.pieces}
            onChange={(pieces) => change({ pieces })}
          />
        )}
        <Choice
          label={say`Weighed as`}
          options={CONDITIONS}
          value={reading.condition}
          onChange={(condition) => change({ condition })}
        />
        <div className="small soft">
          {likely === undefined || likely.of === part ? null : (
            <p className={likely.condition === reading.condition ? '' : 'not-now'}>
              {say`Kept from ${likely.of.number}, the last of this process: ${term(likely.condition)}.`}
            </p>
          )}
          <p>{say`As released: flash still on. Trimmed: flash off. Fitted: inserts and fittings in. Finished: coats on.`}</p>
        </div>
        <MoreFields aircraft={aircraft} part={part} form={reading.more} set={changeMore} problemOf={problemOf} />
      </section>
      <section className="stack weigh-keys" aria-label={say`The scale`}>
        <ReadingFields
          fields={[
            { name: 'gross', label: say`Gross`, input: fields.gross },
            { name: 'tare', label: say`Tare (fixture)`, input: fields.tare },
          ]}
          values={reading}
          unit={reading.unit}
          active={active}
          first="gross"
          onActive={(field) => {
            setActive(field);
            if (field === 'tare' && tareFrom !== undefined) fields.tare.current?.select();
          }}
          onChange={(field, value) => change({ [field]: value })}
          onUnit={(unit) => change({ unit })}
          onEnter={onEnter}
          doubtOf={(field, { load }) => doubtOfLoad(field, load, reading)}
        >
          <KeptTare tare={reading.tare} from={tareFrom} onNone={() => change({ tare: '' })} />
        </ReadingFields>
        <NumberPad onKey={onKey} />
      </section>
      <JudgementPanel
        aircraft={aircraft}
        part={part}
        preview={preview}
        missing={missingWords(part, reading)}
        question={<Doubts preview={preview.data} isSure={isSure} onSure={() => setSureOf(asked)} ways={ways} />}
        cause={reading.cause}
        onCause={(cause) => change({ cause })}
        remark={reading.remark}
        onRemark={(remark) => change({ remark })}
      />
      <div className="stack-tight weigh-save">
        <Button kind="main" isDisabled={!isReady || save.isPending} onPress={send}>
          {save.isPending ? say`Saving …` : say`Save the weighing`}
        </Button>
        {save.isError ? (
          <p className="notice bad" role="alert">
            {unsavedWords(save.error)}
          </p>
        ) : null}
      </div>
      <JudgementStrip preview={preview} aircraft={aircraft} isAsking={!isSure} />
    </div>
  );
}

const NOTHING = () => {};

/** What the scale said of it last, before anything is typed. */
function LastWeighing({ aircraft, part }: { readonly aircraft: AircraftReport; readonly part: PartReport }) {
  const last = part.lastWeighing;
  if (last === undefined) return null;
  const each = part.quantity === 1 ? '' : say` each`;
  return (
    <p className="soft">{rich`Last weighed ${shownIn(aircraft).massWithUnit(last.netKg)}${each}, ${term(last.condition)}, ${<span className="unparted">{dayWords(last.weighedOn)}</span>} (entry\u00a0${last.seq})`}</p>
  );
}

function estimateWords(part: PartReport, aircraft: AircraftReport): string {
  if (part.estimateKg === undefined) return '';
  return say`; estimate ${shownIn(aircraft).massWithUnit(part.estimateKg)}${part.quantity === 1 ? '' : say` each`}`;
}

/** The scale says what its figure is; a net beside a tare would have the tare off twice (rule W4). */
function doubtOfLoad(field: ReadingField, load: ScaleReading['load'], { tare }: Reading): string | undefined {
  if (field === 'tare') return load === 'gross' ? LINE_WORDS.other('gross') : undefined;
  if (load === 'tare') return LINE_WORDS.other('tare');
  return load === 'net' && tare.trim() !== '' ? LINE_WORDS.netBesideTare : undefined;
}

function placed(error: unknown, name: string): string | undefined {
  return error instanceof ProblemError ? error.of(`/${name}`) : undefined;
}

function unsavedWords(error: unknown): string {
  const status = error instanceof ProblemError ? error.report.status : undefined;
  if (status === 401) return say`Not saved yet: the session had ended. Everything is still here; save it again.`;
  if (status === 0) return say`Not saved yet: the server cannot be reached. Everything is still here; save it again.`;
  return wordsOf(error);
}

function missingWords(part: PartReport, reading: Reading): string | undefined {
  if (reading.condition === undefined)
    return say`Say what has been done to ${isAssembly(part) ? say`the assembly` : say`the piece`}: ${CONDITIONS.map(({ words }) => words).join(', ')}.`;
  if (reading.gross.trim() === '') return say`Type what the scale shows.`;
  if (!isAssembly(part) && reading.pieces.length === 0) return say`Choose the piece on the scale.`;
  return undefined;
}
