/** c + d m + e m², and where it is what. Closed forms; no rule of its own. */

export type Quadratic = { readonly c: number; readonly d: number; readonly e: number };

export function valueAt({ c, d, e }: Quadratic, m: number): number {
  return c + m * (d + e * m);
}

/** Where it is 0, by growing m; none where it is 0 everywhere. Without the cancellation of the school formula. */
export function rootsOf({ c, d, e }: Quadratic): readonly number[] {
  if (e === 0) return d === 0 ? [] : [-c / d];
  const inside = d * d - 4 * e * c;
  if (inside < 0) return [];
  const q = -(d + (d < 0 ? -1 : 1) * Math.sqrt(inside)) / 2;
  const roots = q === 0 ? [0] : [q / e, c / q];
  return roots.filter(Number.isFinite).sort((a, b) => a - b);
}

/** Where (c + d m + e m²)/m - (a + b m) has no slope, for m above 0: c/m² = e - b. None where it has none everywhere. */
export function levelOf({ c, e }: Quadratic, b: number): number | undefined {
  const square = c / (e - b);
  return square > 0 && Number.isFinite(square) ? Math.sqrt(square) : undefined;
}
