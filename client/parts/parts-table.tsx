/** The table of parts with what stands around it: filters above, a count below, and the questions that a change can raise. */

import { useMemo, useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { AircraftReport, PartsReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import type { Line } from '#shared/part/arrange.ts';
import { counted, LOCALE, say } from '#shared/words/say.ts';
import { useGroups } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Empty } from '../pieces/states.tsx';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { AddPart } from './add-part.tsx';
import { CorrectAsk, type Correcting, RemoveAsk } from './asks.tsx';
import { COLUMNS, type Column } from './columns.tsx';
import { ExportButton } from './export-button.tsx';
import { PartsGrid } from './grid.tsx';
import { NO_FILTER, useShownColumns, useView } from './remembered.ts';
import { ColumnsButton, PartsTools } from './tools.tsx';
import { Unrecorded } from './unrecorded.tsx';
import { useArranged } from './use-arranged.ts';
import { cellKey, useEdits } from './use-edits.ts';
import type { Spot } from './use-grid-keys.ts';
import './parts.css';

export function PartsTable(props: {
  readonly aircraft: AircraftReport;
  readonly shown: Shown;
  readonly known: PartsReport;
  readonly targets: ReadonlyMap<string, number>;
}) {
  const { aircraft, shown, known, targets } = props;
  const { parts } = known;
  const mayEdit = useMay('engineer');
  const mayBring = useMay('crew');
  const [, navigate] = useLocation();
  const [view, change] = useView(aircraft.id);
  const [shownColumns, setShownColumns] = useShownColumns();
  const edits = useEdits(aircraft, shown, known.seq);
  const [correcting, setCorrecting] = useState<Correcting>();
  const [removing, setRemoving] = useState<PartReport>();
  const [isAdding, setAdding] = useState(false);
  const [editing, setEditing] = useState<Spot>();
  const [focusTurn, setFocusTurn] = useState(0);
  const columns = useMemo(() => COLUMNS.filter(({ id }) => shownColumns.has(id)), [shownColumns]);
  const { lines, around, groups, processes, assemblies } = useArranged(parts, view, shown, targets);
  const offeredGroups = useGroups(aircraft.id);
  const active = parts.find(({ partId }) => partId === view.active.partId);
  const hrefOf = ({ partId }: PartReport) => `/aircraft/${aircraft.id}/parts/${partId}`;
  const backToTable = () => setFocusTurn((turn) => turn + 1);
  const record = async (part: PartReport, column: Column) => {
    if (column.edit?.records === 'estimate') return edits.record(part, column);
    const edit = edits.byCell.get(cellKey(part.partId, column.id));
    if (edit !== undefined) setCorrecting({ part, column, text: edit.text });
    return false;
  };
  return (
    <div className="page parts-page">
      <div className="row parts-title">
        <h1>{say`Parts`}</h1>
        <div className="row parts-acts">
          {parts.length === 0 ? null : (
            <>
              <ColumnsButton shown={shownColumns} onChange={setShownColumns} />
              <ExportButton aircraft={aircraft} />
              <Link href={`/aircraft/${aircraft.id}/labels`} className="button slim">{say`Labels`}</Link>
              <Link
                href={`/aircraft/${aircraft.id}/lay-up-accuracy`}
                className="button slim"
              >{say`Lay-ups against the scale`}</Link>
            </>
          )}
          {mayBring ? (
            <Link href={`/aircraft/${aircraft.id}/bring`} className="button slim">{say`Bring a list`}</Link>
          ) : null}
          {mayEdit ? <Button slim kind="main" onPress={() => setAdding(true)}>{say`Add a part`}</Button> : null}
        </div>
      </div>
      {parts.length === 0 ? (
        <NoParts mayEdit={mayEdit} />
      ) : (
        <>
          <PartsTools {...{ view, groups, processes, assemblies }} onChange={change} />
          <Unrecorded
            {...{ edits, editing, parts }}
            onGo={(spot) => {
              change({ ...NO_FILTER, active: spot, closed: new Set() });
              backToTable();
            }}
          />
          {lines.length === 0 ? <p className="notice">{say`No part fits what is asked for.`}</p> : null}
          <PartsGrid
            label={say`Parts of ${aircraft.name}`}
            {...{ lines, columns, around, mayEdit, edits, editing, hrefOf, focusTurn }}
            onEdit={setEditing}
            isTree={view.isTree}
            sort={view.sort}
            active={view.active}
            onGo={(spot) => change({ active: spot })}
            onSort={({ id }) => change({ sort: { column: id, isDown: view.sort.column === id && !view.sort.isDown } })}
            onToggle={({ number }) => change({ closed: turned(view.closed, number) })}
            onOpen={(part) => navigate(hrefOf(part))}
            onRecord={record}
            onRemove={setRemoving}
            offersFor={({ id }) => (id === 'group' ? offeredGroups : undefined)}
          />
          <Foot
            words={countWords(lines, parts, shown)}
            active={active}
            onOpen={(part) => navigate(hrefOf(part))}
            onLayUp={(part) => navigate(`${hrefOf(part)}/lay-up`)}
            onRemove={mayEdit ? setRemoving : undefined}
          />
        </>
      )}
      {isAdding ? (
        <AddPart
          {...{ aircraft, shown }}
          begin={{ group: active?.group ?? '', assembly: active?.assembly ?? '' }}
          onClose={() => setAdding(false)}
        />
      ) : null}
      {correcting === undefined ? null : (
        <CorrectAsk
          {...{ aircraft, shown, correcting }}
          onRecorded={(seq) => edits.recorded(correcting.part, correcting.column, seq)}
          onClose={() => {
            setCorrecting(undefined);
            backToTable();
          }}
        />
      )}
      {removing === undefined ? null : (
        <RemoveAsk
          {...{ aircraft, part: removing }}
          onClose={() => {
            setRemoving(undefined);
            backToTable();
          }}
        />
      )}
    </div>
  );
}

function NoParts({ mayEdit }: { readonly mayEdit: boolean }) {
  return (
    <Empty title={say`No parts yet`}>
      <p>{mayEdit ? say`Bring a parts list, or add them one by one.` : say`The engineer adds them.`}</p>
    </Empty>
  );
}

function Foot(props: {
  readonly words: string;
  readonly active: PartReport | undefined;
  readonly onOpen: (part: PartReport) => void;
  readonly onLayUp: (part: PartReport) => void;
  readonly onRemove: ((part: PartReport) => void) | undefined;
}) {
  const { active, onOpen, onRemove } = props;
  return (
    <div className="row parts-foot">
      <p className="soft small" role="status">
        {props.words}
      </p>
      {active === undefined ? null : (
        <div className="row parts-acts">
          <Button slim kind="quiet" onPress={() => onOpen(active)}>
            {rich`Everything about ${active.number}`}
          </Button>
          <Button slim kind="quiet" onPress={() => props.onLayUp(active)}>{say`Its lay-up`}</Button>
          {onRemove === undefined ? null : (
            <Button slim kind="quiet" onPress={() => onRemove(active)}>{rich`Remove ${active.number} …`}</Button>
          )}
        </div>
      )}
    </div>
  );
}

function turned(closed: ReadonlySet<string>, number: string): ReadonlySet<string> {
  const next = new Set(closed);
  if (!next.delete(number)) next.add(number);
  return next;
}

/** Closed assemblies hide lines, not parts: what is counted is what was asked for. */
function countWords(lines: readonly Line<PartReport>[], parts: readonly PartReport[], shown: Shown): string {
  const asked = lines.filter(({ isAsked }) => isAsked);
  const sumKg = asked.reduce((sum, { part }) => sum + part.predictedKg, 0);
  const all = counted(parts.length, 'part', 'parts');
  const some = asked.length === parts.length ? all : say`${asked.length.toLocaleString(LOCALE)} of ${all}`;
  return say`${some} in sight, predicted ${shown.massWithUnit(sumKg)} together`;
}
