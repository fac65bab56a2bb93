/** The proposals of an aircraft: whose, what each saves, how likely and by when, and whether it still fits the ledger (rule F8). */

import type { ProposalReport } from '#shared/contract/proposal.ts';
import { dayWords, momentWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import type { Shown } from '../pieces/units.ts';
import { changeInWords, likelihoodInWords, STATE_WORDS, UNFIT_WORDS } from '../words/proposals.ts';
import { rich } from '../words/rich.ts';

type Acts = {
  /** Undefined where the person only reads. */
  readonly onChange: ((proposal: ProposalReport) => void) | undefined;
  readonly onTake: (proposal: ProposalReport) => void;
};

export function ProposalList(props: { readonly proposals: readonly ProposalReport[]; readonly shown: Shown } & Acts) {
  const { shown } = props;
  return (
    <table className="proposals" aria-label={say`Proposals`}>
      <thead>
        <tr>
          <th scope="col">{say`Proposal`}</th>
          <th scope="col">{say`State`}</th>
          <th scope="col">{say`Owner`}</th>
          <th scope="col" className="number">
            {rich`Saves, ${shown.units.mass}`}
          </th>
          <th scope="col" className="number">{say`Likelihood`}</th>
          <th scope="col">{say`Due`}</th>
          <th scope="col">
            <span className="hidden-words">{say`What to do`}</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {inTurn(props.proposals).map((proposal) => (
          <ProposalRow
            key={proposal.proposalId}
            {...{ proposal, shown, onChange: props.onChange, onTake: props.onTake }}
          />
        ))}
      </tbody>
    </table>
  );
}

/** Where a link to one proposal leads. */
export function proposalRowId(proposalId: string): string {
  return `proposal-${proposalId}`;
}

/** What is still to be done first, by its day; then what is closed, the last one first. */
function inTurn(proposals: readonly ProposalReport[]): readonly ProposalReport[] {
  const isLive = ({ state }: ProposalReport) => state === 'open' || state === 'agreed';
  const live = proposals.filter(isLive).sort((a, b) => a.due.localeCompare(b.due));
  return [...live, ...proposals.filter((one) => !isLive(one)).reverse()];
}

function ProposalRow({
  proposal,
  shown,
  onChange,
  onTake,
}: { readonly proposal: ProposalReport; readonly shown: Shown } & Acts) {
  const { title, state, owner, savingKg, likelihood, due, isOverdue } = proposal;
  const isClosed = state === 'done' || state === 'dropped';
  return (
    <tr id={proposalRowId(proposal.proposalId)} tabIndex={-1} className={isClosed ? 'closed' : ''}>
      <th scope="row">
        {title}
        <Said proposal={proposal} shown={shown} />
      </th>
      <td data-name={say`State`}>
        <span>
          {STATE_WORDS[state]}
          {proposal.reason === undefined ? null : <span className="soft small side-change">{proposal.reason}</span>}
        </span>
      </td>
      <td data-name={say`Owner`}>{owner}</td>
      <td data-name={say`Saves, ${shown.units.mass}`} className="number">
        <span>
          {shown.mass(savingKg)}
          <span className="soft small side-change">{aboutSaving(proposal, shown)}</span>
        </span>
      </td>
      <td data-name={say`Likelihood`} className="number">
        {likelihoodInWords(likelihood)}
      </td>
      <td data-name={say`Due`}>
        <span>
          <span className="unparted">{dayWords(due)}</span>{' '}
          {isOverdue ? <strong className="overdue">{say`▲ overdue`}</strong> : null}
        </span>
      </td>
      <td className="proposal-acts">
        {onChange === undefined ? null : (
          <Button slim onPress={() => onChange(proposal)} aria-label={say`Change “${title}”`}>{say`Change`}</Button>
        )}
        {proposal.changes.length === 0 || isClosed ? null : (
          <Button
            slim
            onPress={() => onTake(proposal)}
            aria-label={say`Try above: “${title}”`}
          >{say`Try above`}</Button>
        )}
      </td>
    </tr>
  );
}

function aboutSaving({ isStated, unfit, cgChangeXM }: ProposalReport, shown: Shown): string {
  if (isStated) return say`stated`;
  if (unfit.length > 0) return say`as it was kept`;
  return cgChangeXM === undefined ? '' : say`CG ${shown.cgEffect(cgChangeXM)}`;
}

function Said({ proposal, shown }: { readonly proposal: ProposalReport; readonly shown: Shown }) {
  const { changes, unfit, overlaps, revisions } = proposal;
  const last = revisions.at(-1);
  return (
    <div className="said small">
      {changes.length === 0 ? null : (
        <ul>
          {changes.map((change, at) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: the changes of a revision stay in their order.
            <li key={at}>{changeInWords(change, shown)}</li>
          ))}
        </ul>
      )}
      {unfit.length === 0 ? null : (
        <p className="notice warn">{rich`△ No longer fits: ${unfit.map(({ part, why }) => `${part} ${UNFIT_WORDS[why]}`).join('; ')}. It is left out of the forecast until its changes are kept anew, or it is done or dropped.`}</p>
      )}
      {overlaps.length === 0 ? null : (
        <p className="notice">{rich`Changes a part that is changed by ${overlaps.map((other) => `“${other}”`).join(', ')} too: the savings may not add up.`}</p>
      )}
      {last === undefined ? null : (
        <details>
          <summary>
            {rich`${revisions.length === 1 ? say`Kept` : say`Revision ${last.revision}`} by ${last.by} on ${dayWords(last.recordedAt)}`}
          </summary>
          <ol>
            {revisions.map((one) => (
              <li key={one.revision}>
                {rich`${momentWords(one.recordedAt)}, ${one.by}: ${one.title}; ${STATE_WORDS[one.state]}${one.reason === undefined ? '' : ` (${one.reason})`}, ${one.owner}, saves ${shown.massWithUnit(one.savingKg)}, ${likelihoodInWords(one.likelihood)}, due ${dayWords(one.due)}`}
              </li>
            ))}
          </ol>
        </details>
      )}
    </div>
  );
}
