/**
 * The forecast by the day things happened (rules F4, L7): of every day, what would have been forecast at its end from what had happened by
 * then, with what is known of that today. It goes along the days once; a day costs the work of the parts that something happened to, and
 * of the processes that released something.
 */
import type { ForecastDayReport } from '#shared/contract/forecast.ts';
import { type Release, releasesByProcess } from '#shared/drift/process-releases.ts';
import { allowanceSum, basicSum, enter, openBooks } from '#shared/ledger/books.ts';
import type { Process, StatementOf } from '#shared/ledger/entry.ts';
import { isOfPart, type Ledger } from '#shared/ledger/fold.ts';
import { inOrderOfDays, isTargets } from '#shared/ledger/history.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { addTally, seenFrom, toKg } from '#shared/quantity/exact.ts';
import { scalesOf } from '#shared/weighing/scales.ts';
import { type ProcessShift, shiftOf } from './process-shift.ts';
import { chancesOf, massOf, stationOf } from './report.ts';
import { RunningSums } from './running-sums.ts';

/** Every day on which something happened to parts or targets, oldest first. The last one is the forecast of the ledger. */
export const forecastByDay: (ledger: Ledger) => readonly ForecastDayReport[] = oncePerEntry((ledger) => {
  const books = openBooks();
  const sums = new RunningSums(books, scalesOf(ledger));
  const shiftsAt = shiftsByDay(releasesByProcess(ledger));
  const ordered = inOrderOfDays(ledger);
  const days: ForecastDayReport[] = [];
  let targets: StatementOf<'targets'> | undefined;
  ordered.forEach((standing, at) => {
    const day = standing.happenedOn;
    if (isTargets(standing)) targets = standing.statement;
    else if (isOfPart(standing)) {
      enter(books, standing);
      sums.touch(standing.statement.partId);
    }
    if (ordered[at + 1]?.happenedOn === day) return;
    const predicted = addTally(basicSum(books.sums), allowanceSum(books.sums));
    const { tally, massStdKg, cgXStdM } = sums.forecast(predicted, shiftsAt(day));
    const mass = massOf(tally, massStdKg);
    const cgX = stationOf(seenFrom(tally, ledger.datumNm), 'x', cgXStdM);
    const chances = targets && chancesOf(mass, cgX, targets);
    days.push({
      day,
      predictedKg: toKg(predicted.massNg),
      ...mass,
      cgX,
      targetKg: targets?.emptyMassKg,
      withinTarget: chances?.withinTarget,
      cgInRange: chances?.cgInRange,
    });
  });
  return days;
});

/** What is believed of the processes at the end of a day. Releases stand in the order of days, so each day has a first part of them. */
function shiftsByDay(
  releases: ReadonlyMap<Process, readonly Release[]>,
): (day: string) => (process: Process) => ProcessShift {
  const known = new Map<Process, { count: number; shift: ProcessShift }>();
  return (day) => (process) => {
    const all = releases.get(process) ?? [];
    const before = known.get(process) ?? { count: 0, shift: shiftOf([]) };
    let { count } = before;
    while ((all[count]?.on ?? '~') <= day) count += 1;
    if (count === before.count && known.has(process)) return before.shift;
    const shift = shiftOf(all.slice(0, count));
    known.set(process, { count, shift });
    return shift;
  };
}
