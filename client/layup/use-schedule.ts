/** The schedule on the screen: its words, everything that changes them, and what they say so far. */

import { useEffect, useMemo, useRef, useState } from 'react';
import {
  type DraftWords,
  type LinePlace,
  newLine,
  newRegion,
  nextPlace,
  placeOf,
  type ScheduleDraft,
  withDraftLineMoved,
} from '#shared/layup/draft.ts';
import type { LayUpContext } from '#shared/layup/from-words.ts';
import { type DraftProblem, type ReadDraft, readDraft, WHOLE } from '#shared/layup/read-draft.ts';
import { type LineKind, USUALLY_ON } from '#shared/layup/schedule.ts';
import type { LengthUnit } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import { newId } from '../door/ask.ts';
import { forget, type Kept, keep, keptFor } from './kept.ts';

/** A figure is half typed for a moment: what is wrong with it is told once it rests. */
const REST_MS = 500;

export type Schedule = {
  readonly draft: ScheduleDraft;
  readonly beside: DraftWords;
  readonly read: ReadDraft;
  /** Something is typed that is not recorded. */
  readonly isTyped: boolean;
  readonly isKept: boolean;
  readonly begunAt: number | undefined;
  readonly problemAt: (key: string, field: string) => DraftProblem | undefined;
  readonly problemsOf: (key: string) => readonly DraftProblem[];
  /** How many fields are told as wrong. */
  readonly problemCount: number;
  /** From now on everything that is missing is told. */
  readonly tellAll: () => void;
  readonly touch: (key: string, field: string) => void;
  readonly set: (key: string, field: string, text: string) => void;
  readonly setBeside: (field: string, text: string) => void;
  readonly addLine: (regionKey: string, is: LineKind, after?: string) => void;
  readonly removeLine: (key: string) => void;
  readonly addRegion: () => void;
  readonly removeRegion: (key: string) => void;
  readonly moveLine: (key: string, to: LinePlace) => void;
  /** By one, up or down. */
  readonly nudge: (key: string, by: -1 | 1) => void;
  /** Another schedule takes the place of this one. */
  readonly replace: (draft: ScheduleDraft) => void;
  readonly drop: (begin: Kept) => void;
  readonly recorded: () => void;
  /** Puts back what was taken away or dropped last; undefined once something else was done. */
  readonly putBack: (() => void) | undefined;
  /** Told to those who do not see it. */
  readonly said: string;
  /** Puts the keyboard into a field. */
  readonly focus: (place: string) => void;
  /** The field that should have the keyboard after the next change. */
  readonly wanted: { current: string | undefined };
};

export function useSchedule(at: {
  readonly aircraftId: string;
  readonly partId: string;
  readonly begin: Kept;
  readonly context: LayUpContext;
  readonly lengthUnit: LengthUnit;
}): Schedule {
  const { aircraftId, partId, context, lengthUnit } = at;
  const [stored] = useState(() => keptFor(aircraftId, partId));
  const [state, setState] = useState<Kept>(stored ?? at.begin);
  const [isTyped, setTyped] = useState(stored !== undefined);
  const [isKept, setKept] = useState(true);
  const [touched, setTouched] = useState<ReadonlySet<string>>(new Set());
  const [isAllTold, setAllTold] = useState(false);
  const [whole, setWhole] = useState<Kept>();
  const [said, setSaid] = useState('');
  const [, setFocused] = useState(0);
  const wanted = useRef<string | undefined>(undefined);
  const { draft, beside } = state;
  const read = useMemo(() => readDraft(draft, context, lengthUnit), [draft, context, lengthUnit]);
  const rested = useRested(read);

  const change = (next: (before: Kept) => Kept) => {
    setTyped(true);
    setWhole(undefined);
    setState(next);
  };
  // Another estimate is in force: what is not typed begins from it.
  const { begin } = at;
  useEffect(() => {
    if (!isTyped) setState((before) => (before.begunAt === begin.begunAt ? before : begin));
  }, [begin, isTyped]);
  useEffect(() => {
    if (isTyped) setKept(keep(aircraftId, partId, state));
  }, [aircraftId, partId, isTyped, state]);
  const changeDraft = (next: (before: ScheduleDraft) => ScheduleDraft) =>
    change((before) => ({ ...before, draft: next(before.draft) }));
  const shown = read.problems.filter(
    ({ key, field, code }) =>
      rested.problems.some((one) => one.key === key && one.field === field) &&
      (isAllTold || !WAITING.has(code) || touched.has(`${key} ${field}`)),
  );
  const move = (key: string, to: LinePlace) => {
    const after = withDraftLineMoved(draft, key, to);
    changeDraft(() => after);
    const region = after.regions[to.region];
    setSaid(
      say`Line ${(placeOf(after, key)?.line ?? 0) + 1} of ${region?.lines.length ?? 0} in ${region?.words['name'] ?? say`its region`}.`,
    );
  };
  return {
    ...{ draft, beside, read, isTyped, isKept, said, wanted },
    begunAt: state.begunAt,
    problemCount: shown.length,
    problemAt: (key, field) => shown.find((one) => one.key === key && one.field === field),
    problemsOf: (key) => shown.filter((one) => one.key === key),
    tellAll: () => setAllTold(true),
    touch: (key, field) => setTouched((before) => new Set([...before, `${key} ${field}`])),
    set: (key, field, text) => changeDraft((before) => withWord(before, key, field, text)),
    setBeside: (field, text) => change((before) => ({ ...before, beside: { ...before.beside, [field]: text } })),
    addLine: (regionKey, is, after) => {
      const line = newLine(newId(), is);
      wanted.current = say`${line.key} material`;
      changeDraft((before) => ({
        ...before,
        regions: before.regions.map((region) => {
          if (region.key !== regionKey) return region;
          const behind = region.lines.findIndex(({ key }) => key === after);
          const on = region.lines[behind]?.words['on'];
          const words = on === undefined || on === USUALLY_ON[is] ? line.words : { ...line.words, on };
          const place = behind < 0 ? region.lines.length : behind + 1;
          return { ...region, lines: region.lines.toSpliced(place, 0, { ...line, words }) };
        }),
      }));
    },
    removeLine: (key) => {
      const region = draft.regions.find(({ lines }) => lines.some((line) => line.key === key));
      const at = region?.lines.findIndex((line) => line.key === key) ?? 0;
      const next = region?.lines[at + 1] ?? region?.lines[at - 1];
      wanted.current = next === undefined ? say`${region?.key ?? ''} add` : say`${next.key} material`;
      changeDraft((before) => ({
        ...before,
        regions: before.regions.map((region) => ({
          ...region,
          lines: region.lines.filter((line) => line.key !== key),
        })),
      }));
      setWhole(state);
      setSaid(say`Line removed.`);
    },
    addRegion: () => {
      const region = newRegion(newId(), '');
      wanted.current = say`${region.key} name`;
      changeDraft((before) => ({ ...before, regions: [...before.regions, region] }));
    },
    removeRegion: (key) => {
      const first = draft.regions.find((region) => region.key !== key);
      wanted.current = first === undefined ? undefined : say`${first.key} name`;
      changeDraft((before) => ({ ...before, regions: before.regions.filter((region) => region.key !== key) }));
      setWhole(state);
      setSaid(say`Region removed.`);
    },
    putBack:
      whole === undefined
        ? undefined
        : () => {
            wanted.current = say`${whole.draft.regions[0]?.key ?? ''} name`;
            change(() => whole);
            setSaid(say`It is back.`);
          },
    moveLine: move,
    nudge: (key, by) => {
      const from = placeOf(draft, key);
      const to = from === undefined ? undefined : nextPlace(draft, from, by);
      if (to === undefined) return setSaid(by === 1 ? say`It is the last line.` : say`It is the first line.`);
      move(key, to);
    },
    focus: (place) => {
      wanted.current = place;
      setFocused((count) => count + 1);
    },
    replace: (next) => changeDraft(() => next),
    drop: (begin) => {
      forget(aircraftId, partId);
      setTyped(false);
      setAllTold(false);
      setWhole(state);
      wanted.current = say`${begin.draft.regions[0]?.key ?? ''} name`;
      setSaid(say`What was typed is dropped.`);
      setState(begin);
    },
    recorded: () => {
      forget(aircraftId, partId);
      setTyped(false);
    },
  };
}

/** What is only not there yet is told where somebody has been, or wanted to record. */
const WAITING: ReadonlySet<DraftProblem['code']> = new Set(['missing', 'resin-missing', 'schedule-empty']);

function withWord(draft: ScheduleDraft, key: string, field: string, text: string): ScheduleDraft {
  if (key === WHOLE) return { ...draft, words: { ...draft.words, [field]: text } };
  return {
    ...draft,
    regions: draft.regions.map((region) =>
      region.key === key
        ? { ...region, words: { ...region.words, [field]: text } }
        : {
            ...region,
            lines: region.lines.map((line) =>
              line.key === key ? { ...line, words: { ...line.words, [field]: text } } : line,
            ),
          },
    ),
  };
}

function useRested<Value>(value: Value): Value {
  const [rested, setRested] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => setRested(value), REST_MS);
    return () => clearTimeout(timer);
  }, [value]);
  return rested;
}
