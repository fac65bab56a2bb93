/** How much of the aircraft a forecast is about: it knows the parts that are listed, and no others (rule F2). */

/** Below this share of the target the list of parts is obviously not whole. Common practice, no source. */
export const LEAST_SCOPE = 0.5;

/** What the listed parts make of the target, and whether that is too little for a forecast of the whole aircraft. */
export function scopeOf(given: { readonly predictedKg: number; readonly emptyMassKg: number }) {
  const share = given.predictedKg / given.emptyMassKg;
  return { share, isIncomplete: share < LEAST_SCOPE } as const;
}
