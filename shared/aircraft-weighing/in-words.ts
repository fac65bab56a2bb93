/** A signed weighing as the draft that says the same (rule L2): what was typed where it was kept, else the figure in SI. */
import type { SignedWeighingReport } from '#shared/contract/aircraft-weighing.ts';
import { plain } from '#shared/quantity/in-words.ts';
import { checkField, fieldOf, readingField, type WeighingDraft } from './draft.ts';
import type { Run, Weighed, WeighingCorrection } from './weighing.ts';

type Words = Record<string, string | undefined>;

/** Every field of a draft that would be signed as this weighing. */
export function draftInWords({ statement, happenedOn, notAboard }: SignedWeighingReport): WeighingDraft {
  const { weighed, signedBy, signedOn, signedAs } = statement;
  const words: Words = {
    ...weighed.typed,
    reference: weighed.reference,
    'reference station': weighed.typed['reference station'] ?? metres(weighed.referenceM || undefined),
    'reference uncertainty': weighed.typed['reference uncertainty'] ?? metres(weighed.referenceStdM || undefined),
    ...{ happenedOn, 'not aboard': notAboard === '' ? undefined : notAboard },
    ...{ 'signed by': signedBy, 'signed on': signedOn, 'signed as': signedAs },
    ...supportWords(weighed),
    ...runWords(weighed, weighed.level, 'level'),
    ...runWords(weighed, weighed.tilted?.runs ?? [], 'tilted'),
    ...(weighed.tilted === undefined
      ? {}
      : {
          angle: weighed.tilted.typed['angle'] ?? `${plain(weighed.tilted.angleRad)} rad`,
          'angle uncertainty': weighed.tilted.typed['angle uncertainty'],
        }),
  };
  for (const [at, one] of weighed.corrections.entries()) Object.assign(words, correctionWords(one, keyAt(at)));
  for (const { check, isSo, words: why } of weighed.checklist) {
    words[checkField(check, 'so')] = isSo ? 'yes' : 'no';
    words[checkField(check, 'words')] = why;
  }
  return Object.fromEntries(
    Object.entries(words).flatMap(([name, text]) => (text === undefined ? [] : [[name, text]])),
  );
}

function keyAt(at: number, before = 0): string {
  return `k${String(before + at + 1).padStart(4, '0')}`;
}

function supportWords({ supports }: Weighed): Words {
  const words: Words = {};
  for (const [at, one] of supports.entries()) {
    const said: Words = {
      ...one.typed,
      ...{ name: one.name, is: one.is, scale: one.scale },
      x: one.typed['x'] ?? metres(one.xM),
      y: one.typed['y'] ?? metres(one.yM),
      z: one.typed['z'] ?? metres(one.zM),
    };
    for (const [field, text] of Object.entries(said)) words[fieldOf('support', keyAt(at), field)] = text;
  }
  return words;
}

function runWords({ supports, level }: Weighed, runs: readonly Run[], attitude: 'level' | 'tilted'): Words {
  const words: Words = {};
  for (const [at, run] of runs.entries()) {
    const key = keyAt(at, attitude === 'level' ? 0 : level.length);
    words[fieldOf('run', key, 'attitude')] = attitude;
    words[fieldOf('run', key, 'set aside')] = run.setAside;
    for (const [supportAt] of supports.entries()) {
      const reading = run.readings[supportAt];
      if (reading === undefined) continue;
      const gross = reading.typed['gross'] ?? `${plain(reading.grossKg)} kg`;
      words[readingField(key, keyAt(supportAt), 'gross')] = gross;
      words[readingField(key, keyAt(supportAt), 'tare')] =
        reading.typed['tare'] ?? (reading.tareKg > 0 ? `${plain(reading.tareKg)} kg` : undefined);
    }
  }
  return words;
}

/** What was typed with a minus is said with the way and without it, which is the same. */
function correctionWords(one: WeighingCorrection, key: string): Words {
  const amount = (text: string | undefined) => text?.replace(/^[-−]/, '');
  const said: Words = {
    ...one.typed,
    ...{ way: one.way, name: one.name },
    ...{
      x: one.typed['x'] ?? metres(one.xM),
      y: one.typed['y'] ?? metres(one.yM),
      z: one.typed['z'] ?? metres(one.zM),
    },
    ...(one.is === 'mass'
      ? { mass: amount(one.typed['mass']) ?? `${plain(one.massKg)} kg` }
      : {
          fluid: one.fluid,
          volume: amount(one.typed['volume']) ?? `${plain(one.volumeM3 * 1000)} L`,
          density: one.typed['density'] ?? `${plain(one.densityKgM3)} kg/m³`,
        }),
  };
  return Object.fromEntries(Object.entries(said).map(([field, text]) => [fieldOf('correction', key, field), text]));
}

function metres(lengthM: number | undefined): string | undefined {
  return lengthM === undefined ? undefined : `${plain(lengthM)} m`;
}
