/** Forecasts beside each other: the first is the aircraft as it is, each other one with its difference from that. */

import type { ReactNode } from 'react';
import type { Figures } from '#shared/contract/forecast.ts';
import { chanceInWords } from '#shared/forecast/chance-words.ts';
import { say } from '#shared/words/say.ts';
import { minus, plusMinus, type Shown } from '../pieces/units.ts';

export type Side = { readonly name: string; readonly figures: Figures; readonly predictedKg?: number };

type Line = { readonly name: string; readonly of: (side: Side) => ReactNode; readonly change?: (side: Side) => string };

export function SideBySide(props: {
  readonly label: string;
  readonly sides: readonly [Side, ...Side[]];
  readonly shown: Shown;
}) {
  const { sides, shown } = props;
  const [first] = sides;
  return (
    <table className="sides" aria-label={props.label}>
      <thead>
        <tr>
          <th scope="col">
            <span className="hidden-words">{say`Figure`}</span>
          </th>
          {sides.map(({ name }) => (
            <th key={name} scope="col" className="number">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {linesOf(first, shown).map(({ name, of, change }) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            {sides.map((side) => (
              <td key={side.name} className="number" data-name={side.name}>
                <span>
                  {of(side)}
                  {side === first || change === undefined ? null : (
                    <span className="soft small side-change">{change(side)}</span>
                  )}
                </span>
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function linesOf(first: Side, shown: Shown): readonly Line[] {
  const { massWithStd, massWithUnit, units } = shown;
  const { targets, cg } = first.figures;
  const by = (of: (side: Side) => number | undefined) => (side: Side) => difference(of(first), of(side), shown);
  const lines: Line[] = [
    ...(first.predictedKg === undefined
      ? []
      : [
          {
            name: say`Predicted empty weight`,
            of: ({ predictedKg }: Side) => massWithUnit(predictedKg),
            change: by(({ predictedKg }) => predictedKg),
          },
        ]),
    {
      name: say`Forecast empty weight`,
      of: ({ figures }) => plusMinus(massWithStd(figures.forecastKg, figures.forecastStdKg), units.mass),
      change: by(({ figures }) => figures.forecastKg),
    },
  ];
  if (targets !== undefined)
    lines.push({
      name: targets.reserveKg > 0 ? say`Margin of the forecast, reserve kept` : say`Margin of the forecast`,
      of: ({ figures }) => <MarginWord figures={figures} shown={shown} />,
      change: by(({ figures }) => figures.targets?.marginKg),
    });
  for (const axis of ['x', 'y', 'z'] as const)
    if (cg[axis] !== undefined)
      lines.push({
        name: say`CG ${axis}, forecast`,
        of: ({ figures }) => stationOf(figures, axis, shown),
        change: (side) => {
          const [from, to] = [cg[axis]?.atM, side.figures.cg[axis]?.atM];
          return from === undefined || to === undefined || from === to ? say`no change` : shown.cgEffect(to - from);
        },
      });
  return targets === undefined ? lines : [...lines, ...chancesOf(targets)];
}

function chancesOf(targets: NonNullable<Figures['targets']>): readonly Line[] {
  const line = (name: string, pick: (of: NonNullable<Figures['targets']>) => number | undefined): Line => ({
    name,
    of: ({ figures }) => {
      const chance = figures.targets === undefined ? undefined : pick(figures.targets);
      return chance === undefined ? '–' : chanceInWords(chance).share;
    },
  });
  return [
    line(say`Chance: within the target`, ({ withinTarget }) => withinTarget),
    ...(targets.reserveKg > 0
      ? [line(say`Chance: within it, reserve kept`, ({ withinTargetLessReserve }) => withinTargetLessReserve)]
      : []),
    ...(targets.cgInRange === undefined ? [] : [line(say`Chance: CG in its range`, ({ cgInRange }) => cgInRange)]),
  ];
}

function MarginWord({ figures, shown }: { readonly figures: Figures; readonly shown: Shown }) {
  if (figures.targets === undefined) return '–';
  const { marginKg } = figures.targets;
  return (
    <span className={marginKg < 0 ? 'side-over' : 'side-within'}>
      {marginKg < 0 ? '▲ ' : '● '}
      {shown.massWithUnit(marginKg, { sign: true })}
    </span>
  );
}

function stationOf({ cg }: Figures, axis: 'x' | 'y' | 'z', shown: Shown): string {
  const at = cg[axis];
  return at === undefined ? '–' : plusMinus(shown.lengthWithStd(at.atM, at.stdM), shown.units.length);
}

function difference(from: number | undefined, to: number | undefined, shown: Shown): string {
  if (from === undefined || to === undefined) return '';
  const words = shown.massWithUnit(to - from, { sign: true });
  return /[1-9]/.test(words) ? minus(words) : say`no change`;
}
