/** What of the parts is shown: search, filters, tree or one run, and which columns. */

import { useState } from 'react';
import { Input, Label, SearchField } from 'react-aria-components';
import { DriftFlag } from '#shared/contract/drift.ts';
import { OPEN_THINGS, type PartReport } from '#shared/contract/reports.ts';
import { say, term } from '#shared/words/say.ts';
import { Button, Picker } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { rich } from '../words/rich.ts';
import { COLUMNS } from './columns.tsx';
import { FIRST_COLUMNS, type Filter, NO_FILTER, type View } from './remembered.ts';

export const ANY_OPEN = say`anything open`;
export const NOT_WEIGHED = say`not all weighed`;

const FLAGS = [
  { value: '', words: say`Any flag` },
  { value: 'not in line', words: say`not in line` },
  ...DriftFlag.options.map((flag) => ({ value: flag as string, words: term(flag) })),
];
const OPEN = [
  { value: '', words: say`Open or not` },
  ...[ANY_OPEN, ...OPEN_THINGS, NOT_WEIGHED].map((thing) => ({ value: thing as string, words: term(thing) })),
];

/** True for a part that the filters and the search ask for. */
export function isAskedBy(view: Filter): (part: PartReport) => boolean {
  const words = view.search.toLowerCase().split(/\s+/).filter(Boolean);
  return (part) => {
    if (view.group !== '' && part.group !== view.group) return false;
    if (view.process !== '' && part.process !== view.process) return false;
    if (!fitsFlag(part, view.flag) || !fitsOpen(part, view.open)) return false;
    if (words.length === 0) return true;
    const text = `${part.number}\n${part.name}\n${part.assembly ?? ''}`.toLowerCase();
    return words.every((word) => text.includes(word));
  };
}

function fitsFlag({ flag }: PartReport, asked: string): boolean {
  if (asked === '') return true;
  return asked === 'not in line' ? flag !== undefined && flag !== 'in line' : flag === asked;
}

function fitsOpen({ open, weighed, quantity }: PartReport, asked: string): boolean {
  if (asked === '') return true;
  if (asked === ANY_OPEN) return open.length > 0;
  if (asked === NOT_WEIGHED) return weighed.length < quantity;
  return open.some((thing) => thing === asked);
}

function filterCount(view: Filter): number {
  return [view.search, view.group, view.process, view.flag, view.open].filter((asked) => asked !== '').length;
}

export function PartsTools(props: {
  readonly view: View;
  readonly groups: readonly string[];
  readonly processes: readonly string[];
  /** Their numbers. */
  readonly assemblies: readonly string[];
  readonly onChange: (change: Partial<View>) => void;
}) {
  const { view, onChange } = props;
  const [isOpen, setOpen] = useState(false);
  const listed = (all: string, values: readonly string[], named = (value: string) => value) => [
    { value: '', words: all },
    ...values.map((value) => ({ value, words: named(value) })),
  ];
  const pickers = [
    { name: 'group', label: say`Group`, options: listed(say`Every group`, props.groups) },
    { name: 'process', label: say`Process`, options: listed(say`Every process`, props.processes, term) },
    { name: 'flag', label: say`Flag`, options: FLAGS },
    { name: 'open', label: say`Open things`, options: OPEN },
  ] as const;
  return (
    <div className={`parts-tools ${isOpen ? '' : 'closed'}`} role="search" aria-label={say`Which parts`}>
      <SearchField className="search slim" value={view.search} onChange={(search) => onChange({ search })}>
        <Label className="hidden-words">{say`Search the parts`}</Label>
        <Input placeholder={say`Search: number, name, assembly`} />
      </SearchField>
      <span className="filters-button">
        <Button slim aria-expanded={isOpen} onPress={() => setOpen(!isOpen)}>
          {rich`Filters${filterCount(view) === 0 ? '' : ` (${filterCount(view)})`}`}
        </Button>
      </span>
      {pickers.map(({ name, label, options }) => (
        <Picker
          key={name}
          label={label}
          hideLabel
          options={options}
          value={view[name]}
          onChange={(value) => onChange({ [name]: value })}
        />
      ))}
      <Picker
        label={say`Order`}
        hideLabel
        options={[
          { value: 'tree', words: say`By assembly` },
          { value: 'flat', words: say`In one list` },
        ]}
        value={view.isTree ? 'tree' : 'flat'}
        onChange={(value) => onChange({ isTree: value === 'tree' })}
      />
      {view.isTree ? <Fold closed={view.closed} assemblies={props.assemblies} onChange={onChange} /> : null}
      {filterCount(view) > 0 ? (
        <Button slim kind="quiet" onPress={() => onChange(NO_FILTER)}>{say`Show all`}</Button>
      ) : null}
    </div>
  );
}

function Fold(props: {
  readonly closed: ReadonlySet<string>;
  readonly assemblies: readonly string[];
  readonly onChange: (change: Partial<View>) => void;
}) {
  const { closed, assemblies } = props;
  if (assemblies.length === 0) return null;
  const isAnyOpen = assemblies.some((number) => !closed.has(number));
  return (
    <span className="fold">
      <Button slim onPress={() => props.onChange({ closed: new Set(isAnyOpen ? assemblies : []) })}>
        {isAnyOpen ? say`Close all` : say`Open all`}
      </Button>
    </span>
  );
}

export function ColumnsButton(props: {
  readonly shown: ReadonlySet<string>;
  readonly onChange: (shown: ReadonlySet<string>) => void;
}) {
  const [isOpen, setOpen] = useState(false);
  const { shown } = props;
  return (
    <>
      <Button slim onPress={() => setOpen(true)}>{say`Columns`}</Button>
      <Dialog title={say`Columns`} isOpen={isOpen} onClose={() => setOpen(false)}>
        <p className="soft">{say`Kept on this device.`}</p>
        <div className="column-choices">
          {COLUMNS.filter(({ id }) => id !== 'number').map((column) => (
            <label key={column.id}>
              <input
                type="checkbox"
                checked={shown.has(column.id)}
                onChange={(event) => {
                  const next = new Set(shown);
                  if (event.target.checked) next.add(column.id);
                  else next.delete(column.id);
                  props.onChange(next);
                }}
              />
              {column.heading}
              {column.unit === '%' ? say` in %` : ''}
            </label>
          ))}
        </div>
        <div className="acts">
          <Button onPress={() => props.onChange(FIRST_COLUMNS)}>{say`As at first`}</Button>
          <Button kind="main" onPress={() => setOpen(false)}>{say`Done`}</Button>
        </div>
      </Dialog>
    </>
  );
}
