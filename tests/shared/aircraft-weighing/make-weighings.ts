/** Weighings of a whole aircraft for tests of the rules: in words, as somebody types them, and as statements. All figures are invented. */
import { computeWeighing } from '#shared/aircraft-weighing/compute.ts';
import { weighedFromWords } from '#shared/aircraft-weighing/from-words.ts';
import { CHECKS, type Weighed } from '#shared/aircraft-weighing/weighing.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { type Ledger, openLedger } from '#shared/ledger/fold.ts';
import { calibrationAt, scaleKey, scalesOf } from '#shared/weighing/scales.ts';
import type { PathProblem } from '#shared/words/path-problem.ts';

export type WeighedWords = Readonly<Record<string, unknown>>;

export const CHECKED = CHECKS.map((check) => ({ check, so: 'yes' }));

const NAMES = ['Nose', 'Left main', 'Right main'];

/** A nosewheel and two mains, weighed twice. */
export const ON_WHEELS = {
  reference: 'front face of the main frame',
  'reference station': '2 m',
  supports: [
    { name: 'Nose', is: 'nosewheel', x: '-1.5 m', y: '0 m' },
    { name: 'Left main', is: 'main', x: '0.5 m', y: '-1 m' },
    { name: 'Right main', is: 'main', x: '0.5 m', y: '1 m' },
  ],
  level: [runOf(['80.0 kg', '151.0 kg', '149.0 kg']), runOf(['80.2 kg', '150.8 kg', '149.2 kg'])],
  checklist: CHECKED,
} as const satisfies WeighedWords;

export function runOf(gross: readonly string[], names: readonly string[] = NAMES, tare: readonly string[] = []) {
  return {
    readings: names.map((support, at) => ({
      support,
      gross: gross[at] ?? '',
      ...(tare[at] === undefined ? {} : { tare: tare[at] }),
    })),
  };
}

export function readWeighed(words: WeighedWords, ledger: Ledger = openLedger()) {
  const at = { happenedOn: '2026-05-01', seq: Number.POSITIVE_INFINITY };
  return weighedFromWords(words, (name) => calibrationAt(scalesOf(ledger).get(scaleKey(name)), at));
}

export function weighedOf(words: WeighedWords, ledger?: Ledger): Weighed {
  const read = readWeighed(words, ledger);
  if (!read.ok) throw new Error(JSON.stringify(read.refusal));
  return read.value;
}

export function problemsOf(words: WeighedWords, ledger?: Ledger): readonly PathProblem[] {
  const read = readWeighed(words, ledger);
  return read.ok ? [] : read.refusal;
}

/** A signed weighing of those words. */
export function aircraftWeighingOf(
  words: WeighedWords = ON_WHEELS,
  changes: Partial<Omit<StatementOf<'aircraft weighing'>, 'kind'>> = {},
): StatementOf<'aircraft weighing'> {
  const weighed = weighedOf(words);
  return {
    kind: 'aircraft weighing',
    ...computeWeighing(weighed).empty,
    ...{ missing: [], weighed, oilIsEmptyWeight: true, signedBy: 'A. Signer', signedOn: '2026-05-28' },
    ...changes,
  };
}
