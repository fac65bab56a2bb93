/** What an estimate takes that states no allowance (rule E1): the shop's own where it has set them, else common practice. */

import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { AllowancesReport } from '#shared/contract/set-up.ts';
import { allowanceField, shopGrowth } from '#shared/estimate/allowance.ts';
import { COMMON_ERRORS, ERROR_FIELDS } from '#shared/estimate/shop-errors.ts';
import { Evidence, Process } from '#shared/ledger/entry.ts';
import { showPercent } from '#shared/quantity/show.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { useDraft } from '../record/draft.ts';
import type { Form } from '../record/field-spec.ts';
import { rich } from '../words/rich.ts';
import { Done, FormCard } from './form-parts.tsx';
import { useSetUp } from './questions.ts';
import { StatedIn } from './stated-in.tsx';
import { shareTyped } from './typed-as.ts';
import { useOpenForm } from './use-open-form.ts';

export function AllowancesSection({ aircraft }: { readonly aircraft: AircraftReport }) {
  const setUp = useSetUp(aircraft.id);
  const isLead = useMay('lead');
  const form = useOpenForm<'set'>();
  if (setUp.isPending) return <Waiting what={say`the allowances`} />;
  if (setUp.isLoadingError) return <Failed error={setUp.error} again={() => void setUp.refetch()} />;
  const { allowances } = setUp.data;
  const own = allowances.at(-1);
  if (form.open === 'set') return <AllowancesForm aircraft={aircraft} own={own} onClose={form.close} />;
  return (
    <section className="stack" aria-label={say`Allowances`}>
      <Done words={form.done} />
      <div className="card stack-tight">
        <h2>{say`Growth allowances`}</h2>
        <p>{say`What is added to an estimate that states no allowance of its own, as a share of its mass, until the part is weighed. Estimates that are recorded already keep what they have.`}</p>
        <InForce own={own} />
        {(own?.shares.length ?? 0) === CELL_COUNT ? null : (
          <p className="notice">
            {rich`${own === undefined || own.shares.length === 0 ? '' : say`Where it does not say own: `}${<strong>{say`common practice, no source: adjust to your shop.`}</strong>} Public tables disagree; what your own parts grew by is the better figure.`}
          </p>
        )}
      </div>
      <ErrorsInForce own={own} />
      {isLead ? (
        <div>
          <Button kind={own === undefined ? 'main' : 'plain'} {...form.opens('set')}>
            {own === undefined ? say`Set the shop’s own` : say`Revise the shop’s own`}
          </Button>
        </div>
      ) : null}
      {allowances.length === 0 ? null : (
        <Revisions aircraft={aircraft} allowances={allowances} onCorrected={isLead ? form.corrected : undefined} />
      )}
    </section>
  );
}

const CELL_COUNT = Process.options.length * Evidence.options.length;

function InForce({ own }: { readonly own: AllowancesReport | undefined }) {
  const isOwn = (process: Process, evidence: Evidence) =>
    own?.shares.some((share) => share.process === process && share.evidence === evidence) === true;
  return (
    <table className="allowances">
      <thead>
        <tr>
          <th scope="col">{say`Process`}</th>
          {Evidence.options.map((evidence) => (
            <th key={evidence} scope="col" className="number">
              {term(evidence)}, %
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {Process.options.map((process) => (
          <tr key={process}>
            <th scope="row">{term(process)}</th>
            {Evidence.options.map((evidence) => (
              <td key={evidence} className="number">
                {isOwn(process, evidence) ? <strong>{say`own`} </strong> : null}
                {showPercent(shopGrowth(process, evidence, own))}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** What is believed of processes and pieces before the scale says otherwise (rule F1). */
function ErrorsInForce({ own }: { readonly own: AllowancesReport | undefined }) {
  const from = (stated: number | undefined) =>
    stated === undefined ? say`common practice, no source` : say`the shop’s own`;
  return (
    <div className="card stack-tight">
      <h2>{say`What the forecast takes for granted`}</h2>
      <dl className="facts">
        <div>
          <dt>
            {rich`a process misses its estimates by ${<span className="soft">({from(own?.processShiftStd)})</span>}`}
          </dt>
          <dd>{rich`${showPercent(own?.processShiftStd ?? COMMON_ERRORS.processShiftStd)} %`}</dd>
        </div>
        <div>
          <dt>
            {rich`one piece differs from the next by ${<span className="soft">({from(own?.pieceToPieceStd)})</span>}`}
          </dt>
          <dd>{rich`${showPercent(own?.pieceToPieceStd ?? COMMON_ERRORS.pieceToPieceStd)} %`}</dd>
        </div>
      </dl>
      <p className="soft small">{say`Each is one standard deviation of what is moulded. The first holds until a process has released parts; the second for every estimate that states no uncertainty.`}</p>
    </div>
  );
}

function Revisions(props: {
  readonly aircraft: AircraftReport;
  readonly allowances: readonly AllowancesReport[];
  readonly onCorrected: ((recorded: RecordedReport) => void) | undefined;
}) {
  const { aircraft, allowances, onCorrected } = props;
  return (
    <div className="card stack-tight">
      <h2>{say`The shop’s own, by revision`}</h2>
      <ul className="set-up-list">
        {[...allowances].reverse().map((one, at) => (
          <li key={one.seq}>
            {one.reason ?? say`the first of its own`}
            {at === 0 ? say` · in force` : ''}
            <span className="soft small block">
              {statedInWords(one)} · {one.by}, {dayWords(one.happenedOn)},{' '}
              <StatedIn aircraft={aircraft} of={one} onCorrected={onCorrected} />
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}

function statedInWords({ shares, processShiftStd, pieceToPieceStd }: AllowancesReport): string {
  const perCent = (name: string, fraction: number | undefined) =>
    fraction === undefined ? [] : [`${name} ${showPercent(fraction)}\u00a0%`];
  const stated = [
    ...shares.flatMap(({ process, evidence, growth }) => perCent(`${process} ${evidence}`, growth)),
    ...perCent('a process misses by', processShiftStd),
    ...perCent('a piece differs by', pieceToPieceStd),
  ];
  return stated.length === 0 ? say`back to common practice` : stated.join(', ');
}

function AllowancesForm(props: {
  readonly aircraft: AircraftReport;
  readonly own: AllowancesReport | undefined;
  readonly onClose: (words?: string) => void;
}) {
  const { aircraft, own } = props;
  const draft = useDraft(`${aircraft.id} set-up allowances`, () => wordsOf(own));
  return (
    <div className="allowances-form">
      <FormCard
        title={say`The shop’s own allowances`}
        aircraft={aircraft}
        kind="allowances"
        draft={draft}
        before={
          <p className="soft">{say`The whole table is stated each time: a field that is left empty is common practice again.`}</p>
        }
        main={say`Record the allowances`}
        onRecorded={({ entry }) =>
          props.onClose(say`Recorded as entry ${entry.seq}. Estimates that are recorded from now on take them.`)
        }
        onClose={() => props.onClose()}
      />
    </div>
  );
}

function wordsOf(own: AllowancesReport | undefined): Form {
  if (own === undefined) return {};
  const stated = [
    ...own.shares.map(({ process, evidence, growth }) => [allowanceField(process, evidence), growth] as const),
    [ERROR_FIELDS.processShiftStd, own.processShiftStd] as const,
    [ERROR_FIELDS.pieceToPieceStd, own.pieceToPieceStd] as const,
  ];
  return Object.fromEntries(
    stated.flatMap(([field, share]) => (share === undefined ? [] : [[field, own.typed[field] ?? shareTyped(share)]])),
  );
}
