/**
 * A scale and a check weight as a person states them (rules W1, W12, U1), into the statements that are recorded.
 * Scale: scale, capacity, resolution, calibrated, calibration due, calibration uncertainty, coverage.
 * Check weight: scale, reference, shown, limit.
 */
import type { StatementOf } from '#shared/ledger/entry.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';

export const SCALE_FIELDS = [
  'scale',
  'capacity',
  'resolution',
  'calibrated',
  'calibration due',
  'calibration uncertainty',
  'coverage',
] as const;
export const CHECK_FIELDS = ['scale', 'reference', 'shown', 'limit'] as const;

/**
 * The calibration uncertainty is a share of what is shown (`0.02 %`), or a mass at the capacity. A certificate states it with a coverage
 * factor, 1 or 2; which of the two is asked for and not guessed, and what is kept is the standard uncertainty.
 */
export function scaleFromWords(reader: FieldReader): StatementOf<'scale'> | undefined {
  const problemsBefore = reader.problems.length;
  reader.need('scale');
  const name = reader.text('scale', 60);
  const capacity = reader.mass('capacity');
  const resolution = reader.mass('resolution');
  const calibratedOn = reader.day('calibrated');
  const dueOn = reader.day('calibration due');
  const capacityKg = capacity?.si;
  if (capacityKg === undefined && isMass(reader.raw('calibration uncertainty'))) reader.need('capacity');
  const expandedKg = reader.massOrShareOf('calibration uncertainty', capacityKg ?? 1);
  const coverage = reader.factor('coverage');
  for (const [field, read] of [
    ['capacity', capacity],
    ['resolution', resolution],
  ] as const)
    if (read !== undefined && read.si <= 0)
      reader.problem(field, { code: 'out-of-range', text: read.typed, least: 'more than 0 kg', most: '1,000,000 kg' });
  if (calibratedOn !== undefined && dueOn !== undefined && dueOn < calibratedOn)
    reader.problem('calibration due', { code: 'days-reversed', from: calibratedOn, to: dueOn });
  if (reader.has('calibration uncertainty') && !reader.has('coverage'))
    reader.problem('coverage', { code: 'coverage-missing' });
  const gainStd = (expandedKg ?? 0) / (capacityKg ?? 1) / (coverage ?? 1);
  if (gainStd > 1 && reader.problems.length === problemsBefore)
    reader.problem('calibration uncertainty', {
      code: 'out-of-range',
      text: reader.raw('calibration uncertainty') ?? '',
      least: '0 %',
      most: 'all of the capacity, after division by the coverage factor',
    });
  if (name === undefined || reader.problems.length > problemsBefore) return undefined;
  return {
    kind: 'scale',
    scale: name,
    ...(capacityKg === undefined ? {} : { capacityKg }),
    ...(resolution === undefined ? {} : { resolutionKg: resolution.si }),
    ...(calibratedOn === undefined ? {} : { calibratedOn }),
    ...(dueOn === undefined ? {} : { dueOn }),
    gainStd,
    typed: { ...reader.typed },
  };
}

function isMass(text: string | undefined): boolean {
  return text !== undefined && !text.trim().endsWith('%');
}

/**
 * `known` is what the ledger says of the scale. Without a stated limit the in-service limit of class III of OIML R 76 is taken, with the
 * scale's resolution for its verification interval.
 */
export function checkFromWords(
  reader: FieldReader,
  known: (scale: string) => StatementOf<'scale'> | undefined,
): StatementOf<'check weight'> | undefined {
  const problemsBefore = reader.problems.length;
  for (const field of ['scale', 'reference', 'shown']) reader.need(field);
  const scale = reader.text('scale', 60);
  const reference = reader.mass('reference');
  const shown = reader.mass('shown');
  const limit = reader.mass('limit');
  const resolutionKg = scale === undefined ? undefined : known(scale)?.resolutionKg;
  if (reference !== undefined && reference.si <= 0)
    reader.problem('reference', {
      code: 'out-of-range',
      text: reference.typed,
      least: 'more than 0 kg',
      most: '1,000,000 kg',
    });
  if (resolutionKg === undefined) reader.need('limit');
  if (scale === undefined || reference === undefined || shown === undefined) return undefined;
  if (reader.problems.length > problemsBefore) return undefined;
  return {
    kind: 'check weight',
    scale,
    referenceKg: reference.si,
    shownKg: shown.si,
    limitKg: limit?.si ?? serviceLimitKg(reference.si, resolutionKg ?? 0),
    typed: { ...reader.typed },
  };
}

/**
 * In-service limit of class III, OIML R 76: twice 0.5 e up to 500 e, 1 e up to 2,000 e, 1.5 e above; e is the verification
 * interval. Kilograms in and out.
 */
export function serviceLimitKg(loadKg: number, intervalKg: number): number {
  // 25 lb are 500 intervals of 0.05 lb: the dust of the binary quotient must not decide.
  const intervals = Number((loadKg / intervalKg).toPrecision(12));
  if (intervals <= 500) return intervalKg;
  return intervals <= 2000 ? 2 * intervalKg : 3 * intervalKg;
}
