/**
 * What the columns of an entry must be, derived from its text in TypeScript: the twin of the derivation inside the SQL
 * function, so that `verify` does not ask the database about itself (L5), and so that text which could not be stored is
 * refused before it is sent. Pure.
 */

import { say } from '#shared/words/say.ts';

export type Projection = {
  id: string;
  kind: string;
  /** `YYYY-MM-DD`. */
  happenedOn: string;
  byName: string;
  partId: string | null;
  supersedesId: string | null;
  /** The net mass if one is given, else the mass, else null. */
  massKg: number | null;
};

export type ProjectionAnswer = { ok: true; projection: Projection } | { ok: false; words: string };

/** Largest content text in bytes of UTF-8; the table has the same bound. */
export const contentLimitBytes = 1_048_576;

const uuidForm = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
const dayForm = /^\d{4}-\d{2}-\d{2}$/;

/** Derives the columns from a content text, or says in words why it cannot be an entry. Never throws. */
export function projectContent(content: string): ProjectionAnswer {
  if (Buffer.byteLength(content, 'utf8') > contentLimitBytes) {
    return { ok: false, words: say`The content is longer than ${contentLimitBytes} bytes.` };
  }
  let read: unknown;
  try {
    read = JSON.parse(content);
  } catch {
    return { ok: false, words: say`The content is not JSON.` };
  }
  if (typeof read !== 'object' || read === null || Array.isArray(read)) {
    return { ok: false, words: say`The content is not a JSON object.` };
  }
  // In the parsed values, where an escape hides them from the text, and in the text, where a repeated name hides them.
  if (!isWritable(content) || !isWritable(read)) {
    return {
      ok: false,
      words: say`The content holds a NUL character or half a surrogate pair, which cannot be stored.`,
    };
  }
  return projectFields(new Map(Object.entries(read)));
}

function projectFields(fields: ReadonlyMap<string, unknown>): ProjectionAnswer {
  const id = fields.get('id');
  if (typeof id !== 'string' || !uuidForm.test(id)) return { ok: false, words: say`id is not a lower-case UUID.` };
  const kind = fields.get('kind');
  if (typeof kind !== 'string' || kind === '') return { ok: false, words: say`kind is missing.` };
  const happenedOn = fields.get('happenedOn');
  if (typeof happenedOn !== 'string' || !isDay(happenedOn)) return { ok: false, words: say`happenedOn is not a day.` };
  const byName = fields.get('by');
  if (typeof byName !== 'string' || byName === '') return { ok: false, words: say`by is missing.` };
  const partId = fields.get('partId') ?? null;
  if (!isUuidOrNull(partId)) return { ok: false, words: say`partId is not a lower-case UUID.` };
  const supersedesId = fields.get('supersedesId') ?? null;
  if (!isUuidOrNull(supersedesId)) return { ok: false, words: say`supersedesId is not a lower-case UUID.` };
  const massKg = fields.get('netKg') ?? fields.get('massKg') ?? null;
  if (massKg !== null && (typeof massKg !== 'number' || !Number.isFinite(massKg) || massKg < 0)) {
    return { ok: false, words: say`The mass is not a number from 0 up.` };
  }
  return { ok: true, projection: { id, kind, happenedOn, byName, partId, supersedesId, massKg } };
}

function isUuidOrNull(value: unknown): value is string | null {
  return value === null || (typeof value === 'string' && uuidForm.test(value));
}

/** A day of the calendar from the year 1 on; the database has no year 0. */
function isDay(text: string): boolean {
  if (!dayForm.test(text) || text.startsWith('0000')) return false;
  const time = Date.parse(`${text}T00:00:00Z`);
  return !Number.isNaN(time) && new Date(time).toISOString().slice(0, 10) === text;
}

function isWritable(value: unknown): boolean {
  if (typeof value === 'string') return value.isWellFormed() && !value.includes('\0');
  if (Array.isArray(value)) return value.every(isWritable);
  if (typeof value === 'object' && value !== null) {
    return Object.entries(value).every(([key, inner]) => isWritable(key) && isWritable(inner));
  }
  return true;
}
