/** Find the part: by number or name, by its label, or among what is due, was weighed here last, or is not weighed yet. */

import { useDeferredValue, useMemo, useState } from 'react';
import { Input, Label, SearchField } from 'react-aria-components';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { readCode } from '#shared/label/code.ts';
import { numberKey } from '#shared/part/from-words.ts';
import { duePartsOf, notWeighedYet } from '#shared/weighing/next-part.ts';
import { dayWords } from '#shared/words/day.ts';
import { LOCALE, say, term } from '#shared/words/say.ts';
import { usePerson } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { findParts } from '../pieces/find-parts.ts';
import { type Shown, shownIn } from '../pieces/units.ts';
import { isRefused } from '../queue/queued.ts';
import { useQueue } from '../queue/use-queue.ts';
import { shownOf } from '../queue/words-of.ts';
import { dueWords } from '../words/due.ts';
import { WAITS_HERE } from '../words/offline.ts';
import { rich } from '../words/rich.ts';
import { notSaved } from './kept.ts';
import { type ChoosePart, PartButtons } from './part-buttons.tsx';
import { weighedHere } from './recent.ts';
import type { Undo } from './use-wedge.ts';

/** More than a page of large buttons is no help: typing narrows it. */
const MOST_SHOWN = 24;
const MOST_DUE = 8;
const MOST_RECENT = 4;

export function FindPart(props: {
  readonly parts: readonly PartReport[];
  readonly aircraft: AircraftReport;
  readonly undo: Undo;
  readonly onChoose: ChoosePart;
  /** A code that was pasted or typed into the search. */
  readonly onCode: (text: string) => void;
  /** Undefined while the camera is on. */
  readonly onScan: (() => void) | undefined;
  readonly onCheck: () => void;
}) {
  const [search, setSearch] = useState('');
  props.undo.current = () => () => setSearch(search);
  const words = useDeferredValue(search);
  const { parts } = props;
  const isAsked = words.trim() !== '';
  const found = useMemo(() => (words.trim() === '' ? [] : findParts(parts, words)), [parts, words]);
  const shown = shownIn(props.aircraft);
  const personId = usePerson().id;
  const unsaved = useMemo(() => {
    const kept = notSaved({ aircraftId: props.aircraft.id, personId });
    return parts.flatMap((part) => {
      const reading = kept.get(part.partId);
      return reading === undefined ? [] : [{ part, reading }];
    });
  }, [props.aircraft.id, personId, parts]);
  /** Enter: a part by its whole number, or the only one that is left; a code that was typed or pasted. */
  const submit = (text: string) => {
    if (readCode(text) !== undefined) {
      setSearch('');
      return props.onCode(text);
    }
    const matching = text.trim() === '' ? [] : findParts(parts, text);
    const one = matching.find(({ number }) => numberKey(number) === numberKey(text)) ?? matching[0];
    if (one !== undefined && (matching.length === 1 || numberKey(one.number) === numberKey(text))) props.onChoose(one);
  };
  return (
    <section className="stack" aria-label={say`Find the part`}>
      <div className="find-tools">
        <SearchField className="search stack-tight" value={search} onChange={setSearch} onSubmit={submit} autoFocus>
          <Label className="label">{say`Which part is on the scale?`}</Label>
          <Input placeholder={say`Number or name`} />
        </SearchField>
        {props.onScan === undefined ? null : <Button onPress={props.onScan}>{say`Scan a label`}</Button>}
        <Button onPress={props.onCheck}>{say`Check weight`}</Button>
      </div>
      {unsaved.length === 0 ? null : (
        <div className="notice warn stack-tight">
          <strong>{say`Typed today and not saved yet`}</strong>
          <div className="row">
            {unsaved.map(({ part, reading }) => (
              <Button key={part.partId} onPress={() => props.onChoose(part)}>
                {part.number}: {reading}
              </Button>
            ))}
          </div>
        </div>
      )}
      {isAsked ? (
        <PartButtons
          offered={found.slice(0, MOST_SHOWN).map((part) => ({ part, words: knownWords(part, shown) }))}
          onChoose={props.onChoose}
        />
      ) : (
        <Offers {...{ parts, shown }} aircraftId={props.aircraft.id} onChoose={props.onChoose} />
      )}
      {isAsked && found.length === 0 ? (
        <p className="notice">{rich`No part has “${words}” in its number or name. Check the label, or ask the engineer to add the part.`}</p>
      ) : null}
      {found.length > MOST_SHOWN ? (
        <p className="soft">{rich`${(found.length - MOST_SHOWN).toLocaleString(LOCALE)} more: type some of the number or name.`}</p>
      ) : null}
    </section>
  );
}

/** What is due, what was weighed here, and what is not weighed yet, before anybody has typed a letter (rule H3). */
function Offers(props: {
  readonly parts: readonly PartReport[];
  readonly shown: Shown;
  readonly aircraftId: string;
  readonly onChoose: ChoosePart;
}) {
  const { parts, shown, onChoose } = props;
  const offers = useMemo(() => {
    const due = duePartsOf(parts);
    const here = new Map(parts.map((part) => [part.partId as string, part]));
    const recent = weighedHere(props.aircraftId).flatMap((partId) => here.get(partId) ?? []);
    // What only holds other parts comes up when it is asked for by name.
    return { due, recent, open: notWeighedYet(parts) };
  }, [parts, props.aircraftId]);
  const { due, recent, open } = offers;
  const waiting = new Map(
    useQueue().flatMap((one) => (isRefused(one) ? [] : [[one.partId, WAITS_HERE(shownOf(one))]])),
  );
  return (
    <>
      <PartButtons
        title={say`Due for weighing`}
        offered={due.slice(0, MOST_DUE).map((one) => ({
          part: one.part,
          piece: one.part.quantity === 1 ? undefined : one.due.pieces[0],
          words: dueWords(one.part, one.due),
        }))}
        onChoose={onChoose}
      />
      {due.length > MOST_DUE ? <p className="soft">{rich`${due.length - MOST_DUE} more are due.`}</p> : null}
      <PartButtons
        title={say`Weighed here last`}
        offered={recent
          .slice(0, MOST_RECENT)
          .map((part) => ({ part, words: waiting.get(part.partId) ?? lastWords(part, shown) }))}
        onChoose={onChoose}
      />
      <PartButtons
        title={say`Not weighed yet, the least certain mass first`}
        offered={open.slice(0, MOST_SHOWN).map((part) => ({ part, words: knownWords(part, shown) }))}
        onChoose={onChoose}
      />
      {open.length > MOST_SHOWN ? (
        <p className="soft">{rich`${(open.length - MOST_SHOWN).toLocaleString(LOCALE)} more: type some of the number or name.`}</p>
      ) : null}
    </>
  );
}

function lastWords({ lastWeighing }: PartReport, shown: Shown): string {
  if (lastWeighing === undefined) return say`not weighed`;
  return `${shown.massWithUnit(lastWeighing.netKg)}, ${term(lastWeighing.condition)}, ${dayWords(lastWeighing.weighedOn)}`;
}

function knownWords(part: PartReport, shown: Shown): string {
  const each = part.quantity === 1 ? '' : say` each`;
  const none = part.childCount > 0 ? say`an assembly` : say`no estimate yet`;
  const estimate = part.estimateKg === undefined ? none : say`estimate ${shown.massWithUnit(part.estimateKg)}${each}`;
  return `${estimate} · ${weighedWords(part)}`;
}

function weighedWords(part: PartReport): string {
  if (part.childCount > 0) return part.asAssembly === undefined ? say`not weighed` : say`weighed as an assembly`;
  if (part.weighed.length === 0) return say`not weighed`;
  if (part.weighed.length < part.quantity) return say`${part.weighed.length} of ${part.quantity} weighed`;
  return part.quantity === 1 ? 'weighed' : say`all weighed`;
}
