/** A problem at a place in what was sent, as a path of names. */
import type { Refusal } from '#shared/problem/registry.ts';

export type PathProblem = { readonly path: readonly string[]; readonly refusal: Refusal };
