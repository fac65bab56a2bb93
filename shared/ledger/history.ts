/**
 * The aircraft by the day things happened, with what is known today (rule L7): corrections are carried back to the day they
 * speak of, and all arms are told from the present datum. A part, and its first estimate, count from the first day on which anything
 * happened to the part, so that imported history is a curve and not a cliff on the day of the import.
 */
import { addTally, type MassNg, seenFrom, type Tally } from '#shared/quantity/exact.ts';
import { allowanceSum, basicSum, bringsNewMass, enter, openBooks } from './books.ts';
import { causesOf, type Effect, effectsBetween, mergeEffects } from './cause.ts';
import type { Statement, StatementOf } from './entry.ts';
import { aimNgOf, isOfPart, type Ledger, standingsOf } from './fold.ts';
import { byWhatHappened, type Standing } from './part-state.ts';

export type Day = {
  readonly day: string;
  readonly effects: readonly Effect[];
  /** Sums at the end of the day, about the present datum. */
  readonly basic: Tally;
  readonly predicted: Tally;
  readonly targets: StatementOf<'targets'> | undefined;
  readonly marginNg: MassNg | undefined;
};

/** Every day on which something happened, oldest first. The last one agrees with the running ledger. */
export function historyByDay(ledger: Ledger): readonly Day[] {
  const books = openBooks();
  const { datumNm } = ledger;
  const days: Day[] = [];
  let targets: StatementOf<'targets'> | undefined;
  for (const standing of inOrderOfDays(ledger)) {
    const before = { sums: books.sums, datumNm, aimNg: aimNgOf(targets) };
    let isNewMass = false;
    if (isTargets(standing)) targets = standing.statement;
    else if (isOfPart(standing)) {
      isNewMass = bringsNewMass(books, standing);
      enter(books, standing);
    }
    const aimNg = aimNgOf(targets);
    const causes = causesOf(standing.statement.kind, isNewMass);
    const effects = effectsBetween(before, { sums: books.sums, datumNm, aimNg }, causes, false);
    const sameDay = days.at(-1)?.day === standing.happenedOn ? days.pop() : undefined;
    const basic = seenFrom(basicSum(books.sums), datumNm);
    const predicted = addTally(basic, seenFrom(allowanceSum(books.sums), datumNm));
    days.push({
      day: standing.happenedOn,
      effects: mergeEffects([...(sameDay?.effects ?? []), ...effects]),
      basic,
      predicted,
      targets,
      marginNg: aimNg === undefined ? undefined : ((aimNg - predicted.massNg) as MassNg),
    });
  }
  return days;
}

/** What stands of parts and targets, by the day it happened; a part and its first estimate from the part's first day. */
export function inOrderOfDays(ledger: Ledger): readonly Standing<Statement>[] {
  const { byPart, assemblies } = ledger.books;
  const ofParts = [...byPart].flatMap(([partId, book]) => {
    const inAssemblies = [...(assemblies.naming.get(partId)?.values() ?? [])].map(
      ({ standing }) => standing.happenedOn,
    );
    return fromFirstDay([...book.standings.values()], inAssemblies);
  });
  return [...ofParts, ...standingsOf(ledger, 'targets')].sort(byWhatHappened);
}

/** A part's entries, with its definition and its first estimate brought forward to the part's first day. */
function fromFirstDay(standings: readonly Standing[], inAssemblies: readonly string[]): readonly Standing[] {
  const ordered = [...standings].sort(byWhatHappened);
  const firstDay = [...ordered.map(({ happenedOn }) => happenedOn), ...inAssemblies].sort()[0];
  const firstEstimate = ordered.find((standing) => standing.statement.kind === 'estimate');
  if (firstDay === undefined) return ordered;
  return ordered.map((standing) =>
    standing.statement.kind === 'part added' || standing === firstEstimate
      ? { ...standing, happenedOn: firstDay }
      : standing,
  );
}

export function isTargets(standing: Standing<Statement>): standing is Standing<StatementOf<'targets'>> {
  return standing.statement.kind === 'targets';
}
