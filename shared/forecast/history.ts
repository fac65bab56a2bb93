/**
 * The forecast by the day things happened (rules F4, L7): of every day, what would have been forecast at its end from what had happened by
 * then, with what is known of that today. It goes along the days once; a day costs the work of the parts that something happened to, and
 * of the processes that released something.
 */
import type { ForecastDayReport } from '#shared/contract/forecast.ts';
import { recordsOf } from '#shared/drift/process-records.ts';
import { errorBasisOf, shopErrorsOf } from '#shared/estimate/shop-errors.ts';
import { allowanceSum, basicSum, openBooks } from '#shared/ledger/books.ts';
import type { Process, StatementOf } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { enterAny, inOrderOfDays, isTargets } from '#shared/ledger/history.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { addTally, seenFrom, toKg } from '#shared/quantity/exact.ts';
import { nothingReleased, type ProcessShift, ShiftAlong } from './process-shift.ts';
import { chancesOf, massOf, stationOf } from './report.ts';
import { RunningSums } from './running-sums.ts';

/** Every day on which something happened to parts or targets, oldest first. The last one is the forecast of the ledger. */
export const forecastByDay: (ledger: Ledger) => readonly ForecastDayReport[] = oncePerEntry((ledger) => {
  const books = openBooks();
  const sums = new RunningSums(books, errorBasisOf(ledger));
  const shiftsAt = shiftsByDay(ledger);
  const ordered = inOrderOfDays(ledger);
  const days: ForecastDayReport[] = [];
  let targets: StatementOf<'targets'> | undefined;
  ordered.forEach((standing, at) => {
    const day = standing.happenedOn;
    if (isTargets(standing)) targets = standing.statement;
    enterAny(books, standing);
    if (ordered[at + 1]?.happenedOn === day) return;
    const predicted = addTally(basicSum(books.sums), allowanceSum(books.sums));
    const { tally, massStdKg, cgStdM } = sums.forecast(predicted, shiftsAt(day));
    const mass = massOf(tally, massStdKg);
    const cgX = stationOf(seenFrom(tally, ledger.datumNm), 'x', cgStdM.x);
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

/** What is believed of the processes at the end of a day, asked for one day after another. Releases stand in the order of days. */
function shiftsByDay(ledger: Ledger): (day: string) => (process: Process) => ProcessShift {
  const { processShiftStd } = shopErrorsOf(ledger);
  const along = new Map(
    [...recordsOf(ledger)].map(([process, { releases }]) => [process, { releases, shift: new ShiftAlong(), count: 0 }]),
  );
  return (day) => (process) => {
    const one = along.get(process);
    if (one === undefined) return nothingReleased(processShiftStd);
    for (; ; one.count += 1) {
      const next = one.releases[one.count];
      if (next === undefined || next.on > day) return one.shift.read(one.releases, processShiftStd);
      one.shift.see(next);
    }
  };
}
