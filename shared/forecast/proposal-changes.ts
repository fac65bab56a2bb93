/** Scratch changes from words (rule F6): every problem of every change, each with its place. Reads the ledger and records nothing. */
import type { WhatIfChange } from '#shared/contract/forecast.ts';
import {
  ACTS,
  type Act,
  CHANGE_FIELDS,
  type ChangeField,
  type NamedChange,
  type SentChange,
} from '#shared/contract/proposal.ts';
import { inUnitsOf } from '#shared/ledger/display-units.ts';
import type { PartId } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { numberKey } from '#shared/part/from-words.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { FieldReader } from '#shared/words/field-reader.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { changedForecast } from './what-if.ts';

/** The changes, once all of them can be read and made; else every problem, its path beginning with the number of the change. */
export function changesFromWords(
  ledger: Ledger,
  sent: readonly SentChange[],
): Result<readonly NamedChange[], readonly PathProblem[]> {
  const problems: PathProblem[] = [];
  const read: { readonly at: number; readonly named: NamedChange }[] = [];
  for (const [at, words] of sent.entries()) {
    const reader = new FieldReader(words);
    const named = changeFromWords(reader, ledger);
    problems.push(...reader.problems.map(({ field, refusal }) => ({ path: [String(at), field], refusal })));
    if (named !== undefined && reader.problems.length === 0) read.push({ at, named });
  }
  problems.push(...notToBeMade(ledger, read));
  return problems.length > 0 ? refuse(problems) : accept(read.map(({ named }) => named));
}

/** What can be read and not made. A change that is refused is left out, and those after it are looked at without it. */
function notToBeMade(
  ledger: Ledger,
  read: readonly { readonly at: number; readonly named: NamedChange }[],
): readonly PathProblem[] {
  const problems: PathProblem[] = [];
  let left = read;
  for (;;) {
    const made = changedForecast(
      ledger,
      left.map(({ named }) => named.change),
    );
    if (made.ok) return problems;
    const { refusal } = made;
    const refused = left[refusal.at];
    if (refused === undefined) throw new Error('a change that is refused is one of those that were made');
    const field = refusal.code === 'change-takes-too-much' ? 'mass' : 'part';
    problems.push({ path: [String(refused.at), field], refusal: inUnitsOf(ledger, { ...refusal, at: refused.at }) });
    left = left.filter((one) => one !== refused);
  }
}

function changeFromWords(reader: FieldReader, ledger: Ledger): NamedChange | undefined {
  if (!reader.need('act')) return undefined;
  const act = reader.choice('act', ACTS);
  if (act === undefined) return undefined;
  const { needs, may } = CHANGE_FIELDS[act];
  const own = [...needs, ...may];
  for (const field of ALL_FIELDS)
    if (reader.has(field) && !own.includes(field))
      reader.problem(field, { code: 'field-unknown', known: ['act', ...own] });
  for (const field of needs) reader.need(field);
  const arms = armsFromWords(reader);
  if ((act === 'set arm' || act === 'move') && !STATIONS.some((axis) => reader.has(axis)))
    reader.problem('x', { code: 'missing' });
  const before = reader.problems.length;
  const mass = massFromWords(reader, act);
  const massStdKg = reader.mass('uncertainty')?.si;
  if (act === 'add part') {
    const part = reader.text('name', 80) ?? '';
    return mass === undefined ? undefined : { part, change: { act, massKg: mass, massStdKg, ...arms } };
  }
  const part = partFromWords(reader, ledger);
  if (part === undefined || reader.problems.length > before) return undefined;
  const change = ofPart(act, { partId: part.partId, mass, massStdKg, arms });
  return change === undefined ? undefined : { part: part.number, change };
}

const STATIONS = ['x', 'y', 'z'] as const;
const ALL_FIELDS: readonly ChangeField[] = ['part', 'name', 'mass', 'uncertainty', ...STATIONS];

type Arms = { readonly xM: number | undefined; readonly yM: number | undefined; readonly zM: number | undefined };

function ofPart(
  act: Exclude<Act, 'add part'>,
  given: {
    readonly partId: PartId;
    readonly mass: number | undefined;
    readonly massStdKg: number | undefined;
    readonly arms: Arms;
  },
): WhatIfChange | undefined {
  const { partId, mass, massStdKg, arms } = given;
  switch (act) {
    case 'remove':
      return { act, partId };
    case 'set arm':
    case 'move':
      return { act, partId, ...arms };
    case 'add mass':
      return mass === undefined ? undefined : { act, partId, massKg: mass };
    case 'set mass':
      return mass === undefined ? undefined : { act, partId, massKg: mass, massStdKg };
  }
}

function armsFromWords(reader: FieldReader): Arms {
  const [xM, yM, zM] = STATIONS.map((axis) => reader.length(axis)?.si);
  return { xM, yM, zM };
}

/** Only what is added may be below zero: it is taken off then. */
function massFromWords(reader: FieldReader, act: Act): number | undefined {
  const text = reader.raw('mass');
  if (text === undefined) return undefined;
  const unsigned = act === 'add mass' ? text.replace(/^[-−–+]\s*/, '') : text;
  const isOff = unsigned !== text && !text.startsWith('+');
  const read = reader.readMassText('mass', unsigned);
  if (read.ok) return isOff ? -read.value.si : read.value.si;
  reader.problem('mass', quoting(read.refusal, text));
  return undefined;
}

function quoting(refusal: Refusal, text: string): Refusal {
  return 'text' in refusal ? { ...refusal, text } : refusal;
}

function partFromWords(reader: FieldReader, ledger: Ledger): { partId: PartId; number: string } | undefined {
  const number = reader.raw('part');
  if (number === undefined) return undefined;
  const partId = ledger.books.byNumber.get(numberKey(number));
  const definition = partId === undefined ? undefined : ledger.books.byPart.get(partId)?.state.definition;
  if (partId !== undefined && definition !== undefined) return { partId, number: definition.number };
  reader.problem('part', { code: 'unknown-part', part: number, near: undefined });
  return undefined;
}
