/**
 * An estimate as a person states it (rule E1), into the statement that is recorded.
 * Fields: estimate, std uncertainty, x, y, z, arm uncertainty, evidence, allowance, later allowance, flash, later, finish.
 */
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

/**
 * The estimate of a part, or undefined where a problem was found or none is stated. Masses are per piece. Where no allowance
 * is stated, the shop's default for the process and the evidence is taken and said to be one: its own, or else common practice.
 */
export function estimateFromWords(
  reader: FieldReader,
  part: { readonly partId: PartId; readonly process: Process },
  own?: ShopAllowances,
): StatementOf<'estimate'> | undefined {
  const problemsBefore = reader.problems.length;
  const mass = reader.mass('estimate');
  const massStdKg = reader.massOrShareOf('std uncertainty', mass?.si);
  const x = reader.length('x');
  const y = reader.length('y');
  const z = reader.length('z');
  const armStd = reader.length('arm uncertainty');
  const evidence = reader.choice('evidence', Evidence.options, { estimate: 'estimated', calculation: 'calculated' });
  const growth = reader.share('allowance');
  const laterGrowth = reader.share('later allowance');
  const flash = reader.mass('flash');
  const later = reader.mass('later');
  const finish = reader.mass('finish');
  if (armStd !== undefined && armStd.si < 0)
    reader.problem('arm uncertainty', { code: 'negative', what: 'uncertainty' });
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
  const stated = evidence ?? 'estimated';
  const growthFraction = growth?.si ?? shopGrowth(part.process, stated, own);
  return {
    kind: 'estimate',
    partId: part.partId,
    massKg: mass.si,
    ...(massStdKg === undefined ? {} : { massStdKg }),
    ...(x === undefined ? {} : { xM: x.si }),
    ...(y === undefined ? {} : { yM: y.si }),
    ...(z === undefined ? {} : { zM: z.si }),
    ...(armStd === undefined ? {} : { armStdM: armStd.si }),
    evidence: stated,
    growth: growthFraction,
    laterGrowth: laterGrowth?.si ?? growthFraction,
    growthFrom: growth === undefined ? 'shop default' : 'stated',
    flashKg: flash?.si ?? 0,
    laterKg: later?.si ?? 0,
    ...(finish === undefined ? {} : { finishKg: finish.si }),
    typed: { ...reader.typed },
  };
}
