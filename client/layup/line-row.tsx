/** One line of the schedule: what it is of, how much of it, when it goes on; and what it weighs as it is typed. */

import { type DragEvent, useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { type LineDraft, placeOf, unitsFor } from '#shared/layup/draft.ts';
import type { Material } from '#shared/layup/material.ts';
import { MATERIALS_OF } from '#shared/layup/refusals.ts';
import { LINE_KINDS, type LineKind, On, USUALLY_ON } from '#shared/layup/schedule.ts';
import { SHARE_KINDS } from '#shared/layup/shares.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { percent, type Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { Cell, Problems } from './cell.tsx';
import { BEVEL_FIELDS, FIELD_LABELS, FIELDS_OF, KERF_FIELDS, KIND_WORDS, ON_WORDS } from './line-fields.ts';
import { MaterialBox } from './material-box.tsx';
import type { Schedule } from './use-schedule.ts';

export const DRAGGED = 'application/x-lay-up-line';

export type LineShows = {
  readonly of: Schedule;
  readonly aircraft: AircraftReport;
  readonly materials: readonly Material[];
  readonly shown: Shown;
};

const KIND_OPTIONS = LINE_KINDS.map((value) => ({ value, words: KIND_WORDS[value] }));

export function LineRow(
  props: LineShows & { readonly line: LineDraft; readonly at: number; readonly isAlike: boolean },
) {
  const { of, line, aircraft } = props;
  const { key, words } = line;
  const [isOver, setOver] = useState(false);
  const is = kindOf(words);
  const unitOf = unitsFor(aircraft.lengthUnit);
  const name = say`Line ${props.at + 1}`;
  const cell = (field: (typeof FIELDS_OF)[LineKind][number]) => (
    <Cell
      key={field.name}
      of={of}
      at={key}
      field={field}
      value={words[field.name] ?? ''}
      unit={field.name === 'bevel' ? '°' : unitOf(field.name)}
    />
  );
  const drop = (event: DragEvent) => {
    setOver(false);
    const dragged = event.dataTransfer.getData(DRAGGED);
    const to = placeOf(of.draft, key);
    if (dragged === '' || dragged === key || to === undefined) return;
    event.preventDefault();
    of.moveLine(dragged, to);
  };
  const fields = FIELDS_OF[is];
  return (
    <li
      className={`line ${is.replace(' ', '-')} ${props.isAlike ? 'alike' : ''} ${isOver ? 'dropped-on' : ''}`}
      aria-label={`${name}, ${KIND_WORDS[is]}${words['material'] === undefined || words['material'] === '' ? '' : say` of ${words['material']}`}`}
      data-line={key}
      onDragOver={(event) => {
        if (!event.dataTransfer.types.includes(DRAGGED)) return;
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={drop}
    >
      <div className="line-main">
        {/* biome-ignore lint/a11y/noStaticElementInteractions: for the mouse only; the keyboard moves a line from any of its fields. */}
        <span
          className="line-handle"
          draggable
          title={say`Drag it to another place, or Alt with an arrow key`}
          onDragStart={(event) => {
            event.dataTransfer.setData(DRAGGED, key);
            event.dataTransfer.effectAllowed = 'move';
          }}
        >
          <span aria-hidden="true">⠿</span> {props.at + 1}
        </span>
        <Cell of={of} at={key} field={{ name: 'is', label: say`It is a`, options: KIND_OPTIONS }} value={is} />
        <MaterialBox
          {...{ of, aircraft, materials: props.materials }}
          at={key}
          field="material"
          label={say`Material`}
          value={words['material'] ?? ''}
          kinds={MATERIALS_OF[is]}
        />
        {fields.map(cell)}
        {fields.length < 3 ? <span className="line-gap" data-gap={3 - fields.length} /> : null}
        <Cell of={of} at={key} field={ON_FIELD} value={words['on'] ?? USUALLY_ON[is]} />
        <LineMass {...props} />
        <span className="line-acts">
          <button
            type="button"
            className="button slim quiet"
            aria-label={say`Remove ${name.toLowerCase()}`}
            onClick={() => of.removeLine(key)}
          >
            ✕
          </button>
        </span>
      </div>
      {is === 'core' ? <Edges of={of} line={line} cell={cell} /> : null}
      <Problems of={of} at={key} labelOf={(field) => FIELD_LABELS.get(field) ?? field} />
      <Notes of={of} lineKey={key} />
    </li>
  );
}

const ON_FIELD = {
  name: 'on',
  label: say`Goes on`,
  options: On.options.map((value) => ({ value, words: ON_WORDS[value] })),
};

export function kindOf(words: LineDraft['words']): LineKind {
  return LINE_KINDS.find((kind) => kind === words['is']) ?? 'ply';
}

/** What only some cores have: asked for where there is a bevel or a kerf. */
function Edges(props: {
  readonly of: Schedule;
  readonly line: LineDraft;
  readonly cell: (field: (typeof KERF_FIELDS)[number]) => React.ReactNode;
}) {
  const { words } = props.line;
  const [isOpen, setOpen] = useState(false);
  const hasKerfs = KERF_FIELDS.some(({ name }) => (words[name] ?? '') !== '');
  return (
    <div className="line-more">
      {(words['bevel'] ?? '').trim() === '' ? null : BEVEL_FIELDS.map(props.cell)}
      {hasKerfs || isOpen ? (
        KERF_FIELDS.map(props.cell)
      ) : (
        <Button slim kind="quiet" onPress={() => setOpen(true)}>{say`It has kerfs …`}</Button>
      )}
    </div>
  );
}

function LineMass({ of, line, shown }: Pick<LineShows, 'of' | 'shown'> & { readonly line: LineDraft }) {
  const computed = of.read.lineOf.get(line.key);
  if (computed === undefined)
    return (
      <span className="line-mass">
        <span className="cell-label">{rich`Mass (${shown.units.mass})`}</span>
        <span className="soft">–</span>
      </span>
    );
  const { value, std } = shown.massWithStd(computed.massKg, computed.stdKg);
  return (
    <span className="line-mass">
      <span className="cell-label">{rich`Mass (${shown.units.mass})`}</span>
      <span className="line-figure">
        <strong>{value}</strong>
        {std === undefined ? '' : ` ± ${std}`}
      </span>
      <span className="line-share">
        <ShareBar share={computed.share} byKindKg={computed.byKindKg} />
        <span>{percent(computed.share)}</span>
      </span>
    </span>
  );
}

/** How much of the whole, parted by what it is of. The figures beside it say the same. */
export function ShareBar(props: {
  readonly share: number;
  readonly byKindKg: Readonly<Record<(typeof SHARE_KINDS)[number], number>>;
}) {
  const sumKg = SHARE_KINDS.reduce((sum, kind) => sum + props.byKindKg[kind], 0);
  return (
    <span className="share-bar" aria-hidden="true">
      {SHARE_KINDS.map((kind) =>
        props.byKindKg[kind] > 0 ? (
          <span
            key={kind}
            className={`of-${kind}`}
            style={{ width: `${((props.share * props.byKindKg[kind]) / sumKg) * 100}%` }}
          />
        ) : null,
      )}
    </span>
  );
}

const NOTES = {
  'corners left out': say`The bevel runs around an outline that is no rectangle: what its corners change is left out.`,
  'covers more than its region': say`It covers more than its region: counted with its laps.`,
} as const;

function Notes({ of, lineKey }: { readonly of: Schedule; readonly lineKey: string }) {
  const notes = of.read.lineOf.get(lineKey)?.notes ?? [];
  return notes.map((note) => (
    <p key={note} className="soft small line-note">
      {NOTES[note]}
    </p>
  ));
}
