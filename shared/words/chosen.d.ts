/**
 * `#words`: the language of the shop, chosen once when a program starts or the screens are built. In Node it is `api/words/chosen.ts`; the build of the
 * browser app puts the same two values into the bundle.
 */
import type { Words } from './say.ts';

/** A language tag (BCP 47) as `de-AT`. */
export const locale: string;
/** Undefined in English, which is what the code says. */
export const translated: Words | undefined;
