/**
 * The aircraft by the day things happened, with what is known today (rule L7): corrections are carried back to the day they
 * speak of, and all arms are told from the present datum. A part, and its first estimate, count from the first day on which anything
 * happened to the part, so that imported history is a curve and not a cliff on the day of the import.
 */
import { addTally, type MassNg, seenFrom, type Tally } from '#shared/quantity/exact.ts';
import { allowanceSum, basicSum, bringsNewMass, enter, openBooks, type PartBooks, weighAircraft } from './books.ts';
import { causesOf, type Effect, effectsBetween, mergeEffects } from './cause.ts';
import type { Statement, StatementOf } from './entry.ts';
import { fromFirstDay } from './first-day.ts';
import { aimNgOf, isOfPart, type Ledger, standingsOf } from './fold.ts';
import { byWhatHappened, isOf, type Standing } from './part-state.ts';

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
    if (isOfPart(standing)) isNewMass = bringsNewMass(books, standing);
    enterAny(books, standing);
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

/** Enters what stands of a part, or of the aircraft on its scales; anything else changes no books. */
export function enterAny(books: PartBooks, standing: Standing<Statement>): void {
  if (isOfPart(standing)) enter(books, standing);
  else if (isOf(standing, 'aircraft weighing')) weighAircraft(books, standing);
}

/**
 * What stands of parts, of the aircraft on its scales, and of targets, by the day it happened; a part and its first estimate from the part's
 * first day.
 */
export function inOrderOfDays(ledger: Ledger): readonly Standing<Statement>[] {
  const { byPart, assemblies } = ledger.books;
  const ofParts = [...byPart].flatMap(([partId, book]) => {
    const inAssemblies = [...(assemblies.naming.get(partId)?.values() ?? [])].map(
      ({ standing }) => standing.happenedOn,
    );
    return fromFirstDay(book.standings.values(), inAssemblies);
  });
  const weighed = ledger.whole['aircraft weighing'].values();
  return [...ofParts, ...weighed, ...standingsOf(ledger, 'targets')].sort(byWhatHappened);
}

export function isTargets(standing: Standing<Statement>): standing is Standing<StatementOf<'targets'>> {
  return standing.statement.kind === 'targets';
}
