/**
 * Proposals as a screen shows them (rule F8): what each saves by the ledger as it stands, whether it still fits, and the forecast with all
 * that are open or agreed. The ledger is only read.
 */
import type { WhatIfChange } from '#shared/contract/forecast.ts';
import type {
  NamedChange,
  ProposalContent,
  ProposalReport,
  ProposalRevision,
  ProposalsReport,
  Unfit,
} from '#shared/contract/proposal.ts';
import type { PartId, Statement } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { assembliesUp, latestSeq } from '#shared/ledger/part-state.ts';
import { type LengthNm, subtractTally, toLengthNm, toM } from '#shared/quantity/exact.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { massShift, type Shift, type Shifts } from '#shared/uncertainty/shift.ts';
import { forecastOf } from './forecast.ts';
import { type Counted, forecastWith } from './proposal-forecast.ts';
import { changedForecast, NEW_SOURCE, shiftFrom } from './what-if.ts';

/** `revisions` in any order; `today` is the shop's day. */
export function proposalsReport(
  ledger: Ledger,
  revisions: readonly ProposalRevision[],
  today: string,
): ProposalsReport {
  const looked = [...byProposal(revisions).values()].map((history) => lookAt(ledger, history, today));
  const counted = looked.filter(({ report }) => report.counts);
  return {
    seq: ledger.entries.at(-1)?.seq ?? 0,
    today,
    proposals: looked.map((one) => ({ ...one.report, overlaps: overlapsOf(one, counted) })),
    forecast: forecastWith(
      ledger,
      counted.flatMap(({ effect }) => (effect === undefined ? [] : [effect])),
    ),
  };
}

/** The revisions of each, oldest first; proposals in the order in which they were made. */
function byProposal(revisions: readonly ProposalRevision[]): ReadonlyMap<string, readonly ProposalRevision[]> {
  const sorted = [...revisions].sort(
    (a, b) =>
      a.revision - b.revision || a.recordedAt.localeCompare(b.recordedAt) || a.proposalId.localeCompare(b.proposalId),
  );
  return Map.groupBy(sorted, ({ proposalId }) => proposalId);
}

type Looked = { readonly report: ProposalReport; readonly effect: Counted | undefined };

function lookAt(ledger: Ledger, history: readonly ProposalRevision[], today: string): Looked {
  const last = history.at(-1);
  if (last === undefined) throw new Error('a proposal has a first revision');
  const { content } = last;
  const isLive = content.state === 'open' || content.state === 'agreed';
  const changes = toldFrom(content, ledger.datumNm);
  const unfit = isLive ? [...unfitOf(ledger, content)] : [];
  const effect = isLive ? effectOf(ledger, last, changes) : undefined;
  if (isLive && effect === undefined && unfit.length === 0)
    unfit.push(...content.changes.slice(0, 1).map(({ part }) => ({ part, why: 'not possible' as const })));
  const fits = unfit.length === 0;
  const { title, owner, likelihood, due, state, reason, statedSavingKg } = content;
  const report: ProposalReport = {
    ...{ proposalId: last.proposalId, revision: last.revision, title, owner, likelihood, due, state, reason },
    isOverdue: isLive && due < today,
    isStated: statedSavingKg !== undefined,
    savingKg: fits && effect !== undefined ? 0 - effect.change.massKg : content.savingKg,
    cgChangeXM: fits ? effect?.cgChangeXM : undefined,
    changes: [...changes],
    unfit,
    overlaps: [],
    counts: isLive && fits,
    revisions: history.map(revisionReport),
  };
  return { report, effect };
}

function revisionReport({ revision, by, recordedAt, content }: ProposalRevision): ProposalReport['revisions'][number] {
  const { title, owner, state, likelihood, due, savingKg, reason } = content;
  return { revision, by, recordedAt, title, owner, state, likelihood, due, savingKg, reason };
}

/** Stations that were typed from a datum that has moved since (rule L8), from the one in force. */
function toldFrom({ changes, datumM }: ProposalContent, datumNm: LengthNm): readonly NamedChange[] {
  const byNm = (toLengthNm(datumM) - datumNm) as LengthNm;
  if (byNm === 0n) return changes;
  return changes.map(({ part, change }) =>
    (change.act === 'set arm' || change.act === 'add part') && change.xM !== undefined
      ? { part, change: { ...change, xM: toM((toLengthNm(change.xM) + byNm) as LengthNm) } }
      : { part, change },
  );
}

/** What it does to the forecast by itself; undefined where its changes cannot be made. */
function effectOf(
  ledger: Ledger,
  { proposalId, content: { likelihood, statedSavingKg } }: ProposalRevision,
  named: readonly NamedChange[],
): (Counted & { readonly cgChangeXM: number | undefined }) | undefined {
  // What is only stated has no station: it is taken off at the CG of the rest, as everywhere.
  if (statedSavingKg !== undefined)
    return { likelihood, change: massShift(-statedSavingKg, NOWHERE), errors: new Map(), cgChangeXM: undefined };
  const made = changedForecast(
    ledger,
    named.map(({ change }) => change),
  );
  if (!made.ok) return undefined;
  const { tally } = forecastOf(ledger);
  const [from, to] = [centreOfGravityM(tally, 'x'), centreOfGravityM(made.value.tally, 'x')];
  const change: Shift = shiftFrom(subtractTally(made.value.tally, tally));
  // What is new in a set of changes is named by its place in it; here there are several sets.
  const errors: Shifts = new Map(
    [...made.value.shiftChanges].map(([source, shift]) => [
      source.startsWith(NEW_SOURCE) ? `${proposalId} ${source}` : source,
      shift,
    ]),
  );
  return { likelihood, change, errors, cgChangeXM: from.ok && to.ok ? to.value - from.value : undefined };
}

const NOWHERE = { x: undefined, y: undefined, z: undefined };

/**
 * A mass that was proposed has been overtaken by a weighing, a station by a measured one or by that of a weighed assembly, and anything by
 * a removal.
 */
function* unfitOf(ledger: Ledger, { changes, seq }: ProposalContent): Generator<Unfit> {
  const told = new Set<string>();
  for (const { part, change } of changes) {
    if (change.act === 'add part' || told.has(change.partId)) continue;
    const why = overtaken(ledger, change, seq);
    if (why === undefined) continue;
    told.add(change.partId);
    yield { part, why };
  }
}

function overtaken(
  ledger: Ledger,
  change: Exclude<WhatIfChange, { act: 'add part' }>,
  seq: number,
): Unfit['why'] | undefined {
  const book = ledger.books.byPart.get(change.partId);
  if (book === undefined || book.state.definition === undefined || book.state.removed !== undefined) return 'removed';
  const isMass = change.act === 'set mass' || change.act === 'add mass';
  const since = [...book.standings.values()].filter((standing) => latestSeq(standing) > seq);
  const has = (...kinds: readonly Statement['kind'][]) => since.some(({ statement }) => kinds.includes(statement.kind));
  if (isMass && has('weighing', 'assembly weighing')) return 'weighed';
  if (isMass && isInWeighed(ledger, change.partId, seq)) return 'weighed';
  if ((change.act === 'set arm' || change.act === 'move') && has('arm measured', 'assembly weighing'))
    return 'station measured';
  return undefined;
}

/** True where it stood on the scale within an assembly since. */
function isInWeighed(ledger: Ledger, partId: PartId, seq: number): boolean {
  const { byPart } = ledger.books;
  for (const assemblyId of assembliesUp(byPart, byPart.get(partId)?.state.definition?.parentPartId)) {
    for (const standing of byPart.get(assemblyId)?.standings.values() ?? []) {
      const { statement } = standing;
      if (statement.kind !== 'assembly weighing' || latestSeq(standing) <= seq) continue;
      if (statement.members.some((member) => member.partId === partId)) return true;
    }
  }
  return false;
}

function overlapsOf({ report }: Looked, counted: readonly Looked[]): string[] {
  if (!report.counts) return [];
  const own = partsOf(report);
  return counted
    .filter((other) => other.report !== report && [...partsOf(other.report)].some((partId) => own.has(partId)))
    .map((other) => other.report.title);
}

function partsOf({ changes }: ProposalReport): ReadonlySet<PartId> {
  return new Set(changes.flatMap(({ change }) => (change.act === 'add part' ? [] : [change.partId])));
}
