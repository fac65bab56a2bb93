/**
 * A target baseline as a person states it, into the statement that is recorded.
 * Fields: empty mass, reserve, cg forward, cg aft, part limit, part limit share, reason; targets of groups come beside them.
 * The CG range is a station, or a per cent of the mean aerodynamic chord where the aircraft states its chord.
 */

import { SHOP_PART_LIMIT } from '#shared/drift/part-drift.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import type { QuantityRefusal } from '#shared/quantity/typed.ts';
import { accept, type Result } from '#shared/result.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';

export const TARGET_FIELDS = [
  'empty mass',
  'reserve',
  'cg forward',
  'cg aft',
  'part limit',
  'part limit share',
  'reason',
] as const;

type Chord = Pick<StatementOf<'aircraft'>, 'macM' | 'lemacM'>;

/** A group of the baseline; without a mass it is listed, and has no target of its own. */
export type GroupTarget = {
  readonly group: string;
  readonly massKg?: number | undefined;
  readonly typed?: string | undefined;
};

/** The target of a group as it is typed: a mass, or nothing (or `none`) where the group is only listed. */
export function groupTarget(
  reader: FieldReader,
  field: string,
  group: string,
  text: string,
): Result<GroupTarget, QuantityRefusal> {
  if (/^\s*(?:none)?\s*$/i.test(text)) return accept({ group });
  const read = reader.readMassText(field, text);
  return read.ok ? accept({ group, massKg: read.value.si, typed: read.value.typed }) : read;
}

/** The baseline, or undefined where a problem was found. `groups` have been read already. */
export function targetsFromWords(
  reader: FieldReader,
  chord: Chord | undefined,
  groups: readonly GroupTarget[],
): StatementOf<'targets'> | undefined {
  const problemsBefore = reader.problems.length;
  reader.need('empty mass');
  const emptyMass = reader.mass('empty mass');
  const reserve = reader.mass('reserve');
  const cgForwardM = station(reader, 'cg forward', chord);
  const cgAftM = station(reader, 'cg aft', chord);
  const absolute = reader.mass('part limit');
  const fraction = reader.share('part limit share');
  const reason = reader.text('reason', 400);
  if (emptyMass?.si === 0) reader.problem('empty mass', { code: 'target-zero' });
  if (emptyMass !== undefined && reserve !== undefined && reserve.si >= emptyMass.si)
    reader.problem('reserve', { code: 'reserve-too-large', reserve: reserve.typed, target: emptyMass.typed });
  if (cgForwardM !== undefined && cgAftM !== undefined && cgForwardM >= cgAftM)
    reader.problem('cg aft', { code: 'range-reversed' });
  const twice = groups.find(({ group }, at) => groups.findIndex((other) => other.group === group) !== at);
  if (twice !== undefined) reader.problem('group', { code: 'group-twice', group: twice.group });
  if (emptyMass === undefined || reader.problems.length > problemsBefore) return undefined;
  return {
    kind: 'targets',
    emptyMassKg: emptyMass.si,
    ...(cgForwardM === undefined ? {} : { cgForwardM }),
    ...(cgAftM === undefined ? {} : { cgAftM }),
    reserveKg: reserve?.si ?? 0,
    groups: groups.map(({ group, massKg }) => ({ group, ...(massKg === undefined ? {} : { massKg }) })),
    partLimit: {
      absoluteKg: absolute?.si ?? SHOP_PART_LIMIT.absoluteKg,
      fraction: fraction?.si ?? SHOP_PART_LIMIT.fraction,
    },
    ...(reason === undefined ? {} : { reason }),
    typed: {
      ...reader.typed,
      ...Object.fromEntries(
        groups.flatMap(({ group, typed }) => (typed === undefined ? [] : [[`group ${group}`, typed]])),
      ),
    },
  };
}

/** `1.85 m`, or `22 % MAC`: a per cent of the chord is LEMAC + share x MAC. */
function station(reader: FieldReader, field: string, chord: Chord | undefined): number | undefined {
  const text = reader.raw(field);
  if (text === undefined) return undefined;
  const inMac = /^(.*?)\s*%\s*(?:mac)?$/i.exec(text);
  if (inMac?.[1] === undefined) return reader.length(field)?.si;
  if (chord?.macM === undefined || chord.lemacM === undefined) {
    reader.problem(field, { code: 'chord-unknown' });
    return undefined;
  }
  const share = reader.shareText(field, inMac[1]);
  // The binary dust of the product is dropped: 24 % of a chord is a plain number.
  return share === undefined ? undefined : Number((chord.lemacM + share * chord.macM).toPrecision(12));
}
