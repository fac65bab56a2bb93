/** What is refused of a line that a scale sends (rule W13), with its words and its remedy; part of the registry of all refusals. */
import { say } from '#shared/words/say.ts';

export type ScaleLineRefusal =
  | { readonly code: 'scale-line-too-long'; readonly most: number }
  | { readonly code: 'scale-over-range' }
  | { readonly code: 'scale-under-range' }
  | { readonly code: 'scale-error'; readonly text: string }
  | { readonly code: 'scale-without-value'; readonly text: string }
  | { readonly code: 'scale-two-numbers'; readonly text: string }
  | { readonly code: 'scale-number-unreadable'; readonly text: string }
  | { readonly code: 'scale-comma-unclear'; readonly text: string }
  | { readonly code: 'scale-unit-unknown'; readonly text: string; readonly unit: string }
  | { readonly code: 'scale-two-units'; readonly text: string }
  | { readonly code: 'scale-unit-unclear'; readonly text: string; readonly word: string }
  | { readonly code: 'scale-word-unknown'; readonly text: string; readonly word: string }
  | { readonly code: 'scale-marks-disagree'; readonly text: string }
  | { readonly code: 'scale-lines-differ'; readonly count: number };

type Words = {
  readonly [Code in ScaleLineRefusal['code']]: (facts: Extract<ScaleLineRefusal, { code: Code }>) => {
    readonly words: string;
    readonly remedy: string;
  };
};

const TYPE_IT = say`Type the number and its unit as the scale shows them.`;

export const SCALE_LINE_WORDS: Words = {
  'scale-line-too-long': ({ most }) => ({
    words: say`A scale’s line has at most ${most} characters; this one is longer.`,
    remedy: say`Paste the one line with the reading.`,
  }),
  'scale-over-range': () => ({
    words: say`The scale says that more is on it than it can weigh.`,
    remedy: say`Take the load off and use a larger scale.`,
  }),
  'scale-under-range': () => ({
    words: say`The scale says that less is on it than nothing.`,
    remedy: say`Empty the scale, set it to zero, and put the load on again.`,
  }),
  'scale-error': ({ text }) => ({
    words: say`The scale reports a fault: ${quoted(text)}.`,
    remedy: say`Look at the scale and in its manual; weigh when it shows a figure again.`,
  }),
  'scale-without-value': ({ text }) => ({
    words: say`The line has no figure: ${quoted(text)}.`,
    remedy: say`Wait until the scale shows a figure, then take it again.`,
  }),
  'scale-two-numbers': ({ text }) => ({
    words: say`The line has more than one figure, and which of them is the reading is not said: ${quoted(text)}.`,
    remedy: TYPE_IT,
  }),
  'scale-number-unreadable': ({ text }) => ({
    words: say`The figure in the line cannot be read as one: ${quoted(text)}.`,
    remedy: TYPE_IT,
  }),
  'scale-comma-unclear': ({ text }) => ({
    words: say`The comma in ${quoted(text)} can be the decimal sign or part something else.`,
    remedy: say`Say which it is, or type the number with a point.`,
  }),
  'scale-unit-unknown': ({ text, unit }) => ({
    words: say`“${unit}” is no unit of mass that is taken here: ${quoted(text)}.`,
    remedy: say`Set the scale to kg, g, lb or oz.`,
  }),
  'scale-two-units': ({ text }) => ({
    words: say`The line has two units: ${quoted(text)}.`,
    remedy: TYPE_IT,
  }),
  'scale-unit-unclear': ({ text, word }) => ({
    words: say`“${word}” can be a unit or a mark here, and the line does not say which: ${quoted(text)}.`,
    remedy: TYPE_IT,
  }),
  'scale-word-unknown': ({ text, word }) => ({
    words: say`What “${word}” means in the scale’s line is not known: ${quoted(text)}.`,
    remedy: TYPE_IT,
  }),
  'scale-marks-disagree': ({ text }) => ({
    words: say`The line says of one figure that it is gross and net or tare at once: ${quoted(text)}.`,
    remedy: TYPE_IT,
  }),
  'scale-lines-differ': ({ count }) => ({
    words: say`There are ${count} lines that do not say the same.`,
    remedy: say`Paste one of them, or type several readings of one load with a stroke between them.`,
  }),
};

/** Words and remedy of one, without the registry of all others: Weigh loads no more than it needs. */
export function lineRefusalInWords(refusal: ScaleLineRefusal): string {
  const say = SCALE_LINE_WORDS[refusal.code] as (facts: ScaleLineRefusal) => { words: string; remedy: string };
  const { words, remedy } = say(refusal);
  return `${words} ${remedy}`;
}

/** What cannot be printed is a blank. */
function quoted(text: string): string {
  const short = text.replace(/[^\p{L}\p{N}\p{P}\p{S}]+/gu, ' ').trim();
  return `“${short.length > 40 ? `${short.slice(0, 40)}…` : short}”`;
}
