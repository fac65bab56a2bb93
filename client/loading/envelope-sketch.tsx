/** The envelope as it is typed so far: its corners with their numbers, in the order given. No figure is read from it. */

import type { Envelope } from '#shared/loading/limits.ts';
import { say } from '#shared/words/say.ts';

const SIZE = 240;
const AIR = 26;

export function EnvelopeSketch({ envelope }: { readonly envelope: Envelope }) {
  const { points } = envelope;
  if (points.length === 0)
    return <p className="soft small">{say`The envelope is drawn here as its corners are typed.`}</p>;
  const place = scaleOf(points);
  const corners = points.map((point) => place(point));
  const line = corners.map(({ x, y }) => `${x},${y}`).join(' ');
  return (
    <svg
      className="envelope-sketch"
      viewBox={`0 0 ${SIZE} ${SIZE}`}
      role="img"
      aria-label={say`The envelope so far: ${points.length === 1 ? say`one corner` : say`${points.length} corners`}`}
    >
      <polygon points={line} />
      {corners.map(({ x, y }, at) => (
        // Corners have nothing but their order to be told apart by.
        // biome-ignore lint/suspicious/noArrayIndexKey: the order is the identity
        <g key={at}>
          <circle cx={x} cy={y} r="4" />
          <text x={x + 7} y={y - 6}>
            {at + 1}
          </text>
        </g>
      ))}
      <text x={SIZE / 2} y={SIZE - 4} textAnchor="middle">{say`aft →`}</text>
      <text x="4" y="14">{say`↑ mass`}</text>
    </svg>
  );
}

function scaleOf(points: Envelope['points']) {
  const range = (values: readonly number[]) => {
    const [low, high] = [Math.min(...values), Math.max(...values)];
    const span = high - low;
    return (value: number) => (span === 0 ? 0.5 : (value - low) / span);
  };
  const along = range(points.map(({ at }) => at));
  const up = range(points.map(({ massKg }) => massKg));
  const inner = SIZE - 2 * AIR;
  return ({ massKg, at }: Envelope['points'][number]) => ({
    x: AIR + along(at) * inner,
    y: SIZE - AIR - up(massKg) * inner,
  });
}
