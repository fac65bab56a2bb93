/** What a weighing says of its laminate, in words (rules E6, E7): the verdict with its figures, and what to do about it. */

import type { LaminateReport } from '#shared/contract/layup.ts';
import { showPercent } from '#shared/quantity/show.ts';
import { say, term } from '#shared/words/say.ts';

const TIE = '\u00a0';

export type LaminateWords = {
  /** Shape and look go with the words, as those of a flag do. */
  readonly shape: string;
  readonly look: 'heavy' | 'light' | 'in-line' | 'bad';
  readonly words: string;
  readonly advice?: string;
};

export const INSPECT = say`Inspect before use: a dry laminate or a missing ply is a structural question.`;

type Figure = { readonly value: number; readonly std: number };
type Band = LaminateReport['band'];

/** `52.0 % ± 1.3 %`. */
export function shareWithStd({ value, std }: Figure): string {
  return `${showPercent(value)}${TIE}% ±${TIE}${showPercent(std)}${TIE}%`;
}

/** `57 to 65 %`: a band is stated in whole per cent, or in as many digits as it has. */
export function bandWords({ lowWf, highWf }: Band): string {
  const [low, high] = [lowWf, highWf].map((share) => String(Number((share * 100).toFixed(1))));
  return say`${low} to ${high}${TIE}%`;
}

/** `52.0 ± 1.3`, where the heading has the unit. */
export function shareFigure({ value, std }: Figure): string {
  return `${showPercent(value)}${TIE}±${TIE}${showPercent(std)}`;
}

export function laminateWords({ verdict, isTold, wf, band }: LaminateReport): LaminateWords {
  if (wf === undefined || verdict === 'impossible')
    return {
      shape: '⚠',
      look: 'bad',
      words: say`What was weighed is impossible: lighter than its dry fibre and core.`,
      advice: say`A tare or a part mix-up: look at the fixture, the tare and the part number, and weigh it again.`,
    };
  const figure = say`Wf ${shareWithStd(wf)}`;
  if (verdict === 'in band')
    return { shape: '●', look: 'in-line', words: say`The laminate is in band: ${figure} within ${bandWords(band)}.` };
  const against = say`${term(verdict)}: ${figure} against ${bandWords(band)}`;
  const words = isTold
    ? say`The laminate is ${against}.`
    : say`The laminate is perhaps ${against}; the scale cannot tell it from in band.`;
  return verdict === 'dry'
    ? { shape: isTold ? '▼' : '▽', look: 'light', words, advice: INSPECT }
    : { shape: isTold ? '▲' : '△', look: 'heavy', words };
}
