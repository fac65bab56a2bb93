/**
 * An estimate as a person states it (rule E1), into the statement that is recorded.
 * Fields: estimate, std uncertainty, x, y, z, arm uncertainty, evidence, allowance, later allowance, flash, later, finish.
 */

import { estimateOfLayUp } from '#shared/layup/compute.ts';
import type { LayUp } from '#shared/layup/schedule.ts';
import { Evidence, type PartId, type Process, type StatementOf } from '#shared/ledger/entry.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { type ShopAllowances, shopGrowth } from './allowance.ts';

export const ESTIMATE_FIELDS = [
  'estimate',
  'std uncertainty',
  'x',
  'y',
  'z',
  'arm uncertainty',
  'evidence',
  'allowance',
  'later allowance',
  'flash',
  'later',
  'finish',
] as const;

type PartOf = { readonly partId: PartId; readonly process: Process };

/**
 * The estimate of a part, or undefined where a problem was found or none is stated. Masses are per piece. Where no allowance
 * is stated, the shop's default for the process and the evidence is taken and said to be one: its own, or else common practice.
 */
export function estimateFromWords(
  reader: FieldReader,
  part: PartOf,
  own?: ShopAllowances,
): StatementOf<'estimate'> | undefined {
  const problemsBefore = reader.problems.length;
  const mass = reader.mass('estimate');
  const massStdKg = reader.massOrShareOf('std uncertainty', mass?.si);
  const placed = armsOf(reader);
  const evidence = reader.choice('evidence', Evidence.options, { estimate: 'estimated', calculation: 'calculated' });
  const growth = growthOf(reader, evidence ?? 'estimated', part.process, own);
  const flash = reader.mass('flash');
  const later = reader.mass('later');
  const finish = reader.mass('finish');
  if (!reader.has('estimate')) {
    const stray = ESTIMATE_FIELDS.find((field) => field !== 'evidence' && reader.has(field));
    if (stray !== undefined) reader.problem('estimate', { code: 'estimate-missing', because: stray });
    return undefined;
  }
  if (mass !== undefined && later !== undefined && later.si > mass.si)
    reader.problem('later', { code: 'later-above-estimate', later: later.typed, estimate: mass.typed });
  if (finish !== undefined && finish.si > (later?.si ?? 0))
    reader.problem('finish', { code: 'finish-above-later', finish: finish.typed, later: later?.typed ?? 'nothing' });
  if (mass === undefined || reader.problems.length > problemsBefore) return undefined;
  return {
    kind: 'estimate',
    partId: part.partId,
    massKg: mass.si,
    ...(massStdKg === undefined ? {} : { massStdKg }),
    ...placed,
    ...growth,
    flashKg: flash?.si ?? 0,
    laterKg: later?.si ?? 0,
    ...(finish === undefined ? {} : { finishKg: finish.si }),
    typed: { ...reader.typed },
  };
}

/** What a lay-up schedule says, and so nobody types beside it. */
export const LAID_UP: readonly (typeof ESTIMATE_FIELDS)[number][] = [
  'estimate',
  'std uncertainty',
  'evidence',
  'later',
  'finish',
];

/** The estimate of a part that its lay-up schedule gives (rule E3); arms, allowances and flash are stated beside it. */
export function laidUpFromWords(
  reader: FieldReader,
  {
    part,
    layUp,
    own,
  }: { readonly part: PartOf; readonly layUp: LayUp | undefined; readonly own: ShopAllowances | undefined },
): StatementOf<'estimate'> | undefined {
  const problemsBefore = reader.problems.length;
  for (const field of LAID_UP) if (reader.has(field)) reader.problem(field, { code: 'laid-up-is-stated' });
  const placed = armsOf(reader);
  const growth = growthOf(reader, 'calculated', part.process, own);
  const flash = reader.mass('flash');
  if (layUp === undefined || reader.problems.length > problemsBefore) return undefined;
  return {
    kind: 'estimate',
    partId: part.partId,
    ...estimateOfLayUp(layUp),
    ...placed,
    ...growth,
    flashKg: flash?.si ?? 0,
    layUp,
    typed: { ...reader.typed },
  };
}

type Arms = Pick<StatementOf<'estimate'>, 'xM' | 'yM' | 'zM' | 'armStdM'>;

function armsOf(reader: FieldReader): Arms {
  const x = reader.length('x');
  const y = reader.length('y');
  const z = reader.length('z');
  const armStd = reader.length('arm uncertainty');
  if (armStd !== undefined && armStd.si < 0)
    reader.problem('arm uncertainty', { code: 'negative', what: 'uncertainty' });
  return {
    ...(x === undefined ? {} : { xM: x.si }),
    ...(y === undefined ? {} : { yM: y.si }),
    ...(z === undefined ? {} : { zM: z.si }),
    ...(armStd === undefined ? {} : { armStdM: armStd.si }),
  };
}

type Growth = Pick<StatementOf<'estimate'>, 'evidence' | 'growth' | 'laterGrowth' | 'growthFrom'>;

function growthOf(reader: FieldReader, evidence: Evidence, process: Process, own: ShopAllowances | undefined): Growth {
  const stated = reader.share('allowance');
  const later = reader.share('later allowance');
  const growth = stated?.si ?? shopGrowth(process, evidence, own);
  const growthFrom = stated === undefined ? 'shop default' : 'stated';
  return { evidence, growth, laterGrowth: later?.si ?? growth, growthFrom };
}
