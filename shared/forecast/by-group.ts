/**
 * The forecast by group (rules D3, F2): what each group will weigh when all of it is made, with its band, against its target. The rows add up
 * to the forecast to the last nanogram: what a process adds is dealt out to the groups of its open pieces without a remainder. Reads the
 * ledger and changes nothing.
 */
import { type Ledger, presentParts } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { type MassNg, toKg, toMassNg } from '#shared/quantity/exact.ts';
import { breakdownOf } from '#shared/rollup/breakdown.ts';
import { shiftsOf } from '#shared/rollup/running.ts';
import { addShift, gather, gatherAll, massStdKg, NOTHING, type Shift } from '#shared/uncertainty/shift.ts';
import { atRiskOf, forecastOf, type ProcessForecast, processSource, tallyFrom } from './forecast.ts';

export type GroupForecast = {
  readonly group: string;
  readonly partCount: number;
  readonly predictedNg: MassNg;
  readonly forecastNg: MassNg;
  /** Of the forecast: the parts' own errors with those of their processes. Groups share processes, so their variances do not add up. */
  readonly forecastStdKg: number;
  /** Where the predicted mass of the group sits along x, from the datum in force. */
  readonly cgXM: number | undefined;
  /** Target, and target less forecast, where the targets give the group one. */
  readonly targetKg: number | undefined;
  readonly marginKg: number | undefined;
};

/** In the order of the breakdown by group: first parts first, groups that have a target and no part yet last. */
export const groupForecasts: (ledger: Ledger) => readonly GroupForecast[] = oncePerEntry((ledger) => {
  const shiftsByGroup = new Map<string, Map<string, Shift>>();
  const shiftsOfPart = shiftsOf(ledger);
  for (const { partId, definition } of presentParts(ledger))
    gatherAll(shiftsIn(shiftsByGroup, definition.group), shiftsOfPart(partId));
  const addedNg = new Map<string, bigint>();
  for (const process of forecastOf(ledger).processes) {
    const atRisk = atRiskByGroup(process);
    for (const [group, risk] of atRisk)
      gather(shiftsIn(shiftsByGroup, group), processSource(process.process), risk, process.shift.std);
    for (const [group, added] of dealtOut(process, atRisk)) addedNg.set(group, (addedNg.get(group) ?? 0n) + added);
  }
  return breakdownOf(ledger, 'group').map(({ name, partCount, predictedNg, predictedStdKg, cgXM, targetKg }) => {
    const shifts = shiftsByGroup.get(name);
    const forecastNg = (predictedNg + (addedNg.get(name) ?? 0n)) as MassNg;
    return {
      group: name,
      partCount,
      predictedNg,
      forecastNg,
      forecastStdKg: shifts === undefined ? predictedStdKg : massStdKg(shifts),
      cgXM,
      targetKg,
      marginKg: targetKg === undefined ? undefined : toKg((toMassNg(targetKg) - forecastNg) as MassNg),
    };
  });
});

function shiftsIn(byGroup: Map<string, Map<string, Shift>>, group: string): Map<string, Shift> {
  const known = byGroup.get(group) ?? new Map<string, Shift>();
  byGroup.set(group, known);
  return known;
}

function atRiskByGroup({ open }: ProcessForecast): ReadonlyMap<string, Shift> {
  const byGroup = new Map<string, Shift>();
  for (const one of open) {
    const { group } = one.part.definition;
    byGroup.set(group, addShift(byGroup.get(group) ?? NOTHING, atRiskOf(one)));
  }
  return byGroup;
}

/** What the forecast adds for the process, in shares: each the difference of two rounded sums, the last up to the whole. */
function dealtOut(
  { shift, atRisk }: ProcessForecast,
  byGroup: ReadonlyMap<string, Shift>,
): readonly (readonly [group: string, addedNg: bigint])[] {
  const wholeNg: bigint = tallyFrom(addShift(NOTHING, atRisk, shift.mean)).massNg;
  const groups = [...byGroup];
  let [sumKg, dealtNg] = [0, 0n];
  return groups.map(([group, risk], at) => {
    sumKg += shift.mean * risk.massKg;
    const upToNg: bigint = at === groups.length - 1 ? wholeNg : toMassNg(sumKg);
    const addedNg = upToNg - dealtNg;
    dealtNg = upToNg;
    return [group, addedNg] as const;
  });
}
