/**
 * `#words`: the language of the shop, chosen once when a program starts or the screens are built. In Node it is `api/words/chosen.ts`; the build of the
 * browser app puts the same values into the bundle.
 */
import type { Words } from './say.ts';

/** A language tag (BCP 47) as `de-AT`. */
export const locale: string;
/** Whether the shop names a language: days are written as its place writes them, and as ISO 8601 where it names none. */
export const isAsked: boolean;
/** Undefined in English, which is what the code says. */
export const translated: Words | undefined;
