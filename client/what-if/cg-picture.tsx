/** The forecast CG against its range, as it is and changed, each with the band that holds it nine in ten. The table beside it says the same. */

import type { Figures } from '#shared/contract/forecast.ts';
import { say } from '#shared/words/say.ts';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

export type Marked = { readonly name: string; readonly figures: Figures };

/** Room left beyond the outermost thing, as a share of the width. */
const MARGIN = 0.08;

export function CgPicture({ marks, shown }: { readonly marks: readonly Marked[]; readonly shown: Shown }) {
  const targets = marks[0]?.figures.targets;
  const stations = marks.flatMap(({ name, figures }) =>
    figures.cg.x === undefined ? [] : [{ name, ...figures.cg.x }],
  );
  if (targets === undefined || stations.length === 0) return null;
  const { cgForwardM, cgAftM } = targets;
  const ends = [cgForwardM, cgAftM].filter((end) => end !== undefined);
  if (ends.length === 0) return null;
  const all = [...ends, ...stations.flatMap(({ lowM, highM }) => [lowM, highM])];
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const width = high - low > 0 ? high - low : 1;
  const along = (atM: number) => `${(MARGIN + ((1 - 2 * MARGIN) * (atM - low)) / width) * 100}%`;
  return (
    <figure className="cg-picture">
      <figcaption className="small soft">{rich`Forecast CG along x against its range: ${rangeInWords(cgForwardM, cgAftM, shown)}. The bar is where it ends nine times in ten.`}</figcaption>
      <div aria-hidden="true" className="cg-tracks">
        <span
          className="cg-range"
          style={{
            left: cgForwardM === undefined ? 0 : along(cgForwardM),
            right: cgAftM === undefined ? 0 : `calc(100% - ${along(cgAftM)})`,
          }}
        />
        {stations.map(({ name, atM, lowM, highM }, at) => (
          <div key={name} className="cg-track">
            <span className="cg-band" style={{ left: along(lowM), right: `calc(100% - ${along(highM)})` }} />
            <span className={`cg-mark ${at === 0 ? 'first' : ''}`} style={{ left: along(atM) }} />
            <span className="cg-name small">{name}</span>
          </div>
        ))}
      </div>
    </figure>
  );
}

function rangeInWords(forwardM: number | undefined, aftM: number | undefined, shown: Shown): string {
  if (forwardM === undefined) return say`up to ${shown.lengthWithUnit(aftM)}`;
  if (aftM === undefined) return say`from ${shown.lengthWithUnit(forwardM)}`;
  return say`${shown.length(forwardM)} to ${shown.lengthWithUnit(aftM)}`;
}
