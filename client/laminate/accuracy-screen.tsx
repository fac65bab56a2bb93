/** Estimates by lay-up held against the scale (rule E7), and what was learned offered to the parts that are not weighed yet. */

import { useMemo } from 'react';
import { Link } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { AccuracyReport, AccuracyRow } from '#shared/contract/layup.ts';
import { showPercent } from '#shared/quantity/show.ts';
import { say, term } from '#shared/words/say.ts';
import { useAccuracy } from '../door/queries.ts';
import { Empty, Failed, Waiting } from '../pieces/states.tsx';
import { TableCard } from '../pieces/table-card.tsx';
import { minus, shownIn } from '../pieces/units.ts';
import { shareFigure } from '../words/laminate.ts';
import { rich } from '../words/rich.ts';
import { Offers } from './offers.tsx';
import '../ledger/ledger.css';
import './laminate.css';

const TITLE = say`Lay-ups against the scale`;

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function AccuracyScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const accuracy = useAccuracy(aircraft.id);
  const shown = useMemo(() => shownIn(aircraft), [aircraft]);
  if (accuracy.isPending)
    return (
      <div className="page">
        <h1 className="hidden-words">{TITLE}</h1>
        <Waiting what={say`the lay-ups and their weighings`} />
      </div>
    );
  if (accuracy.isLoadingError)
    return (
      <div className="page stack">
        <h1>{TITLE}</h1>
        <Failed error={accuracy.error} again={() => void accuracy.refetch()} />
      </div>
    );
  const report = accuracy.data;
  return (
    <div className="page stack accuracy-page">
      <Link href={`/aircraft/${aircraft.id}/parts`} className="way-back">{say`All parts`}</Link>
      <div className="stack-tight">
        <h1>{TITLE}</h1>
        <p className="soft">{say`What was calculated from a schedule beside what was weighed, of the moulded mass; Wf is the share of fibre in the laminate by mass. A lot weighed together counts once.`}</p>
      </div>
      <Compared report={report} />
      <Offers aircraft={aircraft} report={report} shown={shown} />
    </div>
  );
}

function Compared({ report }: { readonly report: AccuracyReport }) {
  const { processes, fabrics, pairs, leftOut } = report;
  return (
    <>
      {leftOut === 0 ? null : (
        <p className="notice warn">
          {rich`${leftOut === 1 ? say`One weighing is` : say`${leftOut} weighings are`} lighter than the dry fibre and core of ${leftOut === 1 ? say`its part` : say`their parts`}, which cannot be. ${leftOut === 1 ? say`It teaches` : say`They teach`} nothing until the mix-up is put right.`}
        </p>
      )}
      {pairs.length === 0 ? (
        <Empty title={say`Nothing to compare yet`}>
          <p>{say`As soon as a part with a lay-up schedule is weighed, it stands here beside what was calculated.`}</p>
        </Empty>
      ) : (
        <div className="accuracy-tables">
          <Rows title={say`By process`} of={say`Process`} named={(name) => term(name)} rows={processes} />
          <Rows title={say`By fabric`} of={say`Main fabric`} named={(name) => name} rows={fabrics} />
          <Rows title={say`By process and fabric`} of={say`Process, main fabric`} named={pairWords} rows={pairs} />
        </div>
      )}
    </>
  );
}

function Rows(props: {
  readonly title: string;
  readonly of: string;
  readonly named: (name: string) => string;
  readonly rows: readonly AccuracyRow[];
}) {
  return (
    <TableCard
      title={props.title}
      headings={[
        props.of,
        { figures: say`Weighings` },
        { figures: say`Mean difference (%)` },
        { figures: say`Scatter, 1 sd (%)` },
        { figures: say`Wf as weighed (%)` },
        { figures: say`Wf in schedules (%)` },
      ]}
    >
      {props.rows.map(({ name, count, meanFraction, sdFraction, wf, plannedWf }) => (
        <tr key={name}>
          <th scope="row">{props.named(name)}</th>
          <td className="number">{count}</td>
          <td className="number">{minus(showPercent(meanFraction, { sign: true }))}</td>
          <td className="number">{sdFraction === undefined ? '–' : showPercent(sdFraction)}</td>
          <td className="number">{shareFigure(wf)}</td>
          <td className="number">{showPercent(plannedWf)}</td>
        </tr>
      ))}
    </TableCard>
  );
}

/** `wet lay-up, Carbon twill`: the process in the language of the shop. */
function pairWords(name: string): string {
  const [process = '', ...fabric] = name.split(', ');
  return [term(process), ...fabric].join(', ');
}
