/** One row: as it reads, or, where something is wrong in it or somebody wants it so, as fields with each problem in words below. */

import { memo, useId, useState } from 'react';
import type { CsvRow } from '#shared/table/csv.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import type { RowDoubts } from './doubts.ts';
import type { ShownColumn, ShownProblem } from './rows-table.tsx';

type Props = {
  readonly row: CsvRow;
  readonly index: number;
  readonly columns: readonly ShownColumn[];
  readonly problems: readonly ShownProblem[];
  readonly doubts: RowDoubts | undefined;
  readonly doubtedField: string;
  readonly onConfirm: (line: number) => void;
  readonly isOpen: boolean;
  readonly offers: Readonly<Record<string, readonly string[]>>;
  readonly onOpen: (line: number) => void;
  readonly onEdit: (line: number, at: number, text: string) => void;
  readonly onLeaveOut: (line: number) => void;
};

export const TableRow = memo(function TableRow(props: Props) {
  const { row, columns, problems, doubts } = props;
  const id = useId();
  const isBad = problems.length > 0;
  const isAsked = doubts !== undefined && !doubts.isConfirmed;
  const isOpen = isBad || isAsked || props.isOpen;
  const look = isBad ? 'wrong' : isAsked ? 'doubted' : '';
  return (
    <>
      <tr aria-rowindex={props.index} className={look} data-line={row.line}>
        <th scope="row" className="rows-line">
          <span className="rows-line-words">
            <span>
              {isBad ? <span aria-hidden="true">▲ </span> : null}
              {isAsked && !isBad ? <span aria-hidden="true">? </span> : null}
              <span className="rows-label-line">{say`line`} </span>
              {row.line}
            </span>
            {isOpen ? (
              <Button
                kind="quiet"
                slim
                onPress={() => props.onLeaveOut(row.line)}
                aria-label={say`Leave out line ${row.line}`}
              >
                ✕
              </Button>
            ) : (
              <Button
                kind="quiet"
                slim
                onPress={() => props.onOpen(row.line)}
                aria-label={say`Change line ${row.line}`}
              >
                ✎
              </Button>
            )}
          </span>
        </th>
        {columns.map((column) => (
          <td key={column.at}>
            <span className="rows-label" aria-hidden="true">
              {column.name}
            </span>
            {isOpen ? (
              <CellField {...props} column={column} id={id} problems={problems.filter(({ at }) => at === column.at)} />
            ) : (
              <span className="rows-text">{row.cells[column.at] ?? ''}</span>
            )}
          </td>
        ))}
      </tr>
      {isBad ? (
        <tr className="wrong">
          <td colSpan={columns.length + 1} className="rows-problems">
            <ul>
              {problems.map(({ at, words, remedy }) => (
                <li key={`${at} ${words}`} className="problem">
                  <strong>{columns.find((column) => column.at === at)?.name ?? say`line ${row.line}`}:</strong> {words}{' '}
                  {remedy}
                </li>
              ))}
            </ul>
          </td>
        </tr>
      ) : null}
      {doubts === undefined ? null : (
        <DoubtRow doubts={doubts} line={row.line} span={columns.length + 1} onConfirm={props.onConfirm} />
      )}
    </>
  );
});

/** What the reading looks like, and the press that says it is right all the same. */
function DoubtRow(props: {
  readonly doubts: RowDoubts;
  readonly line: number;
  readonly span: number;
  readonly onConfirm: (line: number) => void;
}) {
  const { doubts, line } = props;
  return (
    <tr className={doubts.isConfirmed ? '' : 'doubted'}>
      <td colSpan={props.span} className="rows-doubts">
        <div className="rows-doubt">
          <ul className="doubt-words">
            {doubts.words.map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
          {doubts.isConfirmed ? (
            <p>{say`✓ Taken as it is.`}</p>
          ) : (
            <Button
              slim
              onPress={() => props.onConfirm(line)}
              aria-label={say`It is right, line ${line}`}
            >{say`It is right`}</Button>
          )}
        </div>
      </td>
    </tr>
  );
}

function CellField(props: Props & { readonly column: ShownColumn; readonly id: string }) {
  const { row, column, problems, id } = props;
  const text = row.cells[column.at] ?? '';
  const [draft, setDraft] = useState(text);
  const [seen, setSeen] = useState(text);
  if (seen !== text) {
    setSeen(text);
    setDraft(text);
  }
  const offers = props.offers[column.field] ?? NO_OFFERS;
  const told = problems.map(({ words, remedy }) => `${words} ${remedy}`).join(' ');
  return (
    <>
      <input
        value={draft}
        onChange={(event) => setDraft(event.target.value)}
        aria-label={say`${column.name}, line ${row.line}`}
        data-doubted={props.doubts !== undefined && column.field === props.doubtedField ? true : undefined}
        aria-invalid={problems.length > 0 ? true : undefined}
        aria-describedby={told === '' ? undefined : `${id}-told-${column.at}`}
        list={offers.length > 0 ? `${id}-offers-${column.at}` : undefined}
        autoComplete="off"
        spellCheck={false}
        onBlur={() => draft === text || props.onEdit(row.line, column.at, draft)}
        onKeyDown={(event) => {
          // Also where nothing was changed: what stands there is then meant so.
          if (event.key === 'Enter') props.onEdit(row.line, column.at, draft);
          if (event.key === 'Escape') setDraft(text);
        }}
      />
      {told === '' ? null : (
        <span id={`${id}-told-${column.at}`} className="hidden-words">
          {told}
        </span>
      )}
      {offers.length > 0 ? (
        <datalist id={`${id}-offers-${column.at}`}>
          {offers.map((offer) => (
            <option key={offer} value={offer} />
          ))}
        </datalist>
      ) : null}
    </>
  );
}

const NO_OFFERS: readonly string[] = [];
