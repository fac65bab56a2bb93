import type { CgSituation } from '#shared/contract/brief.ts';
import type { ForecastReport } from '#shared/contract/forecast.ts';
import type { HeadlineReport } from '#shared/contract/reports.ts';

export type CgStand = {
  readonly situation: CgSituation;
  readonly of: 'predicted' | 'forecast';
  readonly xM: number;
  readonly stdM: number | undefined;
  readonly forwardM: number | undefined;
  readonly aftM: number | undefined;
  /** The end of the range that it is out of, or near. */
  readonly end: 'forward' | 'aft' | undefined;
  /** How far out of the range it is; 0 inside. */
  readonly offM: number;
};

const RANK: Readonly<Record<CgSituation, number>> = {
  'out of range': 0,
  'near its edge': 1,
  'in range': 2,
  'no range': 3,
  'not known': 4,
};

export function cgStandOf(
  { cg, targets }: Pick<HeadlineReport, 'cg' | 'targets'>,
  { cg: { x } }: Pick<ForecastReport, 'cg'>,
): CgStand {
  const range = { forwardM: targets?.cgForwardM, aftM: targets?.cgAftM };
  const stands: readonly CgStand[] = [
    ...(x === undefined ? [] : [standOf('forecast', { xM: x.atM, stdM: x.stdM, ...range })]),
    ...(cg.xM === undefined ? [] : [standOf('predicted', { xM: cg.xM, stdM: cg.xStdM, ...range })]),
  ];
  const [worst] = stands.toSorted((a, b) => RANK[a.situation] - RANK[b.situation]);
  return worst ?? { situation: 'not known', of: 'forecast', xM: 0, stdM: undefined, ...range, end: undefined, offM: 0 };
}

type Placed = Pick<CgStand, 'xM' | 'stdM' | 'forwardM' | 'aftM'>;

function standOf(of: CgStand['of'], placed: Placed): CgStand {
  const { xM, stdM = 0, forwardM, aftM } = placed;
  const told = (situation: CgSituation, end?: CgStand['end'], offM = 0): CgStand => ({
    ...{ situation, of, ...placed, end, offM },
  });
  if (forwardM === undefined && aftM === undefined) return told('no range');
  if (forwardM !== undefined && xM < forwardM) return told('out of range', 'forward', forwardM - xM);
  if (aftM !== undefined && xM > aftM) return told('out of range', 'aft', xM - aftM);
  const toForwardM = forwardM === undefined ? Number.POSITIVE_INFINITY : xM - forwardM;
  const toAftM = aftM === undefined ? Number.POSITIVE_INFINITY : aftM - xM;
  if (Math.min(toForwardM, toAftM) > stdM) return told('in range');
  return told('near its edge', toForwardM < toAftM ? 'forward' : 'aft');
}
