/** Several empty aircraft held against the same limits (rule C2): today's, the forecast, and the corners of its band. */
import { type AllLoadings, allLoadings, type Loading } from './all-loadings.ts';
import type { EmptyState } from './limits.ts';

export type Named<Name extends string = string> = EmptyState & { readonly name: Name };

export const CORNERS = ['light and forward', 'light and aft', 'heavy and forward', 'heavy and aft'] as const;
export type Corner = (typeof CORNERS)[number];

/** Both ends of the mass with both ends of the CG. */
export function cornersOf(band: {
  readonly lowKg: number;
  readonly highKg: number;
  readonly forwardM: number;
  readonly aftM: number;
  readonly yM?: number | undefined;
}): readonly Named<Corner>[] {
  const { lowKg, highKg, forwardM, aftM, yM } = band;
  return [
    { name: 'light and forward', massKg: lowKg, xM: forwardM, yM },
    { name: 'light and aft', massKg: lowKg, xM: aftM, yM },
    { name: 'heavy and forward', massKg: highKg, xM: forwardM, yM },
    { name: 'heavy and aft', massKg: highKg, xM: aftM, yM },
  ];
}

/** The answer for each, in the order given. */
export function allLoadingsOfEach<Name extends string>(
  loading: Loading,
  empties: readonly Named<Name>[],
): readonly { readonly empty: Named<Name>; readonly all: AllLoadings }[] {
  return empties.map((empty) => ({ empty, all: allLoadings(loading, empty) }));
}
