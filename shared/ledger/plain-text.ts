/** Texts that an entry may keep. */

import { z } from 'zod';
import { say } from '#shared/words/say.ts';

/** A text that survives storage unchanged: no NUL, no half of a surrogate pair, no other control character but line ends and tabs. */
export function plainText(most: number) {
  return z
    .string()
    .trim()
    .min(1, say`must not be empty`)
    .max(most, say`must not be longer than ${most} characters`)
    .refine((text) => text.isWellFormed(), say`has half of a character in it: type it again`)
    .refine((text) => !hasControlCharacter(text), say`has a control character in it: type it again`);
}

/** True of a text that comes back from storage as it was. */
export function isStorable(text: string): boolean {
  return text.isWellFormed() && !hasControlCharacter(text);
}

function hasControlCharacter(text: string): boolean {
  for (const character of text) {
    const code = character.codePointAt(0) ?? 0;
    if ((code < 32 && code !== 9 && code !== 10 && code !== 13) || code === 127) return true;
  }
  return false;
}
