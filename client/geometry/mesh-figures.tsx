/** What a mesh said of the part, in its own frame, with everything that is odd about it in words. */

import { type Finding, findingInWords, isWarning } from '#shared/geometry/finding.ts';
import type { Geometry } from '#shared/geometry/geometry.ts';
import type { PartPoint } from '#shared/geometry/placement.ts';
import { LOCALE, say } from '#shared/words/say.ts';
import type { Shown } from '../pieces/units.ts';
import { areaWithUnit, volumeWithUnit } from './figures.ts';

type Figures = Pick<Geometry, 'areaM2' | 'openEdgeM' | 'centroid' | 'shape' | 'triangles'> & {
  readonly bordersM: readonly number[];
  readonly volumeM3?: number | undefined;
  readonly findings: readonly Finding[];
  /** The corners of the box around it, while the mesh is there: by its size a slip of the unit shows. */
  readonly low?: PartPoint;
  readonly high?: PartPoint;
};

export function MeshFigures({ figures, shown }: { readonly figures: Figures; readonly shown: Shown }) {
  const { centroid, volumeM3, openEdgeM, shape } = figures;
  const { length } = shown.units;
  const facts = [
    ...sizeFacts(figures, shown),
    {
      name: shape === 'shell' ? say`Area, for the lay-up` : say`Area of its surface`,
      value: areaWithUnit(figures.areaM2, length),
    },
    ...(volumeM3 === undefined ? [] : [{ name: say`Volume`, value: volumeWithUnit(volumeM3, length) }]),
    {
      name: say`${shape === 'shell' ? say`The area` : say`The volume`} acts at, in the part’s own axes`,
      value: `x\u00a0${shown.length(centroid.partXM)}, y\u00a0${shown.length(centroid.partYM)}, z\u00a0${shown.lengthWithUnit(centroid.partZM)}`,
    },
    ...(openEdgeM === 0 ? [] : [{ name: say`Length of its open edges`, value: bordersText(figures, shown) }]),
    { name: say`Triangles`, value: figures.triangles.toLocaleString(LOCALE) },
  ];
  return (
    <div className="stack-tight">
      <dl className="facts mesh-facts">
        {facts.map(({ name, value }) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {figures.findings.map((finding) => (
        <p key={finding.code} className={`notice ${isWarning(finding) ? 'warn' : ''}`}>
          {isWarning(finding) ? <strong>{say`Look at this:`} </strong> : null}
          {findingInWords(finding, shown.units)}
        </p>
      ))}
    </div>
  );
}

function sizeFacts({ low, high }: Figures, shown: Shown) {
  if (low === undefined || high === undefined) return [];
  const [x, y] = [high.partXM - low.partXM, high.partYM - low.partYM].map((along) => shown.length(along));
  return [
    { name: say`Size along its x, y, z`, value: `${x} × ${y} × ${shown.lengthWithUnit(high.partZM - low.partZM)}` },
  ];
}

/** The few longest borders one by one, where there is more than one. */
function bordersText({ openEdgeM, bordersM }: Figures, shown: Shown): string {
  const all = shown.lengthWithUnit(openEdgeM);
  if (bordersM.length < 2) return all;
  const few = bordersM.slice(0, 3).map((border) => shown.length(border));
  return say`${all}, the longest ${few.join(', ')}`;
}
