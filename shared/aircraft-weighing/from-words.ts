/**
 * A whole aircraft on its scales as a person states it, in words with units (rules A1, A2), into the statement that is recorded. What the
 * shop knows of the scales is copied into it, and empty weight and CG follow: neither is typed.
 * Fields: weighed (lists in it, see `README.md`), not aboard, signed by, signed on, signed as.
 */
import { displayUnitsOf } from '#shared/ledger/display-units.ts';
import type { Member, StatementOf } from '#shared/ledger/entry.ts';
import { inForce, type Ledger } from '#shared/ledger/fold.ts';
import type { DisplayUnits } from '#shared/quantity/show.ts';
import type { Typed } from '#shared/quantity/typed.ts';
import { accept, type Result, refuse } from '#shared/result.ts';
import { type At, missingPartsFromWords } from '#shared/weighing/assembly-from-words.ts';
import { calibrationAt, scaleKey, scalesOf } from '#shared/weighing/scales.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { type Nested, readNested } from '#shared/words/nested.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';
import { say } from '#shared/words/say.ts';
import { computeWeighing, runPoints } from './compute.ts';
import { CORRECTION_FIELDS, correctionFromWords } from './correction-from-words.ts';
import { weighedRefusals } from './refusals.ts';
import {
  CHECKS,
  MOST_CORRECTIONS,
  MOST_RUNS,
  MOST_SUPPORTS,
  type Run,
  SupportKind,
  supportKey,
  type Weighed,
  type WeighedSupport,
  WeighingCheck,
} from './weighing.ts';

export const AIRCRAFT_WEIGHING_FIELDS = ['weighed', 'not aboard', 'signed by', 'signed on', 'signed as'] as const;

/** The fields of `weighed`, and of what its lists hold. */
export const WEIGHED_FIELDS = [
  ...['reference', 'reference station', 'reference uncertainty', 'angle', 'angle uncertainty'],
  ...['mass limit', 'cg limit'],
] as const;
export const WEIGHED_LISTS = ['supports', 'level', 'tilted', 'corrections', 'checklist'] as const;
export const SUPPORT_FIELDS = [
  ...['name', 'is', 'x', 'x uncertainty', 'y', 'y uncertainty', 'z', 'z uncertainty', 'scale', 'resolution'],
] as const;
export const RUN_FIELDS = ['set aside'] as const;
export const READING_FIELDS = ['support', 'gross', 'tare'] as const;
export const CHECK_FIELDS = ['check', 'so', 'words'] as const;

/** Where it is not stated: how well a tape and a plumb line find a station. Common practice, no source. */
export const USUAL_STATION_STD_M = 0.002;
/** How well a digital level finds a tilt. Common practice, no source. */
export const USUAL_ANGLE_STD_RAD = (0.1 * Math.PI) / 180;
/** Two runs agree within this share of the weight, and this much of the CG. Common practice, no source. */
export const USUAL_AGREEMENT = 0.002;
export const USUAL_CG_AGREEMENT_M = 0.005;

export type AircraftWeighingContext = { readonly ledger: Ledger; readonly at: At };

/** What is known of a scale of that name, on the day. */
export type ScaleAt = (
  name: string,
) => { readonly gainStd: number; readonly resolutionKg?: number | undefined } | undefined;

function scaleIn({ ledger, at }: AircraftWeighingContext): ScaleAt {
  return (name) => calibrationAt(scalesOf(ledger).get(scaleKey(name)), at);
}

/** The statement, or undefined where a problem was found: it is with the reader, or among `deeper`. */
export function aircraftWeighingFromWords(
  reader: FieldReader,
  { sent, deeper }: { readonly sent: unknown; readonly deeper: PathProblem[] },
  context: AircraftWeighingContext,
): StatementOf<'aircraft weighing'> | undefined {
  const before = reader.problems.length;
  if (sent === undefined) reader.problem('weighed', { code: 'missing' });
  const read =
    sent === undefined
      ? undefined
      : weighedFromWords(sent, scaleIn(context), { units: displayUnitsOf(context.ledger) });
  if (read?.ok === false)
    deeper.push(...read.refusal.map(({ path, refusal }) => ({ path: ['weighed', ...path], refusal })));
  const missing = missingPartsFromWords(reader, 'not aboard', context);
  if (!reader.has('signed by')) reader.problem('signed by', { code: 'unsigned' });
  const signedBy = reader.text('signed by', 120);
  const signedOn = reader.day('signed on') ?? context.at.happenedOn;
  const signedAs = reader.text('signed as', 200);
  const { happenedOn } = context.at;
  if (signedOn < happenedOn)
    reader.problem('signed on', { code: 'signed-before-weighed', signed: signedOn, weighed: happenedOn });
  if (read?.ok !== true || signedBy === undefined || reader.problems.length > before) return undefined;
  return statementOf({
    ...{ weighed: read.value, missing, signedBy, signedOn },
    ...{ signedAs, oilIsEmptyWeight: inForce(context.ledger, 'aircraft')?.oilIsEmptyWeight ?? true },
  });
}

type Stated = {
  readonly weighed: Weighed;
  readonly missing: readonly Member[];
  readonly signedBy: string;
  readonly signedOn: string;
  readonly signedAs: string | undefined;
  readonly oilIsEmptyWeight: boolean;
};

function statementOf({ weighed, missing, signedBy, signedOn, signedAs, oilIsEmptyWeight }: Stated) {
  return {
    kind: 'aircraft weighing',
    ...computeWeighing(weighed).empty,
    missing: [...missing],
    weighed,
    oilIsEmptyWeight,
    signedBy,
    signedOn,
    ...(signedAs === undefined ? {} : { signedAs }),
  } as const satisfies StatementOf<'aircraft weighing'>;
}

/** What was put in, or every problem found, each at its place in what was sent. Without `isWhole` runs may differ and checks be open. */
export function weighedFromWords(
  sent: unknown,
  scaleAt: ScaleAt,
  { isWhole = true, units }: { readonly isWhole?: boolean; readonly units?: DisplayUnits | undefined } = {},
): Result<Weighed, readonly PathProblem[]> {
  const problems: PathProblem[] = [];
  const known = { fields: WEIGHED_FIELDS, lists: WEIGHED_LISTS };
  const all = readNested(sent, known, { path: [], problems });
  if (all === undefined) return refuse(problems);
  const sentSupports = all.list('supports', MOST_SUPPORTS, { fields: SUPPORT_FIELDS });
  const supports = sentSupports.map((one) => one.take((reader) => supportFromWords(reader, scaleAt)));
  // A support whose station cannot be read yet can be read on all the same.
  const named = sentSupports.flatMap(({ reader }) => reader.raw('name') ?? []);
  const isTwice = (name: string, at: number) => named.findIndex((one) => supportKey(one) === supportKey(name)) < at;
  const twice = named.flatMap((name, at) => (isTwice(name, at) ? [name] : []));
  if (twice[0] !== undefined)
    problems.push({ path: ['supports'], refusal: { code: 'support-twice', support: twice[0] } });
  const level = runsFromWords(all, 'level', named, problems);
  const tilted = runsFromWords(all, 'tilted', named, problems);
  const corrections = all
    .list('corrections', MOST_CORRECTIONS, { fields: CORRECTION_FIELDS })
    .flatMap((one) => one.take(correctionFromWords) ?? []);
  const checklist = all
    .list('checklist', CHECKS.length, { fields: CHECK_FIELDS })
    .flatMap((one) => one.take(checkFromWords) ?? []);
  const whole = all.take((reader) => wholeFromWords(reader, tilted.length > 0));
  if (problems.length > 0 || whole === undefined) return refuse(problems);
  const read: Weighed = {
    ...whole.reference,
    supports: withDigits(
      supports.flatMap((one) => one ?? []),
      [...level, ...tilted],
    ),
    level: level.map(({ run }) => run),
    ...(whole.tilt === undefined ? {} : { tilted: { ...whole.tilt, runs: tilted.map(({ run }) => run) } }),
    agreement: { massKg: 1, cgM: 1, from: 'common practice' },
    corrections,
    checklist,
    typed: { ...all.reader.typed },
  };
  const refusals = weighedRefusals(read, { units });
  if (refusals.length > 0) return refuse(refusals);
  const weighed = { ...read, agreement: agreementOf(whole.limits, read) };
  const apart = weighedRefusals(weighed, { isWhole, units });
  return apart.length > 0 ? refuse(apart) : accept(weighed);
}

function supportFromWords(reader: FieldReader, scaleAt: ScaleAt): WeighedSupport | undefined {
  const before = reader.problems.length;
  for (const field of ['name', 'x']) reader.need(field);
  const name = reader.text('name', 60);
  const is = reader.choice('is', SupportKind.options) ?? 'other';
  const [x, y, z] = [reader.length('x'), reader.length('y'), reader.length('z')];
  const std = (field: string) => notNegative(reader, field, reader.length(field))?.si ?? USUAL_STATION_STD_M;
  const [xStdM, yStdM, zStdM] = [std('x uncertainty'), std('y uncertainty'), std('z uncertainty')];
  const scale = reader.text('scale', 60);
  const resolution = reader.mass('resolution');
  if (name === undefined || x === undefined || reader.problems.length > before) return undefined;
  const calibration = scale === undefined ? undefined : scaleAt(scale);
  const resolutionKg = resolution?.si ?? calibration?.resolutionKg;
  return {
    ...{ name, is, xM: x.si, xStdM },
    ...(y === undefined ? {} : { yM: y.si, yStdM }),
    ...(z === undefined ? {} : { zM: z.si, zStdM }),
    ...(scale === undefined ? {} : { scale }),
    gainStd: calibration?.gainStd ?? 0,
    resolutionKg: resolutionKg ?? 0,
    resolutionFrom: resolution !== undefined ? 'stated' : resolutionKg === undefined ? 'digits typed' : 'scale',
    typed: { ...reader.typed },
  };
}

export function notNegative(reader: FieldReader, field: string, read: Typed | undefined): Typed | undefined {
  if (read === undefined || read.si >= 0) return read;
  reader.problem(field, { code: 'negative', what: 'uncertainty' });
  return undefined;
}

type ReadRun = { readonly run: Run /** Finest digit typed, by support. */; readonly digitsKg: readonly number[] };

/** Runs with one reading for each support, brought into the order of the supports. */
function runsFromWords(
  all: Nested,
  attitude: 'level' | 'tilted',
  supports: readonly string[],
  problems: PathProblem[],
): readonly ReadRun[] {
  return all.list(attitude, MOST_RUNS, { fields: RUN_FIELDS, lists: ['readings'] }).map((one, at) => {
    const path = [attitude, String(at)];
    const setAside = one.take((reader) => {
      if (reader.isSent('set aside')) reader.need('set aside');
      return reader.text('set aside', 400);
    });
    const readings = one
      .list('readings', MOST_SUPPORTS, { fields: READING_FIELDS })
      .map((reading) => reading.take((reader) => readingFromWords(reader, supports)));
    const bySupport = new Map(
      readings.flatMap((reading) => (reading?.key === undefined ? [] : [[reading.key, reading]])),
    );
    for (const support of supports)
      if (!bySupport.has(supportKey(support)))
        problems.push({ path: [...path, 'readings'], refusal: { code: 'reading-missing', support } });
    if (
      new Set(supports.map(supportKey)).size === supports.length &&
      bySupport.size < readings.filter((reading) => reading !== undefined).length
    )
      problems.push({
        path: [...path, 'readings'],
        refusal: { code: 'shape-refused', why: say`must not read a support twice` },
      });
    const ordered = supports.flatMap((support) => bySupport.get(supportKey(support)) ?? []);
    return {
      run: { readings: ordered.map(({ reading }) => reading), ...(setAside === undefined ? {} : { setAside }) },
      digitsKg: ordered.map(({ digitKg }) => digitKg),
    };
  });
}

function readingFromWords(reader: FieldReader, supports: readonly string[]) {
  const before = reader.problems.length;
  for (const field of ['support', 'gross']) reader.need(field);
  const support = reader.raw('support') ?? '';
  const key = supportKey(support);
  if (support !== '' && supports.length > 0 && !supports.some((name) => supportKey(name) === key))
    reader.problem('support', { code: 'not-a-choice', text: support, choices: supports });
  const gross = reader.mass('gross');
  const tare = reader.mass('tare');
  if (gross !== undefined && gross.si <= (tare?.si ?? 0))
    reader.problem('gross', { code: 'gross-not-above-tare', gross: gross.typed, tare: tare?.typed ?? 'no tare' });
  if (gross === undefined || reader.problems.length > before) return undefined;
  const digitKg = Math.min(
    ...[gross, ...(tare === undefined || tare.si === 0 ? [] : [tare])].map((one) => one.lastDigitSi),
  );
  return {
    key,
    reading: { grossKg: gross.si, tareKg: tare?.si ?? 0, typed: { ...reader.typed } },
    digitKg,
  };
}

/** A support whose scale nobody described is resolved to the finest digit it has shown, as a part's scale is. */
function withDigits(supports: readonly WeighedSupport[], runs: readonly ReadRun[]): WeighedSupport[] {
  return supports.map((support, at) => {
    if (support.resolutionFrom !== 'digits typed') return support;
    const digitKg = Math.min(...runs.flatMap(({ digitsKg }) => digitsKg[at] ?? []));
    return { ...support, resolutionKg: Number.isFinite(digitKg) ? digitKg : 0 };
  });
}

function checkFromWords(reader: FieldReader): Weighed['checklist'][number] | undefined {
  for (const field of ['check', 'so']) reader.need(field);
  const check = reader.choice('check', WeighingCheck.options);
  const so = reader.choice('so', ['yes', 'no']);
  const words = reader.text('words', 400);
  if (check === undefined || so === undefined) return undefined;
  if (so === 'no' && words === undefined) reader.problem('words', { code: 'check-without-words' });
  return { check, isSo: so === 'yes', ...(words === undefined ? {} : { words }) };
}

type Limits = { readonly massKg: number | undefined; readonly cgM: number | undefined };

function wholeFromWords(reader: FieldReader, isTilted: boolean) {
  const before = reader.problems.length;
  reader.need('reference');
  const reference = reader.text('reference', 200);
  const station = reader.length('reference station');
  const stationStd = notNegative(reader, 'reference uncertainty', reader.length('reference uncertainty'));
  if (isTilted) reader.need('angle');
  const angle = reader.angle('angle');
  const angleStd = notNegative(reader, 'angle uncertainty', reader.angle('angle uncertainty'));
  const limits: Limits = {
    massKg: aboveZero(reader, 'mass limit', reader.mass('mass limit')),
    cgM: aboveZero(reader, 'cg limit', reader.length('cg limit')),
  };
  if (reference === undefined || reader.problems.length > before) return undefined;
  const { angle: angleText, 'angle uncertainty': stdText } = reader.typed;
  const tilt =
    !isTilted || angle === undefined
      ? undefined
      : {
          angleRad: angle.si,
          angleStdRad: angleStd?.si ?? USUAL_ANGLE_STD_RAD,
          typed: {
            ...(angleText === undefined ? {} : { angle: angleText }),
            ...(stdText === undefined ? {} : { 'angle uncertainty': stdText }),
          },
        };
  return { reference: { reference, referenceM: station?.si ?? 0, referenceStdM: stationStd?.si ?? 0 }, tilt, limits };
}

function aboveZero(reader: FieldReader, field: string, read: Typed | undefined): number | undefined {
  if (read === undefined || read.si > 0) return read?.si;
  reader.problem(field, { code: 'out-of-range', text: read.typed, least: 'more than 0', most: 'what you allow' });
  return undefined;
}

function agreementOf({ massKg, cgM }: Limits, weighed: Weighed): Weighed['agreement'] {
  const points = runPoints(weighed);
  const meanKg = points.reduce((sum, point) => sum + point.massKg, 0) / points.length;
  return {
    massKg: massKg ?? USUAL_AGREEMENT * meanKg,
    cgM: cgM ?? USUAL_CG_AGREEMENT_M,
    from: massKg === undefined || cgM === undefined ? 'common practice' : 'stated',
  };
}
