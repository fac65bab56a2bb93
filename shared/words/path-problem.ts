/** A problem at a place in what was sent, as a path of names. */
import type { Refusal } from '#shared/problem/registry.ts';

export type PathProblem = { readonly path: readonly string[]; readonly refusal: Refusal };

/** A path as a JSON Pointer (RFC 6901). */
export function pointerTo(path: readonly PropertyKey[]): string {
  return path.map((name) => `/${String(name).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}
