/** The judgement of the reading, before it is saved: in line or not, by how much, and what it does to the aircraft. */

import type { ReactNode } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { JudgementReport } from '#shared/contract/drift.ts';
import type { PartReport, PreviewReport } from '#shared/contract/reports.ts';
import { isFlagged } from '#shared/drift/part-drift.ts';
import { toMassNg } from '#shared/quantity/exact.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { say } from '#shared/words/say.ts';
import { LaminateVerdict } from '../laminate/verdict.tsx';
import { Button, Field, Picker } from '../pieces/controls.tsx';
import { FlagWord, lookOf } from '../pieces/flag-word.tsx';
import { Failed } from '../pieces/states.tsx';
import { percent, type Shown, shownIn } from '../pieces/units.ts';
import { momentOf } from '../queue/words-of.ts';
import { driftCausesOr } from '../words/choices.ts';
import { JUDGED_HERE, NOT_JUDGED } from '../words/offline.ts';
import { rich } from '../words/rich.ts';
import { isAssembly } from './reading.ts';
import type { Preview } from './use-preview.ts';

const CAUSES = driftCausesOr(say`Not known yet: stays on the open list`);

/** Where the strip at the lower edge leads. */
export const JUDGEMENT_ID = 'judgement';

export function JudgementPanel(props: {
  readonly aircraft: AircraftReport;
  readonly part: PartReport;
  readonly preview: Preview;
  readonly missing: string | undefined;
  /** What looks like a slip, and the answers to it. */
  readonly question: ReactNode;
  readonly cause: string;
  readonly onCause: (cause: string) => void;
  readonly remark: string;
  readonly onRemark: (remark: string) => void;
}) {
  const { preview, part } = props;
  const shown = shownIn(props.aircraft);
  const judgement = preview.data?.judgement;
  return (
    <section className="card stack judgement" id={JUDGEMENT_ID} aria-label={say`Judgement`}>
      <div aria-live="polite" className="stack">
        {props.missing === undefined ? null : <p className="soft">{props.missing}</p>}
        {preview.isUnjudged ? <NotJudged again={preview.again} /> : null}
        {preview.error === undefined || preview.isUnjudged ? null : (
          <Failed error={preview.error} again={preview.again} />
        )}
        {preview.judgedHere === undefined ? null : (
          <p className="notice">{JUDGED_HERE(preview.judgedHere.seq, momentOf(preview.judgedHere.at))}</p>
        )}
        {preview.data === undefined ? null : <Judged preview={preview.data} part={part} shown={shown} />}
      </div>
      {props.question}
      {judgement !== undefined && isFlagged(judgement.flag) ? (
        <>
          {isAssembly(part) ? null : (
            <Picker label={say`Why?`} options={CAUSES} value={props.cause} onChange={props.onCause} />
          )}
          <Field label={say`Note`} value={props.remark} onChange={props.onRemark} />
          {judgement.flag === 'drifting light' && preview.data?.laminate?.verdict !== 'dry' ? (
            <p className="notice warn">{say`A light part can be a weak part, with a dry laminate or a missing ply: inspect before use.`}</p>
          ) : null}
        </>
      ) : null}
      {preview.data === undefined ? null : <Effects preview={preview.data} shown={shown} />}
    </section>
  );
}

/** Nobody can say whether it is in line: that is said, and the reading can be saved all the same. */
function NotJudged({ again }: { readonly again: () => void }) {
  return (
    <div className="notice warn stack-tight">
      <strong>{NOT_JUDGED.title}</strong>
      <p>{NOT_JUDGED.words}</p>
      <div>
        <Button onPress={again}>{NOT_JUDGED.again}</Button>
      </div>
    </div>
  );
}

/** What the figure says of the part. */
export function Judged(props: { readonly preview: PreviewReport; readonly part: PartReport; readonly shown: Shown }) {
  const { preview, part, shown } = props;
  return (
    <>
      {preview.judgement === undefined ? (
        <p className="notice">
          {isAssembly(part)
            ? say`${part.number} has been weighed in a later condition already: that weighing goes on counting.`
            : say`${part.number} has no estimate yet: the weighing is kept and counts, there is nothing to compare it with.`}
        </p>
      ) : (
        <Verdict judgement={preview.judgement} preview={preview} shown={shown} isAssembly={isAssembly(part)} />
      )}
      {preview.laminate === undefined ? null : <LaminateVerdict laminate={preview.laminate} />}
    </>
  );
}

function Verdict(props: {
  readonly judgement: JudgementReport;
  readonly preview: PreviewReport;
  readonly shown: Shown;
  readonly isAssembly: boolean;
}) {
  const { judgement, preview } = props;
  const { massWithUnit } = props.shown;
  const share = judgement.differenceFraction;
  return (
    <div className={`verdict ${lookOf(judgement.flag)}`}>
      <p className="verdict-flag">
        <FlagWord flag={judgement.flag} />
      </p>
      <p className="verdict-difference">
        {massWithUnit(judgement.differenceKg, { sign: true })}
        {share === undefined ? null : <span className="verdict-share">{percent(share, { sign: true })}</span>}
      </p>
      <dl className="figures">
        <dt>{props.isAssembly ? say`Net` : say`Net, one piece`}</dt>
        <dd>{massWithUnit(judgement.netKg)}</dd>
        <dt>{props.isAssembly ? say`Expected, of its parts` : say`Expected`}</dt>
        <dd>{massWithUnit(judgement.expectedKg)}</dd>
        <dt>{say`Limit`}</dt>
        <dd>±{massWithUnit(judgement.limitKg)}</dd>
      </dl>
      {judgement.isTold ? null : <p>{say`The scale cannot tell this difference from none.`}</p>}
      <AllowanceWords preview={preview} />
    </div>
  );
}

/** "Of the 24 % that the estimate left for growth this uses 10": and why a heavy part may lower the predicted weight. */
function AllowanceWords({ preview }: { readonly preview: PreviewReport }) {
  const { allowanceFraction: allowed, allowanceUsedFraction: used } = preview;
  if (allowed === undefined || used === undefined || allowed <= 0) return null;
  const points = (fraction: number) => showFixed(fraction * 100, 0);
  const left = say`Of the ${points(allowed)} % that the estimate left for growth`;
  const words =
    used <= 0
      ? say`${left} it uses none.`
      : used <= allowed
        ? say`${left} it uses ${points(used)}.`
        : say`${left} it uses all, and ${points(used - allowed)} more.`;
  // Only where the allowance is what makes it fall, and not, say, the reading that a correction takes back.
  const fallKg = preview.predictedBeforeKg - preview.predictedAfterKg;
  const isSurprising = used > 0 && fallKg > 0 && toMassNg(fallKg) <= toMassNg(preview.allowanceFreedKg);
  return (
    <div className="stack-tight">
      <div className="allowance" aria-hidden="true">
        <span
          className={`allowance-used ${used > allowed ? 'all' : ''}`}
          style={{ width: `${Math.min(1, Math.max(0, used / allowed)) * 100}%` }}
        />
      </div>
      <p>
        {words}
        {isSurprising
          ? say` What has been weighed needs no allowance any more, and so the predicted weight falls, although the part is heavier than its estimate.`
          : ''}
      </p>
    </div>
  );
}

/** What it does to the aircraft. */
export function Effects({ preview, shown }: { readonly preview: PreviewReport; readonly shown: Shown }) {
  const { mass, length, units } = shown;
  return (
    <table className="effects">
      <caption className="hidden-words">{say`What it does to the aircraft`}</caption>
      <thead>
        <tr>
          <th scope="col">{say`The aircraft`}</th>
          <th scope="col" className="number">{say`now`}</th>
          <th scope="col" className="number">{say`with it`}</th>
        </tr>
      </thead>
      <tbody>
        <tr>
          <th scope="row">{rich`Predicted empty weight, ${units.mass}`}</th>
          <td className="number">{mass(preview.predictedBeforeKg)}</td>
          <td className="number">{mass(preview.predictedAfterKg)}</td>
        </tr>
        {preview.marginAfterKg === undefined ? null : (
          <tr>
            <th scope="row">{rich`Margin, ${units.mass}`}</th>
            <td className="number">
              {mass(preview.marginAfterKg + preview.predictedAfterKg - preview.predictedBeforeKg, { sign: true })}
            </td>
            <td className="number">{mass(preview.marginAfterKg, { sign: true })}</td>
          </tr>
        )}
        <tr>
          <th scope="row">{rich`CG x, ${units.length}`}</th>
          <td className="number">{length(preview.cgBeforeXM)}</td>
          <td className="number">{length(preview.cgAfterXM)}</td>
        </tr>
      </tbody>
    </table>
  );
}
