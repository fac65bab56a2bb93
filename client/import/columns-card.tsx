/** What each column is taken for, and its unit where its heading has none. */

import { useId } from 'react';
import {
  type ColumnUse,
  type Grid,
  letterOf,
  missingFields,
  type Settled,
  unitChoice,
  unusedIn,
} from '#shared/table/grid.ts';
import { COLUMNS_OF } from '#shared/table/lists.ts';
import { unusedWords } from '#shared/table/look-alike.ts';
import { say } from '#shared/words/say.ts';
import { rich } from '../words/rich.ts';

const SAMPLES = 3;

export function ColumnsCard(props: {
  readonly grid: Grid;
  readonly settled: Settled;
  readonly onUse: (at: number, use: ColumnUse) => void;
}) {
  const { grid, settled } = props;
  const headings = grid.rows[settled.headingAt]?.cells ?? [];
  const body = grid.rows.slice(settled.headingAt + 1);
  const missing = missingFields(settled);
  const { headings: unused, open } = unusedIn(grid, settled);
  const likely = unusedWords(unused, open);
  const samples = (at: number) =>
    body
      .slice(0, 50)
      .map(({ cells }) => cells[at] ?? '')
      .filter((cell) => cell !== '')
      .slice(0, SAMPLES)
      .join(' · ');
  return (
    <section className="card stack" aria-label={say`Columns`}>
      <h2>{say`Columns`}</h2>
      {missing.length === 0 ? null : (
        <p
          className="notice bad"
          role="status"
        >{rich`Say which column is the ${missing.join(say`, and which is the `)}.${likely === '' ? '' : say` Not used yet: ${likely}.`}`}</p>
      )}
      <ul className="columns">
        {headings.map((heading, at) =>
          heading.trim() === '' && samples(at) === '' ? null : (
            <Column
              // biome-ignore lint/suspicious/noArrayIndexKey: a column is its place
              key={at}
              heading={heading.trim() === '' ? say`column ${letterOf(at)}` : heading}
              samples={samples(at)}
              hasBare={body.some(({ cells }) => /^\s*[-+]?[\d.,]+\s*$/.test(cells[at] ?? ''))}
              use={settled.uses[at] ?? { field: undefined, unit: undefined }}
              settled={settled}
              onUse={(use) => props.onUse(at, use)}
            />
          ),
        )}
      </ul>
    </section>
  );
}

function Column(props: {
  readonly heading: string;
  readonly samples: string;
  /** There are numbers in it that say no unit. */
  readonly hasBare: boolean;
  readonly use: ColumnUse;
  readonly settled: Settled;
  readonly onUse: (use: ColumnUse) => void;
}) {
  const { heading, use, settled } = props;
  const id = useId();
  const { units, stated } = unitChoice(settled.kind, heading, use);
  // A bare share between 0 and 1 is told at its cell.
  const asksUnit =
    props.hasBare && units.length > 0 && units[0] !== '%' && stated === undefined && use.unit === undefined;
  const taken = new Set(settled.uses.map(({ field }) => field));
  return (
    <li className={`column ${use.field === undefined ? 'unused' : ''}`}>
      <p className="column-name">
        <strong>{heading}</strong>
        <span className="soft small column-samples">{props.samples === '' ? say`empty` : props.samples}</span>
      </p>
      <label className="field" htmlFor={`${id}-field`}>
        <span className="hidden-words">{rich`${heading} is taken for`}</span>
        <select
          id={`${id}-field`}
          value={use.field ?? ''}
          onChange={(event) => props.onUse({ field: event.target.value || undefined, unit: undefined })}
        >
          <option value="">{say`not used`}</option>
          {COLUMNS_OF[settled.kind].map(({ field }) => (
            <option key={field} value={field} disabled={field !== use.field && taken.has(field)}>
              {field}
            </option>
          ))}
        </select>
      </label>
      {use.field === 'estimate' ? <p className="soft small">{say`of one piece`}</p> : null}
      {units.length === 0 ? null : (
        <label className="field" htmlFor={`${id}-unit`}>
          <span className={asksUnit ? 'problem' : 'hidden-words'}>{rich`Unit of ${heading}`}</span>
          <select
            id={`${id}-unit`}
            aria-invalid={asksUnit ? true : undefined}
            value={use.unit ?? stated ?? ''}
            onChange={(event) => props.onUse({ ...use, unit: event.target.value || undefined })}
          >
            {stated === undefined ? (
              <option value="">{asksUnit ? say`which unit?` : say`unit in the cells`}</option>
            ) : null}
            {units.map((unit) => (
              <option key={unit} value={unit}>
                {unit}
              </option>
            ))}
          </select>
        </label>
      )}
    </li>
  );
}
