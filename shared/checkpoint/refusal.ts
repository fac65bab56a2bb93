/** What is refused of a checkpoint and of the key that signs it (rules L9, L10), with its words and its remedy; part of the registry. */

import { say } from '#shared/words/say.ts';

export type CheckpointRefusal =
  | { readonly code: 'checkpoint-not-one' }
  | { readonly code: 'checkpoint-line'; readonly label: string; readonly why: 'slip' | 'form' | 'twice' }
  | { readonly code: 'checkpoint-line-missing'; readonly label: string }
  | { readonly code: 'checkpoint-forged' }
  | { readonly code: 'checkpoint-other-key'; readonly found: string; readonly wanted: string }
  | { readonly code: 'checkpoint-other-aircraft'; readonly says: string; readonly asked: string }
  | { readonly code: 'checkpoint-aircraft-missing'; readonly name: string; readonly id: string }
  | { readonly code: 'fingerprint-unreadable'; readonly text: string }
  | { readonly code: 'key-file-needed' }
  | { readonly code: 'key-file-unreadable'; readonly file: string; readonly why: string }
  | { readonly code: 'key-file-not-one'; readonly file: string }
  | { readonly code: 'key-file-open-to-others'; readonly file: string };

type Words = {
  readonly [Code in CheckpointRefusal['code']]: (facts: Extract<CheckpointRefusal, { code: Code }>) => {
    readonly words: string;
    readonly remedy: string;
  };
};

export const CHECKPOINT_WORDS: Words = {
  'checkpoint-not-one': () => ({
    words: say`This is no checkpoint page: none of its lines is there.`,
    remedy: say`Give the file that the checkpoint was written into, or type the page off paper line by line.`,
  }),
  'checkpoint-line': ({ label, why }) => ({
    words:
      why === 'slip'
        ? say`The line “${label}” does not fit the four characters in brackets at its end: there is a slip in it.`
        : why === 'form'
          ? say`The line “${label}” cannot be read.`
          : say`The line “${label}” is there twice.`,
    remedy:
      why === 'twice'
        ? say`Take out the one that is not on the paper.`
        : say`Compare it with the paper, character by character. Blanks do not matter.`,
  }),
  'checkpoint-line-missing': ({ label }) => ({
    words: say`The line “${label}” is missing.`,
    remedy: say`Add it as it stands on the paper, with its name in front and its check in brackets.`,
  }),
  'checkpoint-forged': () => ({
    words: say`The signature does not fit what the page says: the page was changed after it was signed, or never signed.`,
    remedy: say`Compare every line with the paper. If all are the same, the paper itself is not what the shop signed: keep it as evidence, and look for an earlier checkpoint.`,
  }),
  'checkpoint-other-key': ({ found, wanted }) => ({
    words: say`The page is signed with the key ${found}, and not with the key ${wanted}.`,
    remedy: say`If the shop had another key when the page was made, give that one’s fingerprint with --key, from paper. Else somebody else signed it.`,
  }),
  'checkpoint-other-aircraft': ({ says, asked }) => ({
    words: say`The checkpoint is of ${says}, and not of ${asked}.`,
    remedy: say`Give the checkpoint of this aircraft, or leave --aircraft out.`,
  }),
  'checkpoint-aircraft-missing': ({ name, id }) => ({
    words: say`The aircraft of the checkpoint, ${name} (${id}), is not in this store.`,
    remedy: say`Name the store that has it, with --data or DATABASE_URL. To look at the page alone, add --page-only.`,
  }),
  'fingerprint-unreadable': ({ text }) => ({
    words: say`“${text.slice(0, 80)}” is no fingerprint of a key.`,
    remedy: say`Give all eight groups of four characters, 0 to 9 and a to f, as they stand on paper.`,
  }),
  'key-file-needed': () => ({
    words: say`It is not said where the key is kept that signs checkpoints.`,
    remedy: say`Name a file outside the database that only you can read, with --checkpoint-key or TAREBOOK_CHECKPOINT_KEY. It is made where there is none.`,
  }),
  'key-file-unreadable': ({ file, why }) => ({
    words: say`The key file ${file} cannot be read or made (${why}).`,
    remedy: say`Check its name and its folder, and that you may read and write there.`,
  }),
  'key-file-not-one': ({ file }) => ({
    words: say`The file ${file} holds no private key for checkpoints (Ed25519, PEM).`,
    remedy: say`Name the right file, or one that does not exist yet: then a new key is made.`,
  }),
  'key-file-open-to-others': ({ file }) => ({
    words: say`The key file ${file} can be read by others on this machine, and so they can sign checkpoints.`,
    remedy: say`Close it (chmod 600 ${file}). If somebody may have copied it, move it away: then a new key is made.`,
  }),
};
