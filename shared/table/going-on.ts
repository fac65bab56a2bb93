/**
 * What a parts list cannot say of an estimate and what therefore goes on with it: a lay-up schedule where the list's figures are those that
 * follow from it (rule E3), and a geometry where its stations are (rule E5). Where they are others the list speaks, and what it replaces is told.
 */
import { LAID_UP } from '#shared/estimate/from-words.ts';
import { stationOf } from '#shared/geometry/geometry.ts';
import { estimateOfLayUp } from '#shared/layup/compute.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';

type Estimate = StatementOf<'estimate'>;
/** The estimate in force, its stations told from the present datum. */
type Current = Pick<Estimate, 'layUp' | 'geometry' | 'evidence'>;

export type GoingOn = {
  readonly estimate: Estimate;
  /** What the part has and this estimate would leave behind. */
  readonly left: readonly ('lay-up schedule' | 'geometry')[];
};

export function goingOn(listed: Estimate, current: Current | undefined): GoingOn {
  const layUp = current?.layUp === undefined ? undefined : withLayUp(listed, current.layUp);
  const laidUp = layUp ?? listed;
  const geometry = current?.geometry === undefined ? undefined : withGeometry(laidUp, current.geometry);
  return {
    estimate: geometry ?? laidUp,
    left: [
      ...(current?.layUp !== undefined && layUp === undefined ? (['lay-up schedule'] as const) : []),
      ...(current?.geometry !== undefined && geometry === undefined ? (['geometry'] as const) : []),
    ],
  };
}

function withLayUp(listed: Estimate, layUp: NonNullable<Estimate['layUp']>): Estimate | undefined {
  const figures = estimateOfLayUp(layUp);
  const isIts =
    listed.evidence === 'calculated' &&
    isFigure(listed.massKg, figures.massKg) &&
    isFigure(listed.laterKg, figures.laterKg) &&
    isFigure(listed.finishKg ?? 0, figures.finishKg) &&
    isFigure(listed.massStdKg ?? figures.massStdKg, figures.massStdKg);
  if (!isIts) return undefined;
  return { ...listed, ...figures, layUp, typed: without(listed.typed, LAID_UP) };
}

function withGeometry(listed: Estimate, geometry: NonNullable<Estimate['geometry']>): Estimate | undefined {
  const station = stationOf(geometry);
  const isIts = (['xM', 'yM', 'zM'] as const).every(
    (axis) => listed[axis] !== undefined && isFigure(listed[axis], station[axis]),
  );
  if (!isIts) return undefined;
  return { ...listed, ...station, geometry, typed: without(listed.typed, ['x', 'y', 'z']) };
}

/** The same, but for the last digits that a list does not keep. */
function isFigure(listed: number, own: number): boolean {
  return Math.abs(listed - own) <= 1e-9 * Math.max(1, Math.abs(own));
}

function without(typed: Estimate['typed'], fields: readonly string[]): Estimate['typed'] {
  return Object.fromEntries(Object.entries(typed).filter(([field]) => !fields.includes(field)));
}
