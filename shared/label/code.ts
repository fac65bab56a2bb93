/**
 * What the QR code on a part's label says (rule H1), and what was read of one (rule H2). The text holds no address, so that a label outlives
 * the server's; only capitals, digits and full stops, which make the smallest code and which a scanner that types on a keyboard of
 * another country types alike. It names the part by its id, which stays when the number is put right.
 */
import type { AircraftId, PartId } from '#shared/ledger/entry.ts';
import { MOST_PIECES } from '#shared/ledger/entry.ts';
import { numberKey } from '#shared/part/from-words.ts';

const MARK = 'TAREBOOK';

/** Enough of an aircraft's id to tell its labels from those of another in the same shop. */
const AIRCRAFT_DIGITS = 8;

/** The text of a label: `TAREBOOK.<aircraft>.<part>` and, on the label of one piece, `.<piece>`. */
export function labelCode(of: {
  readonly aircraftId: AircraftId;
  readonly partId: PartId;
  readonly piece?: number | undefined;
}): string {
  const words = [MARK, digitsOf(of.aircraftId).slice(0, AIRCRAFT_DIGITS), digitsOf(of.partId)];
  return [...words, ...(of.piece === undefined ? [] : [String(of.piece)])].join('.');
}

function digitsOf(id: string): string {
  return id.replaceAll('-', '').toUpperCase();
}

/** What a code points at, before it is known whether there is such a thing. */
export type Pointed =
  | { readonly by: 'label'; readonly aircraft: string; readonly part: string; readonly piece: number | undefined }
  /** The address of a part on the Weigh screen, of whatever server. */
  | {
      readonly by: 'address';
      readonly aircraftId: string;
      readonly number: string;
      readonly piece: number | undefined;
    };

const LABEL = new RegExp(`^${MARK}\\.([0-9A-F]{${AIRCRAFT_DIGITS}})\\.([0-9A-F]{32})(?:\\.([1-9]\\d{0,4}))?$`, 'i');
const ADDRESS = /^https?:\/\/[^/?#]+\/aircraft\/([0-9a-f-]{36})\/weigh\?([^#]*)$/i;

/** Undefined for what is no code of ours. Capitals and small letters are one: a keyboard may have its capitals locked. */
export function readCode(text: string): Pointed | undefined {
  const trimmed = text.trim();
  const label = LABEL.exec(trimmed);
  if (label !== null) {
    const [, aircraft = '', part = '', piece] = label;
    const numbered = pieceOf(piece);
    if (piece !== undefined && numbered === undefined) return undefined;
    return { by: 'label', aircraft: aircraft.toUpperCase(), part: part.toUpperCase(), piece: numbered };
  }
  const address = ADDRESS.exec(trimmed);
  if (address === null) return undefined;
  const asked = fieldsOf(address[2] ?? '');
  const number = asked.get('part');
  if (number === undefined) return undefined;
  return {
    by: 'address',
    aircraftId: (address[1] ?? '').toLowerCase(),
    number,
    piece: pieceOf(asked.get('piece')),
  };
}

/** True as soon as what has come so far can only be one of ours: the end of a code is known by its pause. */
export function beginsAsLabel(text: string): boolean {
  return text.toUpperCase().startsWith(`${MARK}.`);
}

function pieceOf(text: string | undefined): number | undefined {
  const piece = /^[1-9]\d{0,4}$/.test(text ?? '') ? Number(text) : undefined;
  return piece !== undefined && piece <= MOST_PIECES ? piece : undefined;
}

function fieldsOf(query: string): ReadonlyMap<string, string> {
  const fields = query.split('&').map((field): readonly [string, string] => {
    const at = field.indexOf('=');
    const text = at < 0 ? '' : field.slice(at + 1).replaceAll('+', ' ');
    return [at < 0 ? field : field.slice(0, at), decoded(text)];
  });
  return new Map(fields);
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

/** What was found by a code among the parts of an aircraft. */
export type Found<Part> =
  | { readonly is: 'part'; readonly part: Part; readonly piece: number | undefined }
  /** Its aircraft is another one; which, where it is among those that are known here. */
  | { readonly is: 'of another aircraft'; readonly aircraftId: string | undefined }
  /** A label of this aircraft whose part is no more. */
  | { readonly is: 'gone' }
  /** A piece that the part does not have (any more). */
  | { readonly is: 'no such piece'; readonly part: Part; readonly piece: number }
  | { readonly is: 'no label' };

type Findable = { readonly partId: string; readonly number: string; readonly quantity: number };

/**
 * The part that a code stands for: a label, the address of a part on the Weigh screen, or a code that says nothing but a part's number.
 * `aircraftIds` are those that the reader may see.
 */
export function findByCode<Part extends Findable>(
  text: string,
  here: { readonly aircraftId: string; readonly parts: readonly Part[]; readonly aircraftIds: readonly string[] },
): Found<Part> {
  const pointed = readCode(text);
  if (pointed === undefined) {
    const part = here.parts.find(({ number }) => numberKey(number) === numberKey(text));
    return part === undefined ? { is: 'no label' } : { is: 'part', part, piece: undefined };
  }
  const isOf = (id: string) =>
    pointed.by === 'label' ? digitsOf(id).startsWith(pointed.aircraft) : id.toLowerCase() === pointed.aircraftId;
  if (!isOf(here.aircraftId)) return { is: 'of another aircraft', aircraftId: here.aircraftIds.find(isOf) };
  const part = here.parts.find((one) =>
    pointed.by === 'label'
      ? digitsOf(one.partId) === pointed.part
      : numberKey(one.number) === numberKey(pointed.number),
  );
  if (part === undefined) return { is: 'gone' };
  const { piece } = pointed;
  if (piece !== undefined && piece > part.quantity) return { is: 'no such piece', part, piece };
  return { is: 'part', part, piece };
}
