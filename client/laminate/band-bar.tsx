/** A fibre fraction against its band, drawn small: the band, what was planned, and the figure with its ±. The words beside it say the same. */

import type { LaminateReport } from '#shared/contract/layup.ts';
import { say } from '#shared/words/say.ts';
import { rich } from '../words/rich.ts';

/** What lies further out than the band's own width on either side ends at the end of the bar. */
const AROUND = 1;

export function BandBar({ laminate }: { readonly laminate: LaminateReport }) {
  const { wf, band, planned } = laminate;
  if (wf === undefined) return null;
  const width = band.highWf - band.lowWf;
  const least = Math.min(band.lowWf - AROUND * width, wf.value - wf.std);
  const most = Math.max(band.highWf + AROUND * width, wf.value + wf.std);
  const along = (share: number) => `${((share - least) / (most - least)) * 100}%`;
  return (
    <div className="band-bar" aria-hidden="true">
      <div className="band-track">
        <span className="band-range" style={{ left: along(band.lowWf), width: `${(width / (most - least)) * 100}%` }} />
        <span className="band-planned" style={{ left: along(planned.wf) }} />
        <span
          className="band-reach"
          style={{ left: along(wf.value - wf.std), width: `${((2 * wf.std) / (most - least)) * 100}%` }}
        />
        <span className="band-mark" style={{ left: along(wf.value) }} />
      </div>
      <div className="band-ends small soft">
        <span>{say`more resin`}</span>
        <span>{rich`${<span className="band-key planned" />} schedule`}</span>
        <span>{rich`${<span className="band-key range" />} band`}</span>
        <span>{say`more fibre`}</span>
      </div>
    </div>
  );
}
