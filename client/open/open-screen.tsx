/** Everything that somebody still has to do, in one table, costliest first; each row has the act that closes it (rule D6). */

import { useEffect, useMemo, useRef, useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { say, term } from '#shared/words/say.ts';
import { CauseDialog } from '../drift/cause-dialog.tsx';
import { DecideDialog } from '../drift/decide-dialog.tsx';
import { SmallCauseDialog } from '../drift/small-cause-dialog.tsx';
import { Picker } from '../pieces/controls.tsx';
import { Empty, Failed, Waiting } from '../pieces/states.tsx';
import { type Shown, shownIn } from '../pieces/units.ts';
import { RecordedNotice } from '../record/recorded-notice.tsx';
import { rich } from '../words/rich.ts';
import { subjectText } from './about.tsx';
import type { Act } from './acts.ts';
import { ItemDialog } from './item-dialog.tsx';
import { OpenRow } from './open-row.tsx';
import { type OpenThing, type OpenThingWhat, OVERDUE } from './overdue.ts';
import { countOf, type OpenList, useOpenList } from './questions.ts';
import './open.css';

type Doing = { readonly act: Act; readonly item: OpenThing };

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function OpenScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const [what, setWhat] = useState<OpenThingWhat>();
  const [doing, setDoing] = useState<Doing>();
  const [recorded, setRecorded] = useState<RecordedReport>();
  const told = useRef<HTMLHeadingElement>(null);
  const open = useOpenList(aircraft.id, what);
  const { data } = open;
  // What was closed is gone, and the button that had the keyboard with it: the keyboard goes on from the title.
  useEffect(() => {
    if (data !== undefined && recorded !== undefined && document.activeElement === document.body) told.current?.focus();
  }, [data, recorded]);
  const { massUnit, lengthUnit } = aircraft;
  const shown = useMemo(() => shownIn({ massUnit, lengthUnit }), [massUnit, lengthUnit]);
  if (open.isLoadingError)
    return (
      <div className="page stack">
        <h1>{say`What is open`}</h1>
        <Failed error={open.error} again={open.again} />
      </div>
    );
  if (data === undefined)
    return (
      <div className="page">
        <h1 className="hidden-words">{say`What is open`}</h1>
        <Waiting what={say`what is open`} />
      </div>
    );
  const close = () => setDoing(undefined);
  const done = (one: RecordedReport) => {
    close();
    setRecorded(one);
  };
  return (
    <div className="page stack open-page">
      <div className="stack-tight">
        <h1 ref={told} tabIndex={-1}>{say`What is open`}</h1>
        <p className="soft">{say`Costliest first. Effects are told one by one: two things that are open about one weighing have one effect, and group, process and lot may share theirs.`}</p>
      </div>
      <div role="status">
        {recorded === undefined ? null : <RecordedNotice aircraft={aircraft} recorded={recorded} />}
      </div>
      {open.missing === undefined ? null : (
        <div className="stack-tight">
          <p>{say`Proposals that are overdue are missing from this list and from its count: they could not be read.`}</p>
          <Failed error={open.missing} again={open.again} />
        </div>
      )}
      <OpenTable
        report={data}
        isWhole={open.missing === undefined}
        isNew={aircraft.headSeq === 1}
        what={what}
        onWhat={setWhat}
        shown={shown}
        aircraftId={aircraft.id}
        onAct={(act, item) => setDoing({ act, item })}
      />
      {doing === undefined ? null : <DoIt aircraft={aircraft} doing={doing} onRecorded={done} onClose={close} />}
    </div>
  );
}

function OpenTable(props: {
  readonly report: OpenList;
  /** Nothing of the list is missing. */
  readonly isWhole: boolean;
  /** Nothing is recorded but the aircraft itself. */
  readonly isNew: boolean;
  readonly what: OpenThingWhat | undefined;
  readonly onWhat: (what: OpenThingWhat | undefined) => void;
  readonly shown: Shown;
  readonly aircraftId: string;
  readonly onAct: (act: Act, item: OpenThing) => void;
}) {
  const { report, what, shown } = props;
  const { counts, items } = report;
  const all = countOf(report);
  const asked = what === undefined ? all : (counts.find((one) => one.what === what)?.count ?? 0);
  const known = what === undefined || asked > 0 ? counts : [...counts, { what, count: 0 }];
  if (all === 0 && what === undefined)
    return !props.isWhole ? (
      <p>{say`Nothing else is open.`}</p>
    ) : props.isNew ? (
      <Empty title={say`Nothing is open yet`}>
        <p>{say`A part that drifts, a cause or a decision that is missing, a scale in doubt: each stands here with what it costs and the button that closes it.`}</p>
      </Empty>
    ) : (
      <p className="notice good">{say`● Nothing is open: every flag has its cause and its decision, and nothing is missing.`}</p>
    );
  return (
    <section className="card stack-tight" aria-label={say`The open list`}>
      <div className="row between open-tools no-print">
        <Picker
          label={say`Show`}
          options={[
            { value: '', words: say`everything (${all})` },
            ...known.map((one) => ({ value: one.what, words: say`${term(one.what)} (${one.count})` })),
          ]}
          value={what ?? ''}
          onChange={(next) => props.onWhat(known.find((one) => one.what === next)?.what)}
        />
        <p className="soft small">
          {items.length < asked
            ? say`The ${items.length} costliest of ${asked}; the next come up as these are closed.`
            : null}
        </p>
      </div>
      {asked === 0 ? <p className="soft">{say`Nothing of this kind is open.`}</p> : null}
      {items.length === 0 ? null : (
        <table className="open-table">
          <thead>
            <tr>
              <th scope="col">{say`What is open`}</th>
              <th scope="col">{say`About it`}</th>
              <th scope="col">{say`Since`}</th>
              <th scope="col" className="number">
                {rich`on margin, ${shown.units.mass}`}
              </th>
              <th scope="col" className="number">{say`on CG`}</th>
              <th scope="col" className="no-print">{say`Close it`}</th>
            </tr>
          </thead>
          <tbody>
            {items.map((item) => (
              <OpenRow key={keyOf(item)} item={item} shown={shown} aircraftId={props.aircraftId} onAct={props.onAct} />
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

function keyOf(item: OpenThing): string {
  if (item.what === OVERDUE) return item.proposalId;
  const { what, of, subject, weighing } = item;
  return `${what} ${of} ${subject} ${weighing?.seq ?? ''} ${weighing?.pieces[0] ?? ''}`;
}

function DoIt(props: {
  readonly aircraft: AircraftReport;
  readonly doing: Doing;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
}) {
  const { doing, ...rest } = props;
  const { act, item } = doing;
  if (act.by === 'entry') return <ItemDialog {...rest} act={act} subject={subjectText(item)} />;
  const { of, subject } = item;
  if (act.by === 'sum cause')
    return of === 'group' || of === 'process' || of === 'lot' ? (
      <SmallCauseDialog {...rest} sum={{ by: of, name: subject }} />
    ) : null;
  const { weighing, flag = 'in line', name = '' } = item;
  if (act.by === 'screen' || weighing === undefined) return null;
  const { seq: weighingSeq, pieces, quantity, cause } = weighing;
  const finding = { number: item.subject, name, pieces, quantity, weighingSeq, flag, cause, marginKg: item.marginKg };
  return act.by === 'cause' ? (
    <CauseDialog {...rest} finding={finding} />
  ) : (
    <DecideDialog {...rest} finding={finding} />
  );
}
