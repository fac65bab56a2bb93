/** The aircraft’s supports from the side and from above, with the CG and its range. The tables say the same in words. */

import { useRef } from 'react';
import type { WeighedResult } from '#shared/aircraft-weighing/compute.ts';
import type { Weighed } from '#shared/aircraft-weighing/weighing.ts';
import { say } from '#shared/words/say.ts';
import { useMoreAside } from '../pieces/more-aside.ts';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

const WIDTH = 640;
const MARGIN = 56;
const SIDE_HEIGHT = 158;
/** A letter of the labels is about so wide. */
const LETTER = 7.5;

export function Diagram(props: {
  readonly weighed: Weighed;
  readonly result: WeighedResult;
  readonly cgForwardM?: number | undefined;
  readonly cgAftM?: number | undefined;
  readonly shown: Shown;
}) {
  const { weighed, result, cgForwardM, cgAftM, shown } = props;
  const frame = useRef<HTMLDivElement>(null);
  useMoreAside(frame);
  const stations = weighed.supports.map(({ xM }) => weighed.referenceM + xM);
  const all = [...stations, result.empty.xM, ...[cgForwardM, cgAftM].flatMap((one) => one ?? [])];
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const perM = (WIDTH - 2 * MARGIN) / Math.max(high - low, 0.1);
  const along = (xM: number) => MARGIN + (xM - low) * perM;
  const ys = weighed.supports.flatMap(({ yM }) => yM ?? []);
  const hasTop = result.empty.yM !== undefined;
  const reach = Math.max(0.2, ...ys.map(Math.abs));
  const topHeight = Math.min(320, Math.max(120, 2 * reach * perM)) + 60;
  const across = (yM: number) => topHeight / 2 + (yM / reach) * (topHeight / 2 - 30);
  const height = SIDE_HEIGHT + (hasTop ? topHeight : 0);
  const rangeFrom = cgForwardM ?? low;
  const rangeTo = cgAftM ?? high;
  const hasRange = cgForwardM !== undefined || cgAftM !== undefined;
  return (
    <figure className="weighing-diagram">
      <figcaption className="small soft">{rich`Supports from the side${hasTop ? say` and from above` : ''}, nose to the left; the CG of the empty aircraft at ${shown.lengthWithUnit(result.empty.xM)}${hasRange ? say`, its range ${shown.length(cgForwardM)} to ${shown.lengthWithUnit(cgAftM)}` : ''}.`}</figcaption>
      <div ref={frame} tabIndex={0} role="group" aria-label={say`Diagram`}>
        <svg viewBox={`0 0 ${WIDTH} ${height}`} aria-hidden="true">
          <line className="ground" x1={8} x2={WIDTH - 8} y1={108} y2={108} />
          {hasRange ? (
            <rect
              className="range"
              x={along(rangeFrom)}
              y={22}
              width={Math.max(2, along(rangeTo) - along(rangeFrom))}
              height={height - 40}
            />
          ) : null}
          {weighed.supports.map((support, at) => {
            const x = along(stations[at] ?? 0);
            const label = `${support.name} ${shown.massWithUnit(result.netsKg[at])}`;
            const half = (label.length * LETTER) / 2;
            return (
              <g key={support.name}>
                <path className="support" d={`M${x} 84 l10 24 h-20 z`} />
                <text x={within(x, half)} y={124 + 17 * (at % 2)} textAnchor="middle">
                  {label}
                </text>
                {hasTop ? <circle className="support" cx={x} cy={SIDE_HEIGHT + across(support.yM ?? 0)} r={7} /> : null}
              </g>
            );
          })}
          <Cg x={along(result.empty.xM)} y={58} />
          {hasTop ? <Cg x={along(result.empty.xM)} y={SIDE_HEIGHT + across(result.empty.yM ?? 0)} /> : null}
          <text x={along(result.empty.xM)} y={40} textAnchor="middle" className="cg-word">{say`CG`}</text>
        </svg>
      </div>
    </figure>
  );
}

/** The middle of a label, so that none of it is cut off at a side. */
function within(x: number, half: number): number {
  return Math.max(half, Math.min(x, WIDTH - half));
}

/** A quartered disc, as drawings mark a centre of gravity. */
function Cg({ x, y }: { readonly x: number; readonly y: number }) {
  return (
    <g transform={`translate(${x} ${y})`}>
      <circle className="cg-disc" r={9} />
      <path className="cg-quarter" d="M0 0 V-9 A9 9 0 0 1 9 0 Z M0 0 V9 A9 9 0 0 1 -9 0 Z" />
    </g>
  );
}
