/**
 * What loading limits say while they are typed (rule C1): the limits once all of it can be read, and every problem at the field that it is
 * about. A problem that a door found comes to the same places.
 */
import { explain, type Refusal } from '#shared/problem/registry.ts';
import type { DisplayUnits } from '#shared/quantity/show.ts';
import { readLength, readMass, readNumber } from '#shared/quantity/typed.ts';
import { filledCorners, filledLoads, type LimitsDraft, sentOf } from './draft.ts';
import { limitsFromWords } from './from-words.ts';
import type { Envelope, LoadingLimits } from './limits.ts';
import { type Against, refusalsOfLimits } from './refusals.ts';

/** Where a problem belongs: a row or `WHOLE`, and a field of it. */
export type Place = { readonly key: string; readonly field: string };
export type DraftProblem = Place & { readonly code: string; readonly words: string; readonly remedy: string };

export const WHOLE = 'whole';
/** The envelope as a whole, and the list of stations. */
export const ENVELOPE = 'envelope';
export const STATIONS = 'stations';

export type ReadDraft = {
  /** All of it; undefined while there is a problem. */
  readonly limits: LoadingLimits | undefined;
  readonly problems: readonly DraftProblem[];
};

export function readDraft(draft: LimitsDraft, units: DisplayUnits, against: Against): ReadDraft {
  const read = limitsFromWords(sentOf(draft, units));
  const refusals = read.ok ? refusalsOfLimits(read.value, { ...against, units }) : read.refusal;
  const problems = refusals.map(({ path, refusal }) => ({ ...placeOf(draft, path), ...toldOf(refusal) }));
  return { limits: read.ok && problems.length === 0 ? read.value : undefined, problems: oneEach(problems) };
}

/** The corners that can be read already, for a picture while others are typed. */
export function readCorners(draft: LimitsDraft, units: DisplayUnits): Envelope {
  const by = draft.words['envelope by'] === 'per cent MAC' ? 'per cent MAC' : 'station';
  const points = filledCorners(draft).flatMap(({ words }) => {
    const mass = readMass(words['mass'] ?? '', { unit: units.mass });
    const text = (words['at'] ?? '').trim();
    const at =
      by === 'station'
        ? readLength(text, { unit: units.length })
        : readNumber(text.replace(/\s*%?\s*(?:mac)?$/i, ''), false);
    if (!mass.ok || !at.ok) return [];
    return [{ massKg: mass.value.si, at: 'si' in at.value ? at.value.si : at.value.number }];
  });
  return { by, points };
}

/** The place in the draft of a path in what was sent. */
export function placeOf(draft: LimitsDraft, path: readonly string[]): Place {
  const [list = '', index, inner, innerAt, field = ''] = path;
  switch (list) {
    case 'stations': {
      const station = draft.stations[Number(index)];
      if (index === undefined || station === undefined) return { key: STATIONS, field: '' };
      if (inner !== 'arms') return { key: station.key, field: inner ?? 'name' };
      return { key: station.arms[Number(innerAt)]?.key ?? station.key, field: innerAt === undefined ? 'arms' : field };
    }
    case 'envelope': {
      const corner = index === undefined ? undefined : filledCorners(draft)[Number(index)];
      return corner === undefined ? { key: ENVELOPE, field: '' } : { key: corner.key, field: inner ?? 'at' };
    }
    case 'cases': {
      const one = draft.cases[Number(index)];
      if (one === undefined) return { key: WHOLE, field: list };
      if (inner === 'loads') {
        const load = innerAt === undefined ? undefined : filledLoads(draft, one)[Number(innerAt)];
        return { key: one.key, field: load === undefined ? 'loads' : `load ${load.key}` };
      }
      if (inner !== 'burn') return { key: one.key, field: inner ?? 'name' };
      const step = one.burn[Number(innerAt)];
      return step === undefined ? { key: one.key, field: 'burn' } : { key: step.key, field: field || 'quantity' };
    }
    case 'lateral':
      return { key: WHOLE, field: 'butt line right' };
    default:
      return { key: WHOLE, field: list };
  }
}

function toldOf(refusal: Refusal) {
  const { words, remedy } = explain(refusal);
  return { code: refusal.code, words, remedy };
}

/** Of several problems of a field the first is told. */
function oneEach(problems: readonly DraftProblem[]): readonly DraftProblem[] {
  const seen = new Set<string>();
  return problems.filter(({ key, field }) => {
    const place = `${key} ${field}`;
    if (seen.has(place)) return false;
    seen.add(place);
    return true;
  });
}
