/**
 * What Commander says of its own accord, in the language of the shop. It has English words and no keys to them: each is known by its English, and one
 * that is not known here stays as it is. Names of options and what stands in <> and [] are no words: they are the same in every language.
 */
import { counted, say } from '#shared/words/say.ts';

/** A message of Commander, or a title of its help. */
export function inOurWords(said: string): string {
  return said.split('\n').map(lineInOurWords).join('\n');
}

function lineInOurWords(line: string): string {
  for (const [english, told] of SENTENCES) {
    const parts = english.exec(line);
    if (parts !== null) return told(...parts.slice(1));
  }
  return line;
}

type Told = (...parts: readonly string[]) => string;

const SENTENCES: readonly (readonly [RegExp, Told])[] = [
  [/^Usage:$/, () => say`Usage:`],
  [/^Arguments:$/, () => say`Arguments:`],
  [/^Options:$/, () => say`Options:`],
  [/^Commands:$/, () => say`Commands:`],
  [/^error: unknown command '(.*)'$/, (name) => say`error: unknown command '${name}'`],
  [/^error: unknown option '(.*)'$/, (flag) => say`error: unknown option '${flag}'`],
  [/^\(Did you mean one of (.*)\?\)$/, (some) => say`(Did you mean one of ${some}?)`],
  [/^\(Did you mean (.*)\?\)$/, (one) => say`(Did you mean ${one}?)`],
  [/^error: missing required argument '(.*)'$/, (name) => say`error: missing required argument '${name}'`],
  [/^error: required option '(.*)' not specified$/, (flags) => say`error: required option '${flags}' not specified`],
  [/^error: option '(.*)' argument missing$/, (flags) => say`error: option '${flags}' argument missing`],
  [
    /^error: option '(.*)' cannot be used with option '(.*)'$/,
    (one, other) => say`error: option '${one}' cannot be used with option '${other}'`,
  ],
  [
    /^error: option '(.*?)' argument '(.*)' is invalid\. (.*)$/,
    (flags, value, why = '') => say`error: option '${flags}' argument '${value}' is invalid. ${lineInOurWords(why)}`,
  ],
  [
    /^error: command-argument value '(.*)' is invalid for argument '(.*?)'\. (.*)$/,
    (value, name, why = '') =>
      say`error: command-argument value '${value}' is invalid for argument '${name}'. ${lineInOurWords(why)}`,
  ],
  [/^Allowed choices are (.*)\.$/, (choices) => say`Allowed choices are ${choices}.`],
  [
    /^error: too many arguments for '(.*?)'\. Expected (\d+) arguments? but got (\d+): (.*)\.$/,
    (verb, most, got, words) =>
      say`error: too many arguments for '${verb}'. Expected ${counted(Number(most), 'argument', 'arguments')} but got ${got}: ${words}.`,
  ],
];
