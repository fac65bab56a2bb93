/**
 * Where a part lies, from the side and from above: its outline and centroid, the stations of the other parts, the datum and the CG range. A
 * picture to see a slip by; the figures stand beside it.
 */

import { useEffect, useId, useRef, useState } from 'react';
import type { Geometry } from '#shared/geometry/geometry.ts';
import { stationOf } from '#shared/geometry/geometry.ts';
import { outlineInAircraft, type SeenPoint, type View } from '#shared/geometry/placement.ts';
import { LENGTH_UNIT_M } from '#shared/quantity/units.ts';
import { say } from '#shared/words/say.ts';
import type { Shown } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';

export type Surroundings = {
  /** Stations of other parts. */
  readonly others: readonly {
    readonly xM?: number | undefined;
    readonly yM?: number | undefined;
    readonly zM?: number | undefined;
  }[];
  readonly cgForwardM?: number | undefined;
  readonly cgAftM?: number | undefined;
};

type Placed = Pick<Geometry, 'centroid' | 'placement' | 'outline'>;

type Drawn = {
  readonly view: View;
  readonly outline: readonly SeenPoint[];
  readonly centroid: SeenPoint;
  readonly others: readonly SeenPoint[];
};

const MARGIN_PX = 14;
const TITLE_PX = 26;
const AXIS_PX = 34;
const LEAST_HEIGHT_PX = 120;
const MOST_HEIGHT_PX = 300;

export function PartPicture(props: {
  readonly number: string;
  readonly geometry: Placed;
  readonly around: Surroundings;
  readonly shown: Shown;
}) {
  const { number, around, shown } = props;
  const box = useRef<HTMLDivElement>(null);
  const widthPx = useWidth(box);
  const views = (['side', 'plan'] as const).map((view) => drawn(view, props.geometry, around));
  const along = spanOf(
    views.flatMap(({ outline, centroid, others }) => [...outline, centroid, ...others].map(({ xM }) => xM)),
    [0, around.cgForwardM, around.cgAftM],
  );
  return (
    <figure className="stack-tight part-picture">
      <figcaption>
        <h3>{rich`Where ${number} lies`}</h3>
        <p className="soft small picture-key">
          <span className="key-outline">{rich`outline of ${number}`}</span>
          <span className="key-other">{say`another part’s station`}</span>
          <span className="key-datum">{say`datum`}</span>
          {around.cgForwardM === undefined && around.cgAftM === undefined ? null : (
            <span className="key-range">{say`CG range`}</span>
          )}
        </p>
      </figcaption>
      <div ref={box} className="stack-tight">
        {views.map((one) => (
          <OneView key={one.view} {...{ number, drawn: one, along, around, shown, widthPx }} />
        ))}
      </div>
    </figure>
  );
}

function useWidth(box: React.RefObject<HTMLDivElement | null>): number {
  const [widthPx, setWidthPx] = useState(600);
  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const watch = new ResizeObserver(() => setWidthPx(Math.max(240, Math.floor(element.clientWidth))));
    watch.observe(element);
    return () => watch.disconnect();
  }, [box]);
  return widthPx;
}

function drawn(view: View, geometry: Placed, { others }: Surroundings): Drawn {
  const { xM, yM, zM } = stationOf(geometry);
  return {
    view,
    outline: outlineInAircraft(geometry.outline, geometry.placement, view),
    centroid: { xM, acrossM: view === 'side' ? zM : yM },
    others: others.flatMap((other) => {
      const acrossM = view === 'side' ? other.zM : other.yM;
      return other.xM === undefined || acrossM === undefined ? [] : [{ xM: other.xM, acrossM }];
    }),
  };
}

type Span = { readonly fromM: number; readonly toM: number };

function spanOf(places: readonly number[], marks: readonly (number | undefined)[] = []): Span {
  const all = [...places, ...marks.filter((mark) => mark !== undefined)];
  const fromM = Math.min(...all);
  const toM = Math.max(...all);
  const roomM = Math.max((toM - fromM) * 0.04, 0.01);
  return { fromM: fromM - roomM, toM: toM + roomM };
}

const TITLES = { side: say`From the left side: x aft, z up`, plan: say`From above: x aft, y to the right` } as const;

function OneView(props: {
  readonly number: string;
  readonly drawn: Drawn;
  readonly along: Span;
  readonly around: Surroundings;
  readonly shown: Shown;
  readonly widthPx: number;
}) {
  const { drawn: it, along, around, shown, widthPx } = props;
  const title = useId();
  const across = spanOf([...it.outline, it.centroid, ...it.others].map(({ acrossM }) => acrossM));
  const pxPerM = (widthPx - 2 * MARGIN_PX) / (along.toM - along.fromM);
  const wantedPx = (across.toM - across.fromM) * pxPerM;
  const heightPx = Math.min(MOST_HEIGHT_PX, Math.max(LEAST_HEIGHT_PX, wantedPx));
  // One scale for both ways, unless the picture would become too tall.
  const pxPerAcrossM = Math.min(pxPerM, heightPx / (across.toM - across.fromM));
  const middleM = (across.fromM + across.toM) / 2;
  // Up is up from the side; seen from above with the nose to the left, the right wing is at the top.
  const x = (xM: number) => MARGIN_PX + (xM - along.fromM) * pxPerM;
  const y = (acrossM: number) => heightPx / 2 - (acrossM - middleM) * pxPerAcrossM;
  const { cgForwardM, cgAftM } = around;
  return (
    <svg viewBox={`0 ${-TITLE_PX} ${widthPx} ${heightPx + TITLE_PX + AXIS_PX}`} role="img" aria-labelledby={title}>
      <title id={title}>{inWords(props)}</title>
      {cgForwardM === undefined && cgAftM === undefined ? null : (
        <rect
          className="picture-range"
          x={x(cgForwardM ?? along.fromM)}
          width={Math.max(2, x(cgAftM ?? along.toM) - x(cgForwardM ?? along.fromM))}
          y={0}
          height={heightPx}
        />
      )}
      <line className="picture-datum" x1={x(0)} x2={x(0)} y1={0} y2={heightPx} />
      {it.others.map((other, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: stations have no other name, and two may be one.
        <circle key={at} className="picture-other" cx={x(other.xM)} cy={y(other.acrossM)} r={3} />
      ))}
      <polygon
        className="picture-outline"
        points={it.outline.map((point) => `${x(point.xM).toFixed(1)},${y(point.acrossM).toFixed(1)}`).join(' ')}
      />
      <path className="picture-centroid" d={`M${x(it.centroid.xM) - 6} ${y(it.centroid.acrossM)}h12m-6 -6v12`} />
      <Scale {...{ along, x, heightPx, shown, widthPx }} />
      <text className="picture-title" x={MARGIN_PX} y={-9}>
        {TITLES[it.view]}
      </text>
      {pxPerAcrossM < pxPerM * 0.99 ? (
        <text className="picture-title" x={widthPx - MARGIN_PX} y={-9} textAnchor="end">
          {rich`${it.view === 'side' ? say`heights` : say`widths`} drawn smaller`}
        </text>
      ) : null}
    </svg>
  );
}

/** Stations at round figures along the lower edge. */
function Scale(props: {
  readonly along: Span;
  readonly x: (xM: number) => number;
  readonly heightPx: number;
  readonly widthPx: number;
  readonly shown: Shown;
}) {
  const { along, x, heightPx, shown, widthPx } = props;
  const perUnitM = LENGTH_UNIT_M[shown.units.length];
  const step = roundStep(((along.toM - along.fromM) / perUnitM / widthPx) * 90);
  const from = Math.ceil(along.fromM / perUnitM / step);
  const to = Math.floor(along.toM / perUnitM / step);
  const ticks = Array.from({ length: Math.max(0, to - from + 1) }, (_, at) => (from + at) * step);
  return (
    <g className="picture-scale">
      <line x1={0} x2={widthPx} y1={heightPx} y2={heightPx} />
      {ticks.map((tick) => (
        <g key={tick}>
          <line x1={x(tick * perUnitM)} x2={x(tick * perUnitM)} y1={heightPx} y2={heightPx + 5} />
          <text x={Math.min(x(tick * perUnitM), widthPx - 24)} y={heightPx + 20} textAnchor="middle">
            {`${Number(tick.toPrecision(6))}`.replace('-', '\u2212')}
            {tick === ticks.at(-1) ? ` ${shown.units.length}` : ''}
          </text>
        </g>
      ))}
    </g>
  );
}

/** 1, 2 or 5 times a power of ten, the least that is at least this. */
function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  return ([1, 2, 5, 10].find((times) => times * power >= least) ?? 10) * power;
}

function inWords({ number, drawn: it, around, shown }: Parameters<typeof OneView>[0]): string {
  const spread = (values: readonly number[]) =>
    say`${shown.length(Math.min(...values))} to ${shown.lengthWithUnit(Math.max(...values))}`;
  const name = it.view === 'side' ? 'z' : 'y';
  const range =
    around.cgForwardM === undefined || around.cgAftM === undefined
      ? ''
      : say` The CG range is ${spread([around.cgForwardM, around.cgAftM])}.`;
  return say`${TITLES[it.view]}. ${number} reaches from x ${spread(it.outline.map(({ xM }) => xM))}, ${name} ${spread(
    it.outline.map(({ acrossM }) => acrossM),
  )}, with its centroid at x ${shown.lengthWithUnit(it.centroid.xM)}, ${name} ${shown.lengthWithUnit(it.centroid.acrossM)}. The datum is at x 0.${range}`;
}
