/**
 * The same entries with every source of error drawn once (rule U2): what a shop might have read and typed instead. Written from the rule, on
 * entries alone, so that folding the result is a second opinion on the reckoned uncertainty.
 */
import type { Entry, RecordedEntry, StatementOf } from '#shared/ledger/entry.ts';
import type { Chance } from '#tests/support/chance.ts';

/** Draws of standard normal errors, one a source. */
export type Draws = (source: string) => number;

export function drawsOf(chance: Chance): Draws {
  const drawn = new Map<string, number>();
  return (source) => {
    const known = drawn.get(source) ?? chance.normal();
    drawn.set(source, known);
    return known;
  };
}

/** `gainStd` by the name of the scale. */
export function perturbed(
  entries: readonly RecordedEntry[],
  draws: Draws,
  gainStd: Readonly<Record<string, number>>,
): RecordedEntry[] {
  return entries.map((recorded) => ({ ...recorded, entry: perturbedEntry(recorded, draws, gainStd) }));
}

function perturbedEntry({ seq, entry }: RecordedEntry, draws: Draws, gainStd: Readonly<Record<string, number>>): Entry {
  switch (entry.kind) {
    case 'estimate': {
      if (entry.massKg === 0) return { ...entry, ...armsOff(entry, seq, draws) };
      const times = 1 + (draws(`estimate ${entry.partId}`) * (entry.massStdKg ?? 0.03 * entry.massKg)) / entry.massKg;
      return {
        ...entry,
        massKg: entry.massKg * times,
        laterKg: entry.laterKg * times,
        flashKg: entry.flashKg * times,
        ...(entry.finishKg === undefined ? {} : { finishKg: entry.finishKg * times }),
        // An allowance has no uncertainty: it stays as it was.
        growth: entry.growth / times,
        laterGrowth: entry.laterGrowth / times,
        ...armsOff(entry, seq, draws),
      };
    }
    case 'arm measured':
      return { ...entry, ...armsOff(entry, seq, draws) };
    case 'weighing':
      return { ...entry, netKg: netOff(entry, seq, draws, gainStd) };
    case 'assembly weighing':
      return { ...entry, netKg: netOff(entry, seq, draws, gainStd), ...armsOff(entry, seq, draws) };
    default:
      return entry;
  }
}

type OnScale = Pick<
  StatementOf<'weighing'>,
  'netKg' | 'readings' | 'grossResolutionKg' | 'tareResolutionKg' | 'scale' | 'fixture'
>;

function netOff(on: OnScale, seq: number, draws: Draws, gainStd: Readonly<Record<string, number>>): number {
  const count = on.readings.length;
  const nets = on.readings.map(({ grossKg, tareKg }) => grossKg - tareKg);
  const scatter = count < 2 ? 0 : nets.reduce((sum, net) => sum + (net - on.netKg) ** 2, 0) / (count - 1) / count;
  const readingStd = Math.sqrt(on.grossResolutionKg ** 2 / 12 + scatter);
  const tares = new Set(on.readings.map(({ tareKg }) => tareKg));
  const tare = on.fixture === undefined || tares.size > 1 ? `tare ${seq}` : `tare ${on.fixture} ${[...tares]}`;
  const gain = on.scale === undefined ? 0 : (gainStd[on.scale] ?? 0) * draws(`gain ${on.scale}`);
  return (
    on.netKg * (1 + gain) + draws(`reading ${seq}`) * readingStd - (draws(tare) * on.tareResolutionKg) / Math.sqrt(12)
  );
}

type Placed = {
  readonly xM?: number | undefined;
  readonly yM?: number | undefined;
  readonly zM?: number | undefined;
  readonly armStdM?: number | undefined;
};

function armsOff(placed: Placed, seq: number, draws: Draws): Placed {
  const stdM = placed.armStdM ?? 0;
  const off = (axis: 'xM' | 'yM' | 'zM') => {
    const armM = placed[axis];
    return armM === undefined ? {} : { [axis]: armM + stdM * draws(`arm ${seq} ${axis}`) };
  };
  return { ...off('xM'), ...off('yM'), ...off('zM') };
}
