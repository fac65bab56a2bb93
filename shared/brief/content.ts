/**
 * The content of a brief (rule B1): where the aircraft stood at one entry, and what came to be since an earlier one, as plain data. Everything
 * comes from the ledger as known at that entry and from the proposals as they had been stated by then, so it can be composed again at any time
 * and comes out the same. Reads the ledger and changes nothing.
 */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { BriefContent, BriefEnd, BriefProposal } from '#shared/contract/brief.ts';
import type { ProposalReport, ProposalRevision } from '#shared/contract/proposal.ts';
import { growthRate } from '#shared/forecast/growth-rate.ts';
import { forecastByDay } from '#shared/forecast/history.ts';
import { proposalsReport } from '#shared/forecast/proposal-report.ts';
import { forecastReport, groupForecastReport } from '#shared/forecast/report.ts';
import { mergeEffects } from '#shared/ledger/cause.ts';
import { inForce, type Ledger, standingsOf } from '#shared/ledger/fold.ts';
import { bridgeRows, standOf } from '#shared/rollup/bridge-rows.ts';
import { openListReport } from '#shared/rollup/open-list.ts';
import { aircraftOf, effectReport, headlineReport } from '#shared/rollup/report.ts';
import { briefDays } from './brief-days.ts';
import { briefDrift, listed } from './brief-drift.ts';
import { CAUTIONS } from './cautions.ts';
import { type Earlier, endOf } from './earlier.ts';
import { briefHeadline } from './headline.ts';

export type BriefGiven = {
  readonly aircraft: Pick<AircraftReport, 'id' | 'name' | 'isInvented'>;
  readonly by: string;
  /** The shop's day. */
  readonly on: string;
  /** What the chain has of the two entries; of the beginning nothing. */
  readonly hashes: { readonly from: string | undefined; readonly to: string };
  /** All statements of proposals; those made on a later ledger are left out. */
  readonly revisions: readonly ProposalRevision[];
  /** What was stated after this moment is new. */
  readonly newAfter: string;
};

/** Of a ledger as known at the entry that the brief is made from, with at least one entry. */
export function briefContent(ledger: Ledger, earlier: Earlier, given: BriefGiven): BriefContent {
  const last = ledger.entries.at(-1);
  if (last === undefined) throw new Error('a brief is made from an entry');
  const fromEntry = ledger.entries[earlier.end.seq - 1];
  const revisions = given.revisions.filter(({ content }) => content.seq <= last.seq);
  const forecast = forecastReport(ledger);
  const facts = {
    format: 1 as const,
    aircraft: aircraftFacts(ledger, given.aircraft),
    made: { by: given.by, on: given.on },
    from: { ...earlier.end, ...chainFacts(given.hashes.from, fromEntry) },
    to: { ...endOf(ledger), ...chainFacts(given.hashes.to, last) },
    figures: headlineReport(ledger),
    forecast,
    aircraftWeighedOn: standingsOf(ledger, 'aircraft weighing').at(-1)?.happenedOn,
    days: [...briefDays(ledger)],
    rate: growthRate(forecastByDay(ledger)),
    bridge: bridgeFacts(ledger, earlier),
    groups: [...groupForecastReport(ledger)],
    drift: briefDrift(ledger, earlier, latestOf(revisions).filter(isLive)),
    ...proposalFacts(ledger, revisions, given),
    cautions: [...CAUTIONS],
  };
  return { ...facts, headline: briefHeadline(facts) };
}

function aircraftFacts(ledger: Ledger, { id, name, isInvented }: BriefGiven['aircraft']): BriefContent['aircraft'] {
  const stated = aircraftOf(ledger);
  return {
    id,
    name: stated?.name ?? name,
    datum: stated?.datum ?? '',
    massUnit: stated?.massUnit ?? 'kg',
    lengthUnit: stated?.lengthUnit ?? 'm',
    macM: stated?.macM,
    lemacM: stated?.lemacM,
    oilIsEmptyWeight: inForce(ledger, 'aircraft')?.oilIsEmptyWeight ?? true,
    isInvented,
  };
}

function chainFacts(
  hash: string | undefined,
  entry: { readonly recordedAt: string } | undefined,
): Pick<BriefEnd, 'hash' | 'recordedAt'> {
  return entry === undefined ? {} : { hash, recordedAt: entry.recordedAt };
}

function bridgeFacts(ledger: Ledger, { end, stand }: Earlier): BriefContent['bridge'] {
  const effects = mergeEffects(ledger.rows.slice(end.seq).flatMap((row) => row.effects));
  const stands = { from: stand, to: standOf(ledger) };
  return {
    causes: effects.map(effectReport),
    groups: [...bridgeRows(stands, effects, 'group')],
    parts: [...bridgeRows(stands, effects, 'part')],
  };
}

/** The last statement of each, in the order in which they were first made. */
function latestOf(revisions: readonly ProposalRevision[]): readonly ProposalRevision[] {
  const latest = new Map<string, ProposalRevision>();
  for (const revision of [...revisions].sort((a, b) => a.recordedAt.localeCompare(b.recordedAt))) {
    const before = latest.get(revision.proposalId);
    if (before === undefined || before.revision < revision.revision) latest.set(revision.proposalId, revision);
  }
  return [...latest.values()];
}

function isLive({ content: { state } }: ProposalRevision): boolean {
  return state === 'open' || state === 'agreed';
}

function proposalFacts(ledger: Ledger, revisions: readonly ProposalRevision[], { on, newAfter }: BriefGiven) {
  const { proposals, forecast } = proposalsReport(ledger, revisions, on);
  const told = proposals
    .map((proposal) => ({ ...briefProposal(proposal), isNew: lastStatedAt(proposal) > newAfter }))
    .filter(({ state, isNew }) => state === 'open' || state === 'agreed' || isNew)
    .sort((a, b) => Number(b.counts) - Number(a.counts) || Math.abs(b.savingKg) - Math.abs(a.savingKg));
  const { counts } = openListReport(ledger, { today: on, most: 0 });
  return {
    proposals: { ...listed(told), forecast },
    open: {
      count: counts.reduce((sum, { count }) => sum + count, 0),
      counts,
      overdueProposals: proposals.filter(({ isOverdue }) => isOverdue).length,
    },
  };
}

function briefProposal({
  revisions: _history,
  changes: _changes,
  ...proposal
}: ProposalReport): Omit<BriefProposal, 'isNew'> {
  return proposal;
}

function lastStatedAt({ revisions }: ProposalReport): string {
  return revisions.at(-1)?.recordedAt ?? '';
}
