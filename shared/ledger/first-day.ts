/**
 * A part, and its first estimate, count from the first day on which anything happened to the part (rule L7): what is by the day things happened
 * must not take a list that was brought in later for a part that was added later.
 */
import { byWhatHappened, type Standing } from './part-state.ts';

/** A part's entries in the order of their days. `inAssemblies` are the days of the weighed assemblies that name it. */
export function fromFirstDay(standings: Iterable<Standing>, inAssemblies: readonly string[]): readonly Standing[] {
  const ordered = [...standings].sort(byWhatHappened);
  const firstDay = [...ordered.map(({ happenedOn }) => happenedOn), ...inAssemblies].sort()[0];
  const firstEstimate = ordered.find((standing) => standing.statement.kind === 'estimate');
  if (firstDay === undefined) return ordered;
  return ordered.map((standing) =>
    (standing.statement.kind === 'part added' || standing === firstEstimate) && standing.happenedOn !== firstDay
      ? { ...standing, happenedOn: firstDay }
      : standing,
  );
}
