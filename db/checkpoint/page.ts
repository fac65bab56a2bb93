/**
 * A checkpoint as one page of text, for paper and for a file alike, and back again. Lines that count are `label: value [check]`; whatever else
 * stands on the page is for people and passed over. The four characters in brackets tell which line has a slip when a page is typed off paper;
 * they are worked out from label and value and keep nobody from forging one, which the signature does. Pure.
 */
import { createHash } from 'node:crypto';
import type { CheckpointRefusal } from '#shared/checkpoint/refusal.ts';
import { fingerprintOf, inGroups } from './signature.ts';
import { type Checkpoint, FIELDS, type Field, onOneLine, type Statement } from './statement.ts';

/** Hexadecimal values go over several lines of 16 bytes, each checked by itself. */
const LINE_DIGITS = 32;
const HEX_LINES = { hash: 2, key: 2, signature: 4 } as const;

type Line = { readonly label: string; readonly kind: 'text' | 'hex' };

const hexLines = (name: keyof typeof HEX_LINES): Line[] =>
  Array.from({ length: HEX_LINES[name] }, (_, index) => ({ label: `${name} ${index + 1}`, kind: 'hex' }));

const LINES: readonly Line[] = [
  ...(Object.keys(FIELDS) as Field[]).flatMap((label): Line[] =>
    label === 'hash' ? hexLines('hash') : [{ label, kind: FIELDS[label] }],
  ),
  { label: 'fingerprint', kind: 'hex' },
  ...hexLines('key'),
  ...hexLines('signature'),
];
const BY_LABEL = new Map(LINES.map((line) => [line.label.toLowerCase(), line]));

export function pageText({
  statement,
  publicKey,
  signature,
}: Omit<Checkpoint, 'aircraftId' | 'seq' | 'hash' | 'fingerprint'>): string {
  const values = new Map<string, string>(Object.entries(statement));
  const putHex = (name: keyof typeof HEX_LINES, hex: string) => {
    for (let index = 0; index < HEX_LINES[name]; index += 1)
      values.set(`${name} ${index + 1}`, hex.slice(index * LINE_DIGITS, (index + 1) * LINE_DIGITS));
  };
  putHex('hash', statement.hash);
  putHex('key', Buffer.from(publicKey).toString('hex'));
  putHex('signature', Buffer.from(signature).toString('hex'));
  values.set('fingerprint', fingerprintOf(publicKey));
  const written = LINES.map(({ label, kind }) => {
    const value = values.get(label) ?? '';
    return `${`${label}:`.padEnd(14)}${(kind === 'hex' ? inGroups(value) : value).padEnd(40)}  [${checkOf(label, value)}]`;
  });
  const [said, sealed] = [written.slice(0, -7), written.slice(-7)];
  return [HEAD, said.join('\n'), MIDDLE, sealed.join('\n'), FOOT].join('\n');
}

const HEAD = `TAREBOOK CHECKPOINT

For the paper file of the aircraft. While this page is kept away from the
computer, no entry up to the one named here can be changed, taken out or put in
without being found out.
`;
const MIDDLE = `
The shop's key, by its fingerprint, and its signature (Ed25519, RFC 8032):
`;
const FOOT = `
To hold the ledger against this page, give it as a file, or type it off: the
lines with brackets are enough. Four characters in brackets check their line.

  tarebook verify --against FILE --key "FINGERPRINT"

Take the fingerprint from paper that was kept, and not from the file.

Signed by hand: ______________________________   Day: ____________________

Predicted figures are planning figures, not approved data. No flight on them.
`;

export type PlacedRefusal = { readonly line: number; readonly refusal: CheckpointRefusal };
export type PageAnswer =
  | { readonly ok: true; readonly checkpoint: Checkpoint }
  | { readonly ok: false; readonly problems: readonly PlacedRefusal[] };

/** What a page says; `problems` by line, counted from 1, 0 for what is missing. Does not look at the signature. */
export function readPage(text: string): PageAnswer {
  const values = new Map<string, string>();
  const problems: PlacedRefusal[] = [];
  const seen = new Set<string>();
  for (const [index, written] of text.split(/\r\n|\n|\r/).entries()) {
    const at = written.indexOf(':');
    const line = at < 0 ? undefined : BY_LABEL.get(onOneLine(written.slice(0, at)).toLowerCase());
    if (line === undefined) continue;
    const { label } = line;
    const problem = (why: 'slip' | 'form' | 'twice') =>
      problems.push({ line: index + 1, refusal: { code: 'checkpoint-line', label, why } });
    if (seen.has(label)) problem('twice');
    seen.add(label);
    const [, value, check] = /^(.*)\[([^[\]]*)\]\s*$/.exec(written.slice(at + 1)) ?? [];
    if (value === undefined || check === undefined) problem('form');
    else {
      const read = line.kind === 'hex' ? hexOf(value) : onOneLine(value);
      if (hexOf(check) === checkOf(label, read)) values.set(label, read);
      else problem('slip');
    }
  }
  if (seen.size === 0) return { ok: false, problems: [{ line: 0, refusal: { code: 'checkpoint-not-one' } }] };
  for (const { label } of LINES)
    if (!seen.has(label)) problems.push({ line: 0, refusal: { code: 'checkpoint-line-missing', label } });
  return problems.length > 0 ? { ok: false, problems } : checkpointOf(values);
}

function checkpointOf(values: ReadonlyMap<string, string>): PageAnswer {
  const valueAt = (label: string) => values.get(label) ?? '';
  const hexFrom = (name: keyof typeof HEX_LINES) =>
    hexLines(name)
      .map(({ label }) => valueAt(label))
      .join('');
  const statement: Statement = {
    ...{ aircraft: valueAt('aircraft'), 'aircraft id': valueAt('aircraft id'), entry: valueAt('entry') },
    ...{ recorded: valueAt('recorded'), hash: hexFrom('hash') },
    ...{ 'empty weight': valueAt('empty weight'), 'empty CG': valueAt('empty CG') },
    ...{ made: valueAt('made'), by: valueAt('by') },
  };
  const publicKey = new Uint8Array(Buffer.from(hexFrom('key'), 'hex'));
  const signature = new Uint8Array(Buffer.from(hexFrom('signature'), 'hex'));
  const badForm = LINES.find(({ label, kind }) => !formOf(label, kind).test(valueAt(label)));
  const unfit = badForm?.label ?? (fingerprintOf(publicKey) === valueAt('fingerprint') ? undefined : 'fingerprint');
  if (unfit !== undefined)
    return { ok: false, problems: [{ line: 0, refusal: { code: 'checkpoint-line', label: unfit, why: 'form' } }] };
  return {
    ok: true,
    checkpoint: {
      ...{ statement, aircraftId: statement['aircraft id'], seq: Number(statement.entry), hash: statement.hash },
      ...{ publicKey, fingerprint: valueAt('fingerprint'), signature },
    },
  };
}

function formOf(label: string, kind: Line['kind']): RegExp {
  if (kind === 'hex') return /^[0-9a-f]{32}$/;
  if (label === 'aircraft id') return /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
  return label === 'entry' ? /^[1-9]\d{0,9}$/ : /^.*$/su;
}

/** Hexadecimal digits as they are typed off paper: capitals, blanks, and letters that look like digits do not matter. */
export function hexOf(text: string): string {
  return text.replace(/\s+/g, '').toLowerCase().replace(/o/g, '0').replace(/[il]/g, '1');
}

function checkOf(label: string, value: string): string {
  return createHash('sha256').update(`${label}\n${value}`, 'utf8').digest('hex').slice(0, 4);
}
