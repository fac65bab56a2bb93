/**
 * What is open, summed by process (rule F2) and carried on part by part: a forecast is linear in these sums, so it costs the number of
 * processes and not of parts. All sums are exact, so that they do not depend on how they came about. About the first datum.
 */
import { type PartId, Process } from '#shared/ledger/entry.ts';
import { AXES, type Axis, addTally, type Tally } from '#shared/quantity/exact.ts';
import { ExactSums } from '#shared/quantity/exact-sum.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { addShift, NOTHING, type Shift } from '#shared/uncertainty/shift.ts';
import type { SourceSums } from '#shared/uncertainty/source-sums.ts';
import { armSource } from '#shared/uncertainty/sources.ts';
import { atRiskOf, tallyFrom } from './forecast.ts';
import type { Normal } from './normal-update.ts';
import type { OpenPart } from './open-pieces.ts';

/** Whole nanograms and as many kilogram metres, as the sources of error are kept in. */
const PER_UNIT = 1e12;
/**
 * Of a part: moulded mass; along each axis the moulded mass that has an arm and its moment; and of the error of that arm, what it does to the
 * predicted aircraft times what it does beside that for each unit of shift of the process, which acts on the same arm, and the latter squared.
 */
const WIDTH = 13;
const MOULDED = 0;
const PLACED_AT: { readonly [axis in Axis]: number } = { x: 1, y: 3, z: 5 };
const ARM_AT: { readonly [axis in Axis]: number } = { x: 7, y: 9, z: 11 };

/** What a process has still to release. */
type Works = { parts: number; pieces: number; readonly sums: ExactSums };

export type ProcessPending = {
  readonly process: Process;
  readonly openPieces: number;
  /** What a shift of all of its mass would do: the moulded mass of its open pieces, at their arms. */
  readonly atRisk: Shift;
};

/** A forecast in figures: mass and moments, and how sure mass and CG are. */
export type Reckoned = {
  readonly tally: Tally;
  readonly massStdKg: number;
  readonly cgStdM: { readonly [axis in Axis]: number | undefined };
};

export class PendingSums {
  readonly #ofPart = new Map<
    PartId,
    { readonly process: Process; readonly pieces: number; readonly row: Float64Array }
  >();
  readonly #works = new Map<Process, Works>();

  /**
   * Puts what is open of a part in place of what was open before; undefined where nothing is. `sources` are the errors of the predicted
   * aircraft, that of the part's own arms among them as it is now.
   */
  put(partId: PartId, open: OpenPart | undefined, sources: SourceSums): void {
    const before = this.#ofPart.get(partId);
    if (before !== undefined) this.#count(before.process, before, -1);
    if (open === undefined) {
      this.#ofPart.delete(partId);
      return;
    }
    const { process } = open.part.definition;
    const after = { process, pieces: open.pieceCount, row: rowOf(open, sources) };
    this.#ofPart.set(partId, after);
    this.#count(process, after, 1);
  }

  /** The processes that have something open, in the order of the shop's list of them. */
  processes(): readonly ProcessPending[] {
    return Process.options.flatMap((process) => {
      const works = this.#works.get(process);
      if (works === undefined) return [];
      return [{ process, openPieces: works.pieces, atRisk: atRiskIn(works.sums) }];
    });
  }

  /** `predicted` is the predicted aircraft about the first datum, `sources` its errors, `shiftOf` what is believed of each process. */
  forecast(predicted: Tally, sources: SourceSums, shiftOf: (process: Process) => Normal): Reckoned {
    const each = this.processes().map(({ process, atRisk }) => ({ process, atRisk, shift: shiftOf(process) }));
    let tally = predicted;
    for (const { atRisk, shift } of each) tally = addTally(tally, tallyFrom(addShift(NOTHING, atRisk, shift.mean)));
    const massStdKg = Math.hypot(sources.massStdKg(), ...each.map(({ atRisk, shift }) => shift.std * atRisk.massKg));
    const along = (axis: Axis): number | undefined => {
      const cg = centreOfGravityM(tally, axis);
      if (!cg.ok) return undefined;
      let more2 = 0;
      for (const { process, atRisk, shift } of each) {
        const { placedKg, momentKgM } = atRisk[axis];
        more2 += (shift.std * (momentKgM - cg.value * placedKg)) ** 2 + this.#armsMore2(process, axis, shift.mean);
      }
      return sources.cgStdM(tally, axis, more2);
    };
    return { tally, massStdKg, cgStdM: { x: along('x'), y: along('y'), z: along('z') } };
  }

  /** The arms of open pieces are off over what the process adds, too: sum (a + shift b)^2 - a^2. */
  #armsMore2(process: Process, axis: Axis, shiftMean: number): number {
    const sums = this.#works.get(process)?.sums;
    if (sums === undefined) return 0;
    const [products, squares] = [sums.read(ARM_AT[axis]), sums.read(ARM_AT[axis] + 1)];
    return (2 * shiftMean * products + shiftMean ** 2 * squares) / PER_UNIT ** 2;
  }

  #count(
    process: Process,
    { pieces, row }: { readonly pieces: number; readonly row: Float64Array },
    times: 1 | -1,
  ): void {
    const works = this.#works.get(process) ?? { parts: 0, pieces: 0, sums: new ExactSums(WIDTH) };
    works.parts += times;
    works.pieces += times * pieces;
    for (let at = 0; at < WIDTH; at += 1) {
      const value = row[at] ?? 0;
      if (value !== 0) works.sums.add(at, value, times);
    }
    if (works.parts === 0) this.#works.delete(process);
    else this.#works.set(process, works);
  }
}

function rowOf(open: OpenPart, sources: SourceSums): Float64Array {
  const { part, mouldedKg } = open;
  const row = new Float64Array(WIDTH);
  const atRisk = atRiskOf(open);
  row[MOULDED] = Math.round(atRisk.massKg * PER_UNIT);
  for (const axis of AXES) {
    row[PLACED_AT[axis]] = Math.round(atRisk[axis].placedKg * PER_UNIT);
    row[PLACED_AT[axis] + 1] = Math.round(atRisk[axis].momentKgM * PER_UNIT);
    if (part.armsNm[axis] === undefined || !(part.armStdM[axis] > 0)) continue;
    const perShift = Math.round(mouldedKg * part.armStdM[axis] * PER_UNIT);
    row[ARM_AT[axis]] = Math.round(sources.momentKgM(armSource(part.partId, axis), axis) * PER_UNIT) * perShift;
    row[ARM_AT[axis] + 1] = perShift * perShift;
  }
  return row;
}

function atRiskIn(sums: ExactSums): Shift {
  const read = (at: number) => sums.read(at) / PER_UNIT;
  const along = (axis: Axis) => ({ placedKg: read(PLACED_AT[axis]), momentKgM: read(PLACED_AT[axis] + 1) });
  return { massKg: read(MOULDED), x: along('x'), y: along('y'), z: along('z') };
}
