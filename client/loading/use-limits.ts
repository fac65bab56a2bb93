/** Loading limits on the screen: their words, everything that changes them, and what is wrong with them so far. */

import { useEffect, useMemo, useRef, useState } from 'react';
import {
  type CaseDraft,
  type LimitsDraft,
  moved,
  newCase,
  newStation,
  pastedCorners,
  type RowDraft,
  type StationDraft,
} from '#shared/loading/draft.ts';
import type { StationKind } from '#shared/loading/limits.ts';
import { type DraftProblem, ENVELOPE, type ReadDraft, readDraft, STATIONS, WHOLE } from '#shared/loading/read-draft.ts';
import type { Against } from '#shared/loading/refusals.ts';
import type { DisplayUnits } from '#shared/quantity/show.ts';
import { say } from '#shared/words/say.ts';
import { newId } from '../door/ask.ts';
import { forget, type Kept, keep, keptFor } from './kept.ts';

/** A figure is half typed for a moment: what is wrong with it is told once it rests. */
const REST_MS = 500;

export type Limits = ReturnType<typeof useLimits>;

export function useLimits(at: {
  /** Under which name the device keeps them. */
  readonly keptAs: string;
  readonly begin: Kept;
  readonly units: DisplayUnits;
  readonly against: Against;
}) {
  const { keptAs, units, against } = at;
  const [stored] = useState(() => keptFor(keptAs));
  const [state, setState] = useState<Kept>(stored ?? at.begin);
  const [isTyped, setTyped] = useState(stored !== undefined);
  const [isKept, setKept] = useState(true);
  const [touched, setTouched] = useState<ReadonlySet<string>>(new Set());
  const [toldRows, setToldRows] = useState<ReadonlySet<string>>(new Set());
  const [before, setBefore] = useState<LimitsDraft>();
  const [said, setSaid] = useState('');
  /** The field that should have the keyboard after the next change. */
  const wanted = useRef<string | undefined>(undefined);
  const { draft } = state;
  const read = useMemo(() => readDraft(draft, units, against), [draft, units, against]);
  const rested = useRested(read);
  useEffect(() => {
    if (isTyped) setKept(keep(keptAs, state));
  }, [keptAs, isTyped, state]);
  useEffect(() => {
    const place = wanted.current;
    if (place === undefined) return;
    wanted.current = undefined;
    focusOn(place);
  });

  const change = (next: (draft: LimitsDraft) => LimitsDraft) => {
    setTyped(true);
    setBefore(undefined);
    setState((one) => ({ ...one, draft: next(one.draft) }));
  };
  const removing = (what: string, next: (draft: LimitsDraft) => LimitsDraft) => {
    change(next);
    setBefore(draft);
    setSaid(say`${what} removed.`);
  };
  const shown = read.problems.filter(
    ({ key, field, code }) =>
      rested.problems.some((one) => one.key === key && one.field === field) &&
      (!WAITING.has(code) || toldRows.has(key) || touched.has(placeName(key, field))),
  );
  const stations = (next: (rows: readonly StationDraft[]) => readonly StationDraft[]) => (one: LimitsDraft) => ({
    ...one,
    stations: next(one.stations),
  });
  const corners = (next: (rows: readonly RowDraft[]) => readonly RowDraft[]) => (one: LimitsDraft) => ({
    ...one,
    corners: next(one.corners),
  });
  const cases = (next: (rows: readonly CaseDraft[]) => readonly CaseDraft[]) => (one: LimitsDraft) => ({
    ...one,
    cases: next(one.cases),
  });
  return {
    ...{ draft, read, isTyped, isKept, said, wanted, units },
    ...{ reason: state.reason, begunAt: state.begunAt, isStored: stored !== undefined },
    problems: shown,
    problemAt: (key: string, field: string) => {
      const found = shown.find((one) => one.key === key && one.field === field);
      return found === undefined ? undefined : `${found.words} ${found.remedy}`;
    },
    /** Of the rows that are there; one that is added afterwards begins without blame. */
    tellAll: () => setToldRows(new Set([WHOLE, STATIONS, ENVELOPE, ...keysOf(draft)])),
    touch: (key: string, field: string) => setTouched((places) => new Set([...places, placeName(key, field)])),
    setReason: (reason: string) => {
      setTyped(true);
      setState((one) => ({ ...one, reason }));
    },
    set: (key: string, field: string, text: string) => change((one) => withWord(one, key, field, text)),
    setLoad: (caseKey: string, station: string, text: string) =>
      change(
        cases((rows) =>
          rows.map((one) => (one.key === caseKey ? { ...one, loads: { ...one.loads, [station]: text } } : one)),
        ),
      ),
    addStation: (what: StationKind, words: Readonly<Record<string, string>> = {}) => {
      const station = newStation(newId(), what, words);
      wanted.current = `${station.key} ${words['name'] === undefined ? say`name` : 'x'}`;
      change(stations((rows) => [...rows, station]));
    },
    removeStation: (key: string) => {
      wanted.current = 'add station';
      removing(
        say`Station`,
        stations((rows) => rows.filter((row) => row.key !== key)),
      );
    },
    addArm: (stationKey: string) => {
      const row = { key: newId(), words: {} };
      wanted.current = say`${row.key} quantity`;
      change(
        stations((rows) => rows.map((one) => (one.key === stationKey ? { ...one, arms: [...one.arms, row] } : one))),
      );
    },
    removeArm: (stationKey: string, key: string) =>
      removing(
        say`Row`,
        stations((rows) =>
          rows.map((one) =>
            one.key === stationKey ? { ...one, arms: one.arms.filter((row) => row.key !== key) } : one,
          ),
        ),
      ),
    addCorner: (after?: string) => {
      const row = { key: newId(), words: {} };
      wanted.current = say`${row.key} mass`;
      change(
        corners((rows) => {
          const at = after === undefined ? rows.length : rows.findIndex(({ key }) => key === after) + 1;
          return rows.toSpliced(at, 0, row);
        }),
      );
    },
    removeCorner: (key: string) => {
      const at = draft.corners.findIndex((row) => row.key === key);
      const next = draft.corners[at + 1] ?? draft.corners[at - 1];
      wanted.current = next === undefined ? say`add corner` : say`${next.key} mass`;
      removing(
        say`Corner`,
        corners((rows) => rows.filter((row) => row.key !== key)),
      );
    },
    nudgeCorner: (key: string, by: -1 | 1) => {
      wanted.current = say`${key} mass`;
      change(corners((rows) => moved(rows, key, by)));
      const at = moved(draft.corners, key, by).findIndex((row) => row.key === key);
      setSaid(say`Corner ${at + 1} of ${draft.corners.length}.`);
    },
    /** True where it was a table, and has gone into the rows. */
    pasteCorners: (key: string, text: string): boolean => {
      const pasted = pastedCorners(draft, { key, text }, newId);
      if (pasted === undefined) return false;
      change(() => pasted);
      setSaid(say`Rows pasted; the envelope has ${pasted.corners.length} corners.`);
      return true;
    },
    addCase: () => {
      const one = newCase(newId());
      wanted.current = say`${one.key} name`;
      change(cases((rows) => [...rows, one]));
    },
    removeCase: (key: string) => {
      wanted.current = 'add case';
      removing(
        say`Case`,
        cases((rows) => rows.filter((row) => row.key !== key)),
      );
    },
    addBurn: (caseKey: string, tank: string) => {
      const step = { key: newId(), words: { tank } };
      wanted.current = say`${step.key} quantity`;
      change(cases((rows) => rows.map((one) => (one.key === caseKey ? { ...one, burn: [...one.burn, step] } : one))));
    },
    removeBurn: (caseKey: string, key: string) =>
      removing(
        say`Step`,
        cases((rows) =>
          rows.map((one) => (one.key === caseKey ? { ...one, burn: one.burn.filter((row) => row.key !== key) } : one)),
        ),
      ),
    /** Puts back what was removed last; undefined once something else was done. */
    putBack:
      before === undefined
        ? undefined
        : () => {
            change(() => before);
            setSaid(say`It is back.`);
          },
    done: () => {
      forget(keptAs);
      setTyped(false);
    },
  };
}

/** What is only not there yet is told where somebody has been, or wanted to record. */
const WAITING: ReadonlySet<string> = new Set(['missing', 'envelope-too-few', 'load-out-of-bounds']);

export function placeName(key: string, field: string): string {
  return `${key} ${field}`;
}

function focusOn(place: string): void {
  const element = document.querySelector<HTMLElement>(`[data-place="${CSS.escape(place)}"]`);
  (element?.matches('input, select, button') === true
    ? element
    : element?.querySelector<HTMLElement>(say`input, select`)
  )?.focus();
}

function keysOf({ stations, corners, cases }: LimitsDraft): readonly string[] {
  const rows = [...stations, ...stations.flatMap(({ arms }) => arms), ...corners, ...cases];
  return [...rows, ...cases.flatMap(({ burn }) => burn)].map(({ key }) => key);
}

function withWord(draft: LimitsDraft, key: string, field: string, text: string): LimitsDraft {
  if (key === WHOLE) return { ...draft, words: { ...draft.words, [field]: text } };
  const put = <Row extends RowDraft>(row: Row): Row =>
    row.key === key ? { ...row, words: { ...row.words, [field]: text } } : row;
  return {
    ...draft,
    stations: draft.stations.map((station) => ({ ...put(station), arms: station.arms.map(put) })),
    corners: draft.corners.map(put),
    cases: draft.cases.map((one) => ({ ...put(one), burn: one.burn.map(put) })),
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

export type { DraftProblem, ReadDraft };
