/** What there is to say of an open item beside its name: its flag, which way it is off, what it is about. */

import { piecesText } from '#shared/rollup/describe-entry.ts';
import { dayWords } from '#shared/words/day.ts';
import { LOCALE, say, term } from '#shared/words/say.ts';
import { FlagWord } from '../pieces/flag-word.tsx';
import type { Shown } from '../pieces/units.ts';
import { type OpenThing, OVERDUE } from './overdue.ts';

/** The name of what it is about: of a part of several pieces, with the pieces. */
export function subjectText({ of, subject, weighing }: OpenThing): string {
  if (of === 'process') return term(subject);
  return weighing === undefined ? subject : piecesText(subject, weighing.pieces, weighing.quantity);
}

export function About({ item, shown }: { readonly item: OpenThing; readonly shown: Shown }) {
  const { direction, flag, verdict } = item;
  const words = wordsOf(item, shown);
  return (
    <>
      {flag === undefined || flag === 'in line' ? null : <FlagWord flag={flag} />}
      {verdict === undefined ? null : <span className="flag light">▼ {VERDICTS[verdict]}</span>}
      {direction === undefined ? null : <span className={`flag ${LOOKS[direction]}`}>{DIRECTIONS[direction]}</span>}
      {words === undefined ? null : <span className="soft small">{words}</span>}
    </>
  );
}

const VERDICTS = {
  dry: say`dry: too little resin for its fibre`,
  impossible: say`lighter than its own fibre`,
} as const;
const DIRECTIONS = {
  heavy: say`▲ heavy`,
  light: say`▼ light`,
  forward: say`◀ forward of its range`,
  aft: say`▶ aft of its range`,
} as const;
const LOOKS = { heavy: 'heavy', light: 'light', forward: 'heavy', aft: 'heavy' } as const;

function wordsOf(item: OpenThing, { massWithUnit }: Shown): string | undefined {
  if (item.what === OVERDUE)
    return say`was due on ${dayWords(item.due)}, owner ${item.owner}; ${item.fits ? say`its saving is not there yet` : say`it no longer fits`}`;
  const { what, count, aboutKg } = item;
  const weighings = count === 1 ? say`one weighing rests` : say`${count} weighings rest`;
  switch (what) {
    case 'group over target':
      return say`predicted above its target`;
    case 'process changed':
      if (count === undefined || count === 0) return say`against estimates and allowances`;
      return say`against estimates and allowances; ${count === 1 ? say`one piece` : say`${count} pieces`} still to be weighed`;
    case 'many small ones':
      return say`together; ${(count ?? 0).toLocaleString(LOCALE)} parts, each in line`;
    case 'calibration out of date':
    case 'check weight failed':
      return count === undefined ? say`no weighing rests on it` : say`${weighings} on it, ${massWithUnit(aboutKg)}`;
    case 'scale in doubt':
      return say`${massWithUnit(aboutKg)} rests on it`;
    case 'arm missing':
      return say`${massWithUnit(aboutKg)} left out of the CG`;
    case 'estimate missing':
      return say`counts for nothing yet`;
    default:
      return undefined;
  }
}
