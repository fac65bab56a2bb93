/**
 * A second, independent reading of the rules (R1, R2, E2, W1, W3, W8, W9, L2, L8), in plain floating point and without any of the
 * product's arithmetic: everything is worked out from the first entry on, piece by piece. It is slow and meant to be.
 */
import type { RecordedEntry, Statement, StatementOf } from '#shared/ledger/entry.ts';

export type NaiveTotals = {
  basicKg: number;
  predictedKg: number;
  marginKg: number | undefined;
  cgM: { x: number | undefined; y: number | undefined; z: number | undefined };
  /** Sum of the absolute masses and moments that went in: what a difference is to be measured against. */
  scaleKg: number;
};

/** What an entry says once all corrections are carried back. `saidAt` is the number of the entry that said it. */
type Said = { at: number; saidAt: number; day: string; what: Statement };

type Axis = 'x' | 'y' | 'z';
const AXES: readonly Axis[] = ['x', 'y', 'z'];

/** As known at the last of these entries. */
export function naiveTotals(entries: readonly RecordedEntry[]): NaiveTotals {
  return totalsOf(resolveCorrections(entries));
}

/** By the day things happened, with what is known today (rule L7), told from today's datum. */
export function naiveTotalsOn(day: string, entries: readonly RecordedEntry[]): NaiveTotals {
  const said = resolveCorrections(entries);
  const ofPart = (partId: string) =>
    said.filter(({ what }) => 'partId' in what && what.partId === partId && what.kind !== 'note');
  /** A part and its first estimate count from the first day on which anything happened to it. */
  const startOf = (one: Said) => {
    if (!('partId' in one.what) || one.what.partId === undefined) return one.day;
    const own = ofPart(one.what.partId);
    const isFirst = one.what.kind === 'part added' || one === own.find(({ what }) => what.kind === 'estimate');
    return isFirst ? (own[0]?.day ?? one.day) : one.day;
  };
  return totalsOf(said.filter((one) => one.what.kind === 'datum moved' || startOf(one) <= day));
}

function totalsOf(said: readonly Said[]): NaiveTotals {
  const shifts = said.flatMap(({ at, what }) => (what.kind === 'datum moved' ? [{ at, shiftM: what.shiftM }] : []));
  /** How far a station typed at entry `saidAt` must be moved to be told from today's datum. */
  const toTodayM = (saidAt: number) => -sum(shifts.filter(({ at }) => at > saidAt).map(({ shiftM }) => shiftM));
  const partIds = new Set(said.flatMap(({ what }) => (what.kind === 'part added' ? [what.partId] : [])));
  const totals = { basicKg: 0, predictedKg: 0, scaleKg: 0 };
  const placedKg = { x: 0, y: 0, z: 0 };
  const momentKgM = { x: 0, y: 0, z: 0 };
  for (const partId of partIds) {
    const own = said.filter(({ what }) => 'partId' in what && what.partId === partId && what.kind !== 'note');
    if (own.some(({ what }) => what.kind === 'part removed')) continue;
    const { basicKg, predictedKg } = partMasses(own);
    totals.basicKg += basicKg;
    totals.predictedKg += predictedKg;
    totals.scaleKg += Math.abs(basicKg) + Math.abs(predictedKg);
    for (const axis of AXES) {
      const armM = partArmM(own, axis, toTodayM);
      if (armM === undefined) continue;
      placedKg[axis] += predictedKg;
      momentKgM[axis] += predictedKg * armM;
    }
  }
  const aimKg = aim(said);
  const cg = (axis: Axis) => (placedKg[axis] > 1e-9 ? momentKgM[axis] / placedKg[axis] : undefined);
  return {
    ...totals,
    marginKg: aimKg === undefined ? undefined : aimKg - totals.predictedKg,
    cgM: { x: cg('x'), y: cg('y'), z: cg('z') },
  };
}

function resolveCorrections(entries: readonly RecordedEntry[]): Said[] {
  const rootOf = new Map<string, number>();
  const said = new Map<number, Said | undefined>();
  for (const { seq, entry } of entries) {
    if (entry.kind !== 'correction') {
      rootOf.set(entry.id, seq);
      said.set(seq, { at: seq, saidAt: seq, day: entry.happenedOn, what: entry });
      continue;
    }
    const root = rootOf.get(entry.supersedesId);
    if (root === undefined) continue;
    rootOf.set(entry.id, root);
    const { replacement } = entry;
    said.set(
      root,
      replacement === null
        ? undefined
        : { at: root, saidAt: seq, day: replacement.happenedOn, what: replacement.statement },
    );
  }
  return [...said.values()]
    .filter((one) => one !== undefined)
    .sort((a, b) => (a.day === b.day ? a.at - b.at : a.day < b.day ? -1 : 1));
}

/** Rules R1, W3, W8, W9: each piece once, its best weighing before the estimate. `own` is in order of days. */
function partMasses(own: readonly Said[]): { basicKg: number; predictedKg: number } {
  const estimate = latest(own, 'estimate');
  const installedKg = estimate?.massKg ?? 0;
  const laterKg = estimate?.laterKg ?? 0;
  const laterAllowanceKg = laterKg * (estimate?.laterGrowth ?? 0);
  const allowanceKg = (installedKg - laterKg) * (estimate?.growth ?? 0) + laterAllowanceKg;
  let basicKg = 0;
  let predictedKg = 0;
  for (let piece = 1; piece <= (latest(own, 'part added')?.quantity ?? 0); piece += 1) {
    const weighing = bestWeighing(own, piece);
    if (weighing === undefined) {
      basicKg += installedKg;
      predictedKg += installedKg + allowanceKg;
      continue;
    }
    const netKg = mean(weighing.readings.map(({ grossKg, tareKg }) => grossKg - tareKg)) / weighing.pieces.length;
    const flashKg = weighing.condition === 'as released' ? (estimate?.flashKg ?? 0) : 0;
    const toComeKg = weighing.condition === 'finished' ? 0 : laterKg;
    basicKg += netKg - flashKg + toComeKg;
    predictedKg += netKg - flashKg + toComeKg + (weighing.condition === 'finished' ? 0 : laterAllowanceKg);
  }
  return { basicKg, predictedKg };
}

const STAGES = ['as released', 'trimmed', 'finished'];

function bestWeighing(own: readonly Said[], piece: number): StatementOf<'weighing'> | undefined {
  const ofPiece = own.filter(({ what }) => 'pieces' in what && what.pieces.includes(piece));
  const lastWithdrawal = ofPiece.findLastIndex(({ what }) => what.kind === 'piece withdrawn');
  let best: StatementOf<'weighing'> | undefined;
  for (const { what } of ofPiece.slice(lastWithdrawal + 1)) {
    if (what.kind !== 'weighing') continue;
    if (best === undefined || STAGES.indexOf(what.condition) >= STAGES.indexOf(best.condition)) best = what;
  }
  return best;
}

/** The last measured arm, else that of the estimate in force, told from today's datum. */
function partArmM(own: readonly Said[], axis: Axis, toTodayM: (saidAt: number) => number): number | undefined {
  const armOf = ({ what, saidAt }: Said) => {
    const statedM = 'xM' in what || 'yM' in what || 'zM' in what ? what[`${axis}M`] : undefined;
    return statedM === undefined ? undefined : statedM + (axis === 'x' ? toTodayM(saidAt) : 0);
  };
  const measured = own.findLast((one) => one.what.kind === 'arm measured' && armOf(one) !== undefined);
  const estimate = own.findLast(({ what }) => what.kind === 'estimate');
  const source = measured ?? estimate;
  return source === undefined ? undefined : armOf(source);
}

function aim(said: readonly Said[]): number | undefined {
  const targets = latest(said, 'targets');
  return targets === undefined ? undefined : targets.emptyMassKg - targets.reserveKg;
}

function latest<Kind extends Statement['kind']>(said: readonly Said[], kind: Kind): StatementOf<Kind> | undefined {
  return said.map(({ what }) => what).findLast((what): what is StatementOf<Kind> => what.kind === kind);
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0);
}

function mean(numbers: readonly number[]): number {
  return sum(numbers) / numbers.length;
}
