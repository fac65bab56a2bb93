/**
 * What stands against a weighing of the whole aircraft (rules A1, A2, W1): a part of `admit.ts`, which asks. Mass and CG are worked out
 * again from the inputs, so that nobody records another figure than the readings come to.
 */
import { computeWeighing, type WeighedPoint } from '#shared/aircraft-weighing/compute.ts';
import { weighedRefusals } from '#shared/aircraft-weighing/refusals.ts';
import type { At } from '#shared/weighing/assembly-from-words.ts';
import { calibrationAt, scaleKey, scalesOf } from '#shared/weighing/scales.ts';
import type { Objection } from './admit.ts';
import { displayUnitsOf } from './display-units.ts';
import type { StatementOf } from './entry.ts';
import type { Ledger } from './fold.ts';

const FIGURES = ['massKg', 'massStdKg', 'xM', 'xStdM', 'yM', 'yStdM', 'zM', 'zStdM'] as const;

export function toAircraftWeighing(
  statement: StatementOf<'aircraft weighing'>,
  ledger: Ledger,
  at: At,
): readonly Objection[] {
  const { weighed } = statement;
  const refusals = weighedRefusals(weighed, { isWhole: true, units: displayUnitsOf(ledger) });
  const found: Objection[] = refusals.map(({ path, refusal }) => ({ path: ['weighed', ...path], refusal }));
  if (found.length === 0) found.push(...toFigures(statement, computeWeighing(weighed).empty));
  if (statement.signedOn < at.happenedOn) {
    const days = { signed: statement.signedOn, weighed: at.happenedOn };
    found.push({ path: ['signedOn'], refusal: { code: 'signed-before-weighed', ...days } });
  }
  return [...found, ...toCapacities(statement, ledger, at), ...toMissing(statement, ledger)];
}

/** The figures are those of the inputs, but for the last digits of binary fractions. */
function toFigures(stated: WeighedPoint, computed: WeighedPoint): readonly Objection[] {
  return FIGURES.flatMap((figure): Objection[] => {
    const [said, is] = [stated[figure], computed[figure]];
    if (said === undefined && is === undefined) return [];
    if (said !== undefined && is !== undefined && Math.abs(said - is) <= 1e-9 * Math.max(1, Math.abs(is))) return [];
    const facts = { stated: `${figure} ${said ?? 'nothing'}`, computed: `${is ?? 'nothing'}` };
    return [{ path: [figure], refusal: { code: 'not-as-weighed', ...facts } }];
  });
}

function toCapacities({ weighed }: StatementOf<'aircraft weighing'>, ledger: Ledger, at: At): readonly Objection[] {
  const scales = scalesOf(ledger);
  const runs = [
    ...weighed.level.map((run, runAt) => ({ run, path: ['weighed', 'level', String(runAt), 'readings'] })),
    ...(weighed.tilted?.runs ?? []).map((run, runAt) => ({
      run,
      path: ['weighed', 'tilted', String(runAt), 'readings'],
    })),
  ];
  return weighed.supports.flatMap(({ scale }, supportAt): Objection[] => {
    if (scale === undefined) return [];
    const calibration = calibrationAt(scales.get(scaleKey(scale)), at);
    const { capacityKg } = calibration ?? {};
    if (capacityKg === undefined) return [];
    return runs.flatMap(({ run, path }): Objection[] => {
      const reading = run.readings[supportAt];
      if (reading === undefined || reading.grossKg <= capacityKg) return [];
      const gross = reading.typed['gross'] ?? `${reading.grossKg} kg`;
      const capacity = calibration?.typed['capacity'] ?? `${capacityKg} kg`;
      return [
        { path: [...path, String(supportAt), 'gross'], refusal: { code: 'above-capacity', gross, scale, capacity } },
      ];
    });
  });
}

function toMissing({ missing }: StatementOf<'aircraft weighing'>, { books }: Ledger): readonly Objection[] {
  return missing.flatMap(({ partId, pieces }): Objection[] => {
    const definition = books.byPart.get(partId)?.state.definition;
    const path = ['missing'];
    if (definition === undefined) return [{ path, refusal: { code: 'unknown-part', part: partId, near: undefined } }];
    const { number, quantity } = definition;
    const beyond = pieces?.find((piece) => piece > quantity);
    if (beyond === undefined) return [];
    return [{ path, refusal: { code: 'no-such-piece', piece: beyond, part: number, quantity } }];
  });
}
