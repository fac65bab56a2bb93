/**
 * The ledger as plain data for a program to read: SI values under names that end in their unit, no bigints, nothing rounded.
 * The command prints it as JSON, and its text is made from it.
 */

import type {
  BreakdownReport,
  DayReport,
  EffectReport,
  EntryReport,
  HeadlineReport,
} from '#shared/contract/reports.ts';
import { groupsOver, openSmallCount } from '#shared/drift/larger-drift.ts';
import type { Effect } from '#shared/ledger/cause.ts';
import type { Entry, RecordedEntry, Statement, StatementOf } from '#shared/ledger/entry.ts';
import { correctedBySeq, type Ledger, standingsOf, type Totals } from '#shared/ledger/fold.ts';
import { historyByDay } from '#shared/ledger/history.ts';
import { toKg, toKgM } from '#shared/quantity/exact.ts';
import { type ScaleMark, scaleMarks, scalesOf } from '#shared/weighing/scales.ts';
import { type BreakdownKey, breakdownOf } from './breakdown.ts';
import { centreOfGravityM } from './centre-of-gravity.ts';
import { partsOfEntry } from './entry-parts.ts';
import { type Headline, headlineOf } from './headline.ts';
import type { OpenList } from './leaf.ts';
import { type Figures, runningOf } from './running.ts';

export function headlineReport(ledger: Ledger): HeadlineReport {
  const running = runningOf(ledger);
  return wholeHeadline(ledger, running, {
    headline: headlineOf(ledger),
    manySmallCount: openSmallCount(ledger, running),
  });
}

/** The headline with all that is open, from the figures of all parts. */
export function wholeHeadline(
  totals: Totals,
  figures: Figures,
  { headline, manySmallCount }: { readonly headline: Headline; readonly manySmallCount: number },
): HeadlineReport {
  const listed = (list: OpenList) => {
    const { count, first } = figures.listed(list);
    return { count, first: first.map(({ number }) => number) };
  };
  return {
    ...headline,
    withoutEstimate: listed('withoutEstimate'),
    withoutArm: listed('withoutArm'),
    driftingCount: figures.counts.drifting,
    watchCount: figures.counts.watch,
    withoutCause: listed('withoutCause'),
    withoutDecision: listed('withoutDecision'),
    inDoubt: listed('inDoubt'),
    groupsOver: [...groupsOver(totals, figures)],
    manySmallCount,
  };
}

export function breakdownReport(ledger: Ledger, key: BreakdownKey): readonly BreakdownReport[] {
  return breakdownOf(ledger, key).map(({ basicNg, predictedNg, weighedNg, ...row }) => ({
    ...row,
    basicKg: toKg(basicNg),
    predictedKg: toKg(predictedNg),
    weighedKg: toKg(weighedNg),
  }));
}

/** The running entries, in order, each with what it changed and where it left the aircraft (rule L6). */
export function entriesReport(ledger: Ledger): readonly EntryReport[] {
  return ledger.entries.map((_, index) => entryReport(ledger, index));
}

/** The report of the entry at an index. */
export function entryReport(ledger: Ledger, index: number): EntryReport {
  const recorded = ledger.entries[index];
  const row = ledger.rows[index];
  if (recorded === undefined || row === undefined) throw new Error(`the ledger has no entry at ${index}`);
  const { seq, recordedAt, entry } = recorded;
  const cg = centreOfGravityM(row.predicted, 'x');
  const [part] = partsOfEntry(ledger, entry);
  const corrected = correctedBySeq(ledger, entry.id);
  return {
    seq,
    recordedAt,
    entry,
    part: part?.number,
    quantity: part?.quantity,
    correctedBySeq: corrected,
    ...(corrected !== undefined && strikesOut(ledger.entries[corrected - 1]) ? { isStruckOut: true } : {}),
    ...(strikesOut(recorded) ? { strikes: saidBefore(ledger, entry) } : {}),
    correctsSeq: entry.kind === 'correction' ? ledger.entryById.get(entry.supersedesId)?.seq : undefined,
    effects: row.effects.map(effectReport),
    marks: [...marksOf(ledger, entry)],
    predictedKg: toKg(row.predicted.massNg),
    cgXM: cg.ok ? cg.value : undefined,
    marginKg: row.marginNg === undefined ? undefined : toKg(row.marginNg),
  };
}

function strikesOut(recorded: RecordedEntry | undefined): boolean {
  return recorded?.entry.kind === 'correction' && recorded.entry.replacement === null;
}

/** What the entry that a correction names said: of a correction, its replacement. */
function saidBefore(ledger: Ledger, correction: Entry): Statement | undefined {
  if (correction.kind !== 'correction') return undefined;
  const before = ledger.entryById.get(correction.supersedesId)?.entry;
  if (before === undefined || before.kind === 'correction') return before?.replacement?.statement;
  const { id: _id, happenedOn: _day, by: _by, remark: _remark, ...statement } = before;
  return statement as Statement;
}

export function daysReport(ledger: Ledger): readonly DayReport[] {
  return historyByDay(ledger).map(({ day, basic, predicted, targets, marginNg, effects }) => {
    const cg = centreOfGravityM(predicted, 'x');
    return {
      day,
      basicKg: toKg(basic.massNg),
      predictedKg: toKg(predicted.massNg),
      cgXM: cg.ok ? cg.value : undefined,
      targetKg: targets?.emptyMassKg,
      cgForwardM: targets?.cgForwardM,
      cgAftM: targets?.cgAftM,
      marginKg: marginNg === undefined ? undefined : toKg(marginNg),
      effects: effects.map(effectReport),
    };
  });
}

/** What the aircraft is said to be. Where its datum was moved since, the datum is in the words of the move. */
export function aircraftOf(ledger: Omit<Totals, 'books'>): StatementOf<'aircraft'> | undefined {
  const standing = standingsOf(ledger, 'aircraft').at(-1);
  const moves = [...ledger.whole['datum moved'].values()];
  const move = moves.sort((a, b) => a.seq - b.seq).at(-1);
  if (standing === undefined || move === undefined || move.seq < standing.seq) return standing?.statement;
  return { ...standing.statement, datum: move.statement.datum };
}

export function effectReport({ cause, isCorrection, change, marginNg }: Effect): EffectReport {
  return {
    cause,
    isCorrection,
    massKg: toKg(change.massNg),
    momentXKgM: toKgM(change.x.momentNgNm),
    momentYKgM: toKgM(change.y.momentNgNm),
    momentZKgM: toKgM(change.z.momentNgNm),
    marginKg: toKg(marginNg),
  };
}

/** What speaks against the scale of a weighing that stands. */
function marksOf(ledger: Ledger, entry: Entry): readonly ScaleMark[] {
  const standing = ledger.roots.get(entry.id)?.standing;
  if (standing?.statement.kind !== 'weighing' && standing?.statement.kind !== 'assembly weighing') return [];
  return scaleMarks(scalesOf(ledger), { ...standing, scale: standing.statement.scale });
}
