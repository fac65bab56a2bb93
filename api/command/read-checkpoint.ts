/** A checkpoint page given to the command: read, genuine, and of the key it should be of, or refused (rule L10). */
import { isGenuine } from '#db/checkpoint/checkpoint.ts';
import { fingerprintIn } from '#db/checkpoint/key-file.ts';
import { hexOf, readPage } from '#db/checkpoint/page.ts';
import { inGroups } from '#db/checkpoint/signature.ts';
import type { Checkpoint } from '#db/checkpoint/statement.ts';
import { KEY_FILE_VARIABLE, keyFileOf } from './key-place.ts';
import { readText } from './read-text.ts';
import { Refused } from './refused.ts';
import type { Surroundings } from './surroundings.ts';
import { type PlaceOptions, placeOf } from './with-store.ts';

export type AgainstOptions = PlaceOptions & { readonly against?: string; readonly key?: string };

/** `knownBy`: what said that the key is the shop's; undefined where nothing did. */
export type GivenCheckpoint = { readonly checkpoint: Checkpoint; readonly knownBy: 'option' | 'own key' | undefined };

export async function readCheckpoint(
  file: string,
  options: AgainstOptions,
  surroundings: Surroundings,
): Promise<GivenCheckpoint> {
  const { name, text } = await readText(file);
  const read = readPage(text);
  if (!read.ok) throw new Refused(read.problems.map((problem) => ({ file: name, ...problem })));
  const { checkpoint } = read;
  if (!isGenuine(checkpoint)) throw new Refused([{ file: name, refusal: { code: 'checkpoint-forged' } }]);
  const named = namedKey(options.key);
  const ownFile = keyFileOf(surroundings.env[KEY_FILE_VARIABLE], placeOf(options, surroundings.env));
  const own = named === undefined && ownFile !== undefined ? await fingerprintIn(ownFile) : undefined;
  const wanted = named ?? own;
  if (wanted !== undefined && wanted !== checkpoint.fingerprint) {
    const [found, other] = [inGroups(checkpoint.fingerprint), inGroups(wanted)];
    throw new Refused([{ file: name, refusal: { code: 'checkpoint-other-key', found, wanted: other } }]);
  }
  return { checkpoint, knownBy: named !== undefined ? 'option' : own !== undefined ? 'own key' : undefined };
}

function namedKey(text: string | undefined): string | undefined {
  if (text === undefined) return undefined;
  const fingerprint = hexOf(text);
  if (/^[0-9a-f]{32}$/.test(fingerprint)) return fingerprint;
  throw new Refused([{ pointer: '--key', refusal: { code: 'fingerprint-unreadable', text } }]);
}
