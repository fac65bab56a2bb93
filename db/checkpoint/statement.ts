/** What a checkpoint says, and the one text of it that is signed. Pure. */
import canonicalize from 'canonicalize';

/**
 * Each value is the text that is printed, so that nothing is signed but what stands on the paper. In the order of the page: label, and what
 * the value is in.
 */
export const FIELDS = {
  aircraft: 'text',
  'aircraft id': 'text',
  entry: 'text',
  recorded: 'text',
  hash: 'hex',
  'empty weight': 'text',
  'empty CG': 'text',
  made: 'text',
  by: 'text',
} as const;
export type Field = keyof typeof FIELDS;

export type Statement = Readonly<Record<Field, string>>;

export type Checkpoint = {
  readonly statement: Statement;
  readonly aircraftId: string;
  readonly seq: number;
  /** Of that entry. */
  readonly hash: string;
  readonly publicKey: Uint8Array;
  readonly fingerprint: string;
  readonly signature: Uint8Array;
};

/** Canonical JSON (RFC 8785) of everything the page says, its form with it: a signature of anything else is none of a checkpoint. */
export function signedBytes(statement: Statement): Uint8Array {
  const text = canonicalize({ form: 'tarebook checkpoint 1', ...statement });
  if (text === undefined) throw new Error('a checkpoint has no canonical text');
  return new TextEncoder().encode(text);
}

/** A text as it is printed on one line and typed off it: one spelling of letters, of blanks, and of "give or take". */
export function onOneLine(text: string): string {
  return text
    .normalize('NFC')
    .replace(/[\s\p{Cc}]+/gu, ' ')
    .replace(/\+\/?-/g, '±')
    .trim();
}
