/** The datum now and then, to scale, with the arm of the CG from each. Its words stand beside it. */

import type { CSSProperties } from 'react';
import { say } from '#shared/words/say.ts';
import type { Shown } from '../pieces/units.ts';
import './datum.css';

export function DatumPicture(props: {
  readonly shiftM: number;
  readonly cgXM: number | undefined;
  readonly stationsM: readonly number[];
  readonly shown: Shown;
}) {
  const { shiftM, cgXM, stationsM, shown } = props;
  const [first, last] = [Math.min(...stationsM), Math.max(...stationsM)];
  // Where no station is known yet, the rest of the aircraft lies somewhere aft of both.
  const beyond = Math.max(0, shiftM) + 3 * Math.abs(shiftM);
  const known = stationsM.length === 0 ? [beyond] : [first, last];
  const reach = [0, shiftM, ...(cgXM === undefined ? [] : [cgXM]), ...known];
  const [low, high] = [Math.min(...reach), Math.max(...reach)];
  const span = high - low || 1;
  const across = (xM: number) => 8 + (84 * (xM - low)) / span;
  return (
    <div className="datum-picture" aria-hidden="true">
      <span className="datum-end">{say`◀ nose`}</span>
      <span className="datum-end tail">{say`tail ▶`}</span>
      {stationsM.length < 2 ? null : <span className="datum-parts" style={between(across(first), across(last))} />}
      <DatumLine at={across(0)} look="now" words={say`datum now`} />
      <DatumLine at={across(shiftM)} look="then" words={say`datum then`} />
      {cgXM === undefined ? null : (
        <>
          <span className="datum-cg" style={{ left: `${across(cgXM)}%` }} />
          <span className="datum-cg-word" style={{ left: `${across(cgXM)}%` }}>{say`CG`}</span>
          <Arm from={across(0)} to={across(cgXM)} look="now" words={shown.lengthWithUnit(cgXM)} />
          <Arm from={across(shiftM)} to={across(cgXM)} look="then" words={shown.lengthWithUnit(cgXM - shiftM)} />
        </>
      )}
    </div>
  );
}

function DatumLine({ at, look, words }: { readonly at: number; readonly look: string; readonly words: string }) {
  return (
    <>
      <span className={`datum-line ${look}`} style={{ left: `${at}%` }} />
      <span className={`datum-word ${look}`} style={at > 60 ? { right: `${100 - at}%` } : { left: `${at}%` }}>
        {words}
      </span>
    </>
  );
}

function Arm(props: { readonly from: number; readonly to: number; readonly look: string; readonly words: string }) {
  return (
    <span className={`datum-arm ${props.look}`} style={between(props.from, props.to)}>
      <span>{props.words}</span>
    </span>
  );
}

function between(a: number, b: number): CSSProperties {
  return { left: `${Math.min(a, b)}%`, width: `${Math.abs(a - b)}%` };
}
