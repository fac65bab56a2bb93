/**
 * What a schedule says while it is typed (rule E3): the masses of everything that can be read already, and every problem at the field that it is
 * about. A line that is not complete is left out of the sums and does not take the others with it.
 */
import { explain, type Refusal } from '#shared/problem/registry.ts';
import type { LengthUnit } from '#shared/quantity/units.ts';
import { type ComputedLayUp, type ComputedLine, type ComputedRegion, computeLayUp } from './compute.ts';
import { COVERS, coversField, type LineDraft, type RegionDraft, type ScheduleDraft, sentOf } from './draft.ts';
import { type LayUpContext, layUpFromWords } from './from-words.ts';
import type { LayUp } from './schedule.ts';

export type DraftProblem = {
  /** Of the line, of the region, or `WHOLE`. */
  readonly key: string;
  readonly field: string;
  readonly code: Refusal['code'];
  readonly words: string;
  readonly remedy: string;
};

export const WHOLE = 'whole';

export type ReadDraft = {
  /** All of it; undefined while there is a problem. */
  readonly layUp: LayUp | undefined;
  /** What can be read so far. */
  readonly computed: ComputedLayUp | undefined;
  readonly readable: LayUp | undefined;
  readonly lineOf: ReadonlyMap<string, ComputedLine>;
  readonly regionOf: ReadonlyMap<string, ComputedRegion>;
  readonly problems: readonly DraftProblem[];
  readonly linesLeftOut: number;
};

/** What is left out only shows more of what remains, so a few rounds do. */
const MOST_ROUNDS = 8;

export function readDraft(draft: ScheduleDraft, context: LayUpContext, lengthUnit: LengthUnit): ReadDraft {
  const problems = new Map<string, DraftProblem>();
  let kept = draft;
  let isDry = false;
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const read = layUpFromWords(sentOf(kept, lengthUnit), context);
    if (read.ok) return answer(draft, kept, read.value, [...problems.values()]);
    const found = read.refusal.map(({ path, refusal }) => problemAt(kept, path, refusal));
    for (const one of found) {
      const at = `${one.key} ${one.field}`;
      // What follows from something left out is no problem of its own.
      const follows = one.code === 'missing' || (one.key === WHOLE && (isDry || one.code === 'schedule-empty'));
      const isOwn = round === 0 || !follows;
      if (isOwn && !problems.has(at)) problems.set(at, one);
    }
    const next = without(kept, found);
    if (next === undefined) break;
    isDry ||= found.some(({ key, field }) => key === WHOLE && LAMINATE.includes(field));
    kept = next;
  }
  return answer(draft, kept, undefined, [...problems.values()]);
}

function answer(
  draft: ScheduleDraft,
  kept: ScheduleDraft,
  readable: LayUp | undefined,
  problems: readonly DraftProblem[],
): ReadDraft {
  const computed = readable === undefined ? undefined : computeLayUp(readable);
  const keysOf = kept.regions.map(({ lines }) => lines.map(({ key }) => key));
  return {
    layUp: problems.length === 0 ? readable : undefined,
    ...{ computed, readable, problems },
    lineOf: new Map(computed?.lines.map((line) => [keysOf[line.region]?.[line.line] ?? '', line])),
    regionOf: new Map(computed?.regions.map((region, at) => [kept.regions[at]?.key ?? '', region])),
    linesLeftOut: linesOf(draft) - (computed === undefined ? 0 : linesOf(kept)),
  };
}

function linesOf({ regions }: ScheduleDraft): number {
  return regions.reduce((count, { lines }) => count + lines.length, 0);
}

function problemAt(draft: ScheduleDraft, path: readonly string[], refusal: Refusal): DraftProblem {
  const { words, remedy } = explain(refusal);
  const told = { code: refusal.code, words, remedy: refusal.code === 'material-unknown' ? UNKNOWN : remedy };
  const [list, at, inner, lineAt] = path;
  const region = list === 'regions' ? draft.regions[Number(at)] : undefined;
  if (region === undefined) return { key: WHOLE, field: wholeField(path), ...told };
  const line = inner === 'lines' ? region.lines[Number(lineAt)] : undefined;
  if (line === undefined) return { key: region.key, field: inner ?? '', ...told };
  return { key: line.key, field: lineField(line, path[4] ?? ''), ...told };
}

/** The list of all names would be longer than the screen. */
const UNKNOWN = 'Choose one of the list, or describe it as a new material.';

function wholeField(path: readonly string[]): string {
  const field = path[0] ?? '';
  return field === 'fibre by mass' || field === 'fibre by volume' ? 'fraction' : field;
}

function lineField({ words }: LineDraft, field: string): string {
  return field === coversField(words[COVERS] ?? '') ? COVERS : field;
}

const LAMINATE = ['resin', 'fraction'];

/** The draft without what could not be read; undefined where nothing is left to leave out. */
function without(draft: ScheduleDraft, found: readonly DraftProblem[]): ScheduleDraft | undefined {
  const fieldsOf = new Map<string, string[]>();
  for (const { key, field } of found) fieldsOf.set(key, [...(fieldsOf.get(key) ?? []), field]);
  const whole = fieldsOf.get(WHOLE) ?? [];
  const isDry = LAMINATE.some((field) => whole.includes(field));
  const regions = draft.regions.flatMap((region): RegionDraft[] => {
    const wrong = fieldsOf.get(region.key) ?? [];
    if (wrong.includes('area') || wrong.includes('')) return [];
    const lines = region.lines.filter(({ key, words }) => !fieldsOf.has(key) && !(isDry && isWetted(words)));
    return [{ ...region, words: nameKept(region, wrong), lines }];
  });
  const hasLines = regions.some(({ lines }) => lines.length > 0);
  const unread = isDry ? [...LAMINATE, 'fraction uncertainty', 'band low', 'band high'] : whole;
  const words = leftOut(draft.words, unread);
  const isSame = linesOf({ ...draft, regions }) === linesOf(draft) && regions.length === draft.regions.length;
  const isSameWords = unread.every((field) => (draft.words[field] ?? '') === '');
  const isSameRegions = [...fieldsOf].every(([key]) => !draft.regions.some((region) => region.key === key));
  if (!hasLines || (isSame && isSameWords && isSameRegions)) return undefined;
  return { ...draft, words, regions };
}

function isWetted(words: LineDraft['words']): boolean {
  return (
    words['is'] === 'ply' || ['kerf length', 'kerf width', 'kerf depth'].some((field) => (words[field] ?? '') !== '')
  );
}

/** A region without a good name still has an area. */
function nameKept({ key, words }: RegionDraft, wrong: readonly string[]): RegionDraft['words'] {
  return wrong.includes('name') ? { ...leftOut(words, wrong), name: key } : leftOut(words, wrong);
}

function leftOut(words: LineDraft['words'], fields: readonly string[]): LineDraft['words'] {
  return Object.fromEntries(Object.entries(words).filter(([field]) => !fields.includes(field)));
}
