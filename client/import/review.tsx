/** The second step: which sheet, which list, which columns; the rows with their problems; and at last the recording. */

import { type ReactNode, useCallback, useDeferredValue, useMemo, useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { Condition, Evidence, Process, Side } from '#shared/ledger/entry.ts';
import {
  type ColumnUse,
  type Grid,
  markKey,
  missingFields,
  proposed,
  sentOf,
  unusedIn,
  usesOf,
} from '#shared/table/grid.ts';
import { IMPORT_KINDS, type ImportKind } from '#shared/table/lists.ts';
import { unusedWords } from '#shared/table/look-alike.ts';
import { say } from '#shared/words/say.ts';
import { useGroups } from '../door/queries.ts';
import { Button, Choice, Picker } from '../pieces/controls.tsx';
import { type Holding, useHold } from '../pieces/leaving.ts';
import { shownIn } from '../pieces/units.ts';
import { ActBar } from './act-bar.tsx';
import { ColumnsCard } from './columns-card.tsx';
import { useDoubts } from './doubts.ts';
import { DoubtsCard } from './doubts-card.tsx';
import { ProblemsCard } from './problems-card.tsx';
import { problemsIn } from './problems-in.ts';
import type { Brought } from './read-file.ts';
import type { Told } from './record.ts';
import { type Aim, RowsTable, type ShownColumn } from './rows-table.tsx';
import { type Sent, useLook } from './use-look.ts';
import { KIND_WORDS } from './words.ts';

const KINDS = (['parts', 'weighings', 'targets'] as const).map((value) => ({ value, words: KIND_WORDS[value] }));

/** The words that a field takes, offered where one is typed. */
const CHOICES: Readonly<Record<string, readonly string[]>> = {
  process: Process.options,
  side: Side.options,
  condition: Condition.options,
  evidence: Evidence.options,
};

type Props = {
  readonly aircraft: AircraftReport;
  readonly brought: Brought;
  readonly onOther: () => void;
  readonly onDone: (done: Told) => void;
};

export function Review({ aircraft, brought, onOther, onDone }: Props) {
  const [sheetAt, setSheetAt] = useState(0);
  const found = brought.found[sheetAt];
  if (found === undefined) return null;
  const sheets = brought.found.map(({ sheet }, at) => ({ value: String(at), words: sheet }));
  const head = (ask: Holding['ask']) => (
    <div className="row bring-file">
      <h2>{brought.name}</h2>
      {sheets.length < 2 ? null : (
        <Picker
          label={say`Sheet`}
          options={sheets}
          value={String(sheetAt)}
          onChange={(value) => ask(() => setSheetAt(Number(value)))}
        />
      )}
      <Button slim onPress={() => ask(onOther)}>{say`Another list`}</Button>
    </div>
  );
  return <OfGrid key={sheetAt} head={head} aircraft={aircraft} brought={found.grid} onDone={onDone} />;
}

function OfGrid(props: {
  readonly head: (ask: Holding['ask']) => ReactNode;
  readonly aircraft: AircraftReport;
  readonly brought: Grid;
  readonly onDone: (done: Told) => void;
}) {
  const { aircraft } = props;
  const [whole, setGrid] = useState(props.brought);
  // A line of sums, or one that is for another day.
  const [out, setOut] = useState<ReadonlySet<number>>(new Set());
  const grid = useMemo(() => ({ ...whole, rows: whole.rows.filter(({ line }) => !out.has(line)) }), [whole, out]);
  const [first] = useState(() => proposed(whole.rows, IMPORT_KINDS));
  const [settled, setSettled] = useState(first);
  const [revise, setRevise] = useState(false);
  const [onlyWrong, setOnlyWrong] = useState(false);
  const [aim, setAim] = useState<Aim>();
  const groups = useGroups(aircraft.id);
  const offers = useMemo(() => ({ ...CHOICES, group: groups }), [groups]);

  const isReady = missingFields(settled).length === 0;
  const sending = useMemo(() => sentOf(grid, settled), [grid, settled]);
  const sent = useMemo(
    (): Sent | undefined => (isReady ? { kind: settled.kind, list: sending.list, revise } : undefined),
    [isReady, settled.kind, sending, revise],
  );
  const look = useLook(aircraft.id, sent);
  const problems = useMemo(
    () => problemsIn(grid, settled, sending, isReady ? look.preview : undefined),
    [grid, settled, sending, isReady, look.preview],
  );
  const sure = useDoubts(isReady ? look.preview?.lists[settled.kind]?.doubts : undefined);
  const { doubts, forget } = sure;
  const isNothingNew = isReady && look.isCurrent && problems.count === 0 && look.preview?.entryCount === 0;
  const isChanged = whole !== props.brought || out.size > 0 || settled !== first || revise;
  const holding = useHold(isChanged && !isNothingNew);
  const edit = useCallback(
    (line: number, at: number, text: string) => {
      forget(line);
      setGrid((before) => edited(before, line, at, text));
    },
    [forget],
  );
  const settle = (next: typeof settled) => {
    forget(undefined);
    setSettled(next);
  };
  const leaveOut = useCallback((line: number) => setOut((before) => new Set([...before, line])), []);
  const columns = useMemo(() => shownColumns(grid, settled), [grid, settled]);
  const filter = useDeferredValue(onlyWrong && problems.byLine.size + doubts.byLine.size > 0);
  const body = useMemo(() => grid.rows.slice(settled.headingAt + 1), [grid, settled.headingAt]);
  const rows = useMemo(
    () => (filter ? body.filter(({ line }) => problems.byLine.has(line) || doubts.byLine.has(line)) : body),
    [filter, body, problems, doubts.byLine],
  );
  const use = (at: number, next: ColumnUse) =>
    settle({ ...settled, uses: settled.uses.map((before, place) => (place === at ? next : before)) });
  const unused = useMemo(() => {
    const { headings, open } = unusedIn(grid, settled);
    return unusedWords(headings, open);
  }, [grid, settled]);
  const shown = useMemo(() => shownIn(aircraft), [aircraft]);
  const goOn = (lines: readonly number[]) => {
    const line = lines.find((one) => one > (aim?.line ?? 0)) ?? lines[0];
    if (line !== undefined) setAim({ line, count: (aim?.count ?? 0) + 1 });
  };
  return (
    <>
      <WhatItIs head={props.head(holding.ask)} holding={holding} grid={grid} settled={settled} onSettled={settle} />
      <ColumnsCard grid={grid} settled={settled} onUse={use} />
      <ProblemsCard
        aircraftId={aircraft.id}
        kind={settled.kind}
        problems={problems}
        look={look}
        isReady={isReady}
        onlyWrong={onlyWrong}
        onOnlyWrong={setOnlyWrong}
        hasDoubts={doubts.byLine.size > 0}
        onNext={() => goOn([...problems.byLine.keys()].sort((a, b) => a - b))}
        hasEvidence={settled.uses.some(({ field }) => field === 'evidence')}
        revise={revise}
        onRevise={setRevise}
        decimalComma={settled.decimalComma}
        dayOrder={settled.dayOrder}
        onDayOrder={(dayOrder) => settle({ ...settled, dayOrder })}
        leftOut={out}
        onBringBack={() => setOut(new Set())}
        onDecimalComma={(decimalComma) => settle({ ...settled, decimalComma })}
      />
      <DoubtsCard sure={sure} onNext={() => goOn(doubts.openLines)} />
      <RowsTable
        rows={rows}
        columns={columns}
        problemsOf={problems.byLine}
        doubtsOf={doubts.byLine}
        doubtedField="gross"
        onConfirm={sure.confirmLine}
        offers={offers}
        aim={aim}
        onEdit={edit}
        onLeaveOut={leaveOut}
      />
      <ActBar
        aircraftId={aircraft.id}
        sent={sent}
        unused={unused}
        shown={shown}
        look={look}
        doubtCount={doubts.openLines.length}
        problemCount={isReady ? problems.count : undefined}
        onDone={props.onDone}
      />
    </>
  );
}

function WhatItIs(props: {
  readonly head: ReactNode;
  readonly holding: Holding;
  readonly grid: Grid;
  readonly settled: ReturnType<typeof proposed>;
  readonly onSettled: (settled: ReturnType<typeof proposed>) => void;
}) {
  const { grid, settled, onSettled } = props;
  const settle = (kind: ImportKind, headingAt: number) =>
    onSettled({ ...settled, kind, headingAt, uses: usesOf(kind, grid.rows[headingAt]?.cells ?? []) });
  const lines = grid.rows.slice(0, 20).map(({ line, cells }, at) => ({
    value: String(at),
    words: `line ${line}: ${cells.filter((cell) => cell.trim() !== '').join(', ')}`.slice(0, 80),
  }));
  return (
    <section className="card bring-what" aria-label={say`What it is`}>
      {props.head}
      {props.holding.isAsking ? <Leaving holding={props.holding} /> : null}
      <Choice
        label={say`This list holds`}
        options={KINDS}
        value={settled.kind}
        onChange={(kind) => settle(kind, proposed(grid.rows, [kind]).headingAt)}
      />
      <Picker
        label={say`Its headings stand in`}
        options={lines}
        value={String(settled.headingAt)}
        onChange={(value) => settle(settled.kind, Number(value))}
      />
    </section>
  );
}

/** Asked where the list stands, so that what would be lost is in sight. */
function Leaving({ holding }: { readonly holding: Holding }) {
  return (
    <div className="notice warn stack-tight bring-leaving" role="alert">
      <p>{say`Nothing of this list is recorded yet. What you said about its columns, and what you put right in its rows, is lost when you leave it.`}</p>
      <div className="row">
        <Button slim autoFocus onPress={holding.stay}>{say`Stay with this list`}</Button>
        <Button slim onPress={holding.leave}>{say`Leave it`}</Button>
      </div>
    </div>
  );
}

function shownColumns(grid: Grid, { headingAt, uses }: ReturnType<typeof proposed>): readonly ShownColumn[] {
  const headings = grid.rows[headingAt]?.cells ?? [];
  const named = uses.flatMap(({ field, unit }, at): readonly ShownColumn[] => {
    if (field === undefined) return [];
    const heading = (headings[at] ?? '').trim() || field;
    return [{ at, field, name: unit === undefined ? heading : `${heading} [${unit}]` }];
  });
  // What stands beyond the headings must be seen to be taken away.
  const width = Math.max(0, ...grid.rows.slice(headingAt + 1).map(({ cells }) => cells.length));
  const loose = Array.from({ length: Math.max(0, width - headings.length) }, (_, place) => ({
    at: headings.length + place,
    field: 'no heading',
    name: say`no heading`,
  }));
  return [...named, ...loose];
}

/** The grid with one cell as somebody typed it; what the spreadsheet held there no longer counts. */
function edited(grid: Grid, line: number, at: number, text: string): Grid {
  const marks = new Map(grid.marks);
  marks.delete(markKey(line, at));
  const rows = grid.rows.map((row) => {
    if (row.line !== line) return row;
    const cells = [...row.cells];
    while (cells.length <= at) cells.push('');
    cells[at] = text;
    return { line, cells };
  });
  return { ...grid, rows, marks };
}
