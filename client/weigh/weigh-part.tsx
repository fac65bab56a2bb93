/** One part on the scale: its readings, its judgement, and the way into the ledger. */
import { useMutation } from '@tanstack/react-query';
import { useMemo, useRef, useState } from 'react';
import { type AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { ask, newId, ProblemError, wordsOf } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';
import { Button, Choice } from '../pieces/controls.tsx';
import { NotYetIn, partsBelow } from '../pieces/not-yet-in.tsx';
import { shownIn } from '../pieces/units.ts';
import type { Form } from '../record/field-spec.ts';
import { CONDITIONS } from '../words/choices.ts';
import { recallHabit, rememberHabit, tareOf } from './habit.ts';
import { JudgementPanel } from './judgement-panel.tsx';
import { JudgementStrip } from './judgement-strip.tsx';
import { MoreFields } from './more-fields.tsx';
import { NumberPad } from './number-pad.tsx';
import { PieceChoice } from './piece-choice.tsx';
import { isAssembly, pressKey, type Reading, type ReadingField, wordsOfReading } from './reading.ts';
import { ReadingFields } from './reading-fields.tsx';
import { usePreview } from './use-preview.ts';

export function WeighPart(props: {
  readonly aircraft: AircraftReport;
  readonly part: PartReport;
  readonly parts: readonly PartReport[];
  readonly onDone: (words: string | undefined) => void;
}) {
  const { aircraft, part } = props;
  const [reading, setReading] = useState<Reading>(() => firstReading(part, aircraft));
  const [active, setActive] = useState<ReadingField>('gross');
  const [isSure, setSure] = useState(false);
  const below = useMemo(() => partsBelow(props.parts, part.number), [props.parts, part.number]);
  // One id for one weighing, however often it has to be sent.
  const entryId = useRef(newId());
  const fields = { gross: useRef<HTMLInputElement>(null), tare: useRef<HTMLInputElement>(null) };
  const words = wordsOfReading(part, reading, aircraft);
  const preview = usePreview(aircraft.id, words);

  const change = (changed: Partial<Reading>) => {
    setSure(false);
    save.reset();
    entryId.current = newId();
    setReading({ ...reading, ...changed });
  };
  const save = useMutation({
    mutationFn: () =>
      ask(`/api/aircraft/${aircraft.id}/entries`, {
        method: 'POST',
        body: {
          id: entryId.current,
          ...words,
          ...(reading.remark.trim() === '' ? {} : { remark: reading.remark }),
        },
        reply: RecordedReport,
      }),
    onSuccess: ({ entry, headline }) => {
      rememberHabit(reading);
      ledgerMoved(aircraft.id);
      const shown = shownIn(aircraft);
      props.onDone(
        `Saved: ${part.number} is entry ${entry.seq}. Predicted empty weight ${shown.massWithUnit(headline.predictedKg)}.`,
      );
    },
  });
  const doubts = preview.data?.doubts ?? [];
  const isReady = words !== undefined && preview.data !== undefined && (doubts.length === 0 || isSure);
  const onEnter = (field: ReadingField) => {
    if (field === 'gross') fields.tare.current?.focus();
    else if (isReady) save.mutate();
  };
  // A fixture that was on this tablet's scale before brings its tare, unless another was typed.
  const changeMore = (changed: Form) => {
    const more = { ...reading.more, ...changed };
    const tare = changed['fixture'] === undefined ? undefined : tareOf(changed['fixture']);
    const isTyped =
      reading.tare !== '' &&
      reading.tare !== recallHabit()?.tare &&
      reading.tare !== tareOf(reading.more['fixture'] ?? '');
    change({ more, ...(tare === undefined || isTyped ? {} : { tare }) });
  };
  const problemOf = (name: string) => placed(save.error, name) ?? placed(preview.error, name);
  const onKey = (key: string) => {
    change({ [active]: pressKey(reading[active], key) });
    fields[active].current?.focus();
  };
  return (
    <div className="weigh-part">
      <section className="stack" aria-label="The scale">
        <div className="row back">
          <Button kind="quiet" onPress={() => props.onDone(undefined)}>
            ‹ Another part
          </Button>
        </div>
        <div>
          <h2>
            {part.number} <span className="part-name">{part.name}</span>
          </h2>
          <p className="soft">
            {part.group}, {part.process}
            {estimateWords(part, aircraft)}
          </p>
        </div>
        {isAssembly(part) ? (
          <NotYetIn
            label="Not yet in it"
            below={below}
            value={reading.notYetIn}
            onChange={(notYetIn) => change({ notYetIn })}
            problem={problemOf('not yet in')}
          />
        ) : (
          <PieceChoice part={part} pieces={reading.pieces} onChange={(pieces) => change({ pieces })} />
        )}
        <Choice
          label="Weighed as"
          options={CONDITIONS}
          value={reading.condition}
          onChange={(condition) => change({ condition })}
        />
        <p className="soft small">
          As released: flash still on. Trimmed: flash off. Fitted: inserts and fittings in. Finished: coats on.
        </p>
        <ReadingFields
          fields={[
            { name: 'gross', label: 'Gross', input: fields.gross },
            { name: 'tare', label: 'Tare (fixture)', input: fields.tare },
          ]}
          values={reading}
          unit={reading.unit}
          active={active}
          first="gross"
          onActive={setActive}
          onChange={(field, value) => change({ [field]: value })}
          onUnit={(unit) => change({ unit })}
          onEnter={onEnter}
        />
        <NumberPad onKey={onKey} />
        <MoreFields aircraft={aircraft} part={part} form={reading.more} set={changeMore} problemOf={problemOf} />
      </section>
      <JudgementPanel
        aircraft={aircraft}
        part={part}
        preview={preview}
        missing={missingWords(part, reading)}
        isSure={isSure}
        onSure={() => setSure(true)}
        onUnit={(unit) => change({ unit })}
        cause={reading.cause}
        onCause={(cause) => change({ cause })}
        remark={reading.remark}
        onRemark={(remark) => change({ remark })}
      >
        {save.isError ? (
          <p className="notice bad" role="alert">
            {unsavedWords(save.error)}
          </p>
        ) : null}
        <Button kind="main" isDisabled={!isReady || save.isPending} onPress={() => save.mutate()}>
          {save.isPending ? 'Saving …' : 'Save the weighing'}
        </Button>
      </JudgementPanel>
      <JudgementStrip preview={preview} aircraft={aircraft} />
    </div>
  );
}

/** The first piece not weighed yet, and the hand's habits of the last weighing. */
function firstReading(part: PartReport, aircraft: AircraftReport): Reading {
  const next = Array.from({ length: part.quantity }, (_, at) => at + 1).find((piece) => !part.weighed.includes(piece));
  const habit = recallHabit();
  return {
    gross: '',
    tare: habit?.tare ?? '',
    unit: habit?.unit ?? aircraft.massUnit,
    condition: habit?.condition,
    pieces: [next ?? 1],
    notYetIn: '',
    more: habit?.more ?? {},
    cause: '',
    remark: '',
  };
}

function estimateWords(part: PartReport, aircraft: AircraftReport): string {
  if (part.estimateKg === undefined) return '';
  return `; estimate ${shownIn(aircraft).massWithUnit(part.estimateKg)}${part.quantity === 1 ? '' : ' each'}`;
}

function placed(error: unknown, name: string): string | undefined {
  return error instanceof ProblemError ? error.of(`/${name}`) : undefined;
}

function unsavedWords(error: unknown): string {
  const status = error instanceof ProblemError ? error.report.status : undefined;
  if (status === 401) return 'Not saved yet: the session had ended. Everything is still here; save it again.';
  if (status === 0) return 'Not saved yet: the server cannot be reached. Everything is still here; save it again.';
  return wordsOf(error);
}

function missingWords(part: PartReport, reading: Reading): string | undefined {
  if (reading.condition === undefined)
    return `Say what has been done to ${isAssembly(part) ? 'the assembly' : 'the piece'}: ${CONDITIONS.map(({ words }) => words).join(', ')}.`;
  if (reading.gross.trim() === '') return 'Type what the scale shows.';
  if (!isAssembly(part) && reading.pieces.length === 0) return 'Choose the piece on the scale.';
  return undefined;
}
