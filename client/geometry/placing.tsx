/** Where the part lies in the aircraft: where its axes point, and where its zero is. Nothing is taken for granted. */

import { DIRECTIONS, type Direction, type Placement, placed } from '#shared/geometry/placement.ts';
import { explain } from '#shared/problem/registry.ts';
import { readLength } from '#shared/quantity/typed.ts';
import { say, term } from '#shared/words/say.ts';
import { Field, Picker } from '../pieces/controls.tsx';
import type { Shown } from '../pieces/units.ts';

const AXES = ['x', 'y', 'z'] as const;
type Axis = (typeof AXES)[number];

export type Placing = {
  readonly points: Readonly<Record<Axis, Direction | ''>>;
  readonly zero: Readonly<Record<Axis, string>>;
  readonly isMirrored: boolean;
};

export const NOT_PLACED: Placing = {
  points: { x: '', y: '', z: '' },
  zero: { x: '', y: '', z: '' },
  isMirrored: false,
};

/** `problem` is what is wrong with it; `missing` what has not been said yet. */
export type PlacingRead = {
  readonly placement?: Placement | undefined;
  readonly problem?: string | undefined;
  readonly missing: readonly string[];
  readonly zeroProblems: Readonly<Partial<Record<Axis, string>>>;
};

export function readPlacing({ points, zero, isMirrored }: Placing, { units }: Shown): PlacingRead {
  const missing = [
    ...AXES.filter((axis) => points[axis] === '').map((axis) => say`where its ${axis} axis points`),
    ...AXES.filter((axis) => zero[axis].trim() === '').map((axis) => say`the ${ZERO[axis]} of its zero`),
  ];
  const read = {
    x: readLength(zero.x, { unit: units.length }),
    y: readLength(zero.y, { unit: units.length }),
    z: readLength(zero.z, { unit: units.length }),
  };
  const zeroProblems: Partial<Record<Axis, string>> = {};
  for (const axis of AXES) {
    const one = read[axis];
    if (one.ok || zero[axis].trim() === '') continue;
    const { words, remedy } = explain(one.refusal);
    zeroProblems[axis] = `${words} ${remedy}`;
  }
  const { x: xPoints, y: yPoints, z: zPoints } = points;
  if (xPoints === '' || yPoints === '' || zPoints === '') return { missing, zeroProblems };
  const at = (axis: Axis) => (read[axis].ok ? read[axis].value.si : 0);
  const lies = placed({ xPoints, yPoints, zPoints, isMirrored, zero: { xM: at('x'), yM: at('y'), zM: at('z') } });
  if (!lies.ok) {
    const { words, remedy } = explain(lies.refusal);
    return { missing, zeroProblems, problem: `${words} ${remedy}` };
  }
  const isWhole = missing.length === 0 && Object.keys(zeroProblems).length === 0;
  return { placement: isWhole ? lies.value : undefined, missing, zeroProblems };
}

const ZERO = { x: say`station x`, y: say`station y`, z: say`station z` } as const;
const ZERO_HINTS = {
  x: say`Aft of the datum is positive. 0 where it is drawn in the aircraft’s own stations.`,
  y: say`To the right is positive.`,
  z: say`Up is positive.`,
} as const;

const CHOICES = [
  { value: '', words: say`choose` },
  ...DIRECTIONS.map((value) => ({ value, words: term(value) })),
] as const;

export function PlacingFields(props: {
  readonly placing: Placing;
  readonly read: PlacingRead;
  readonly shown: Shown;
  readonly onChange: (placing: Placing) => void;
}) {
  const { placing, read, shown, onChange } = props;
  return (
    <>
      <div className="field-grid">
        {AXES.map((axis) => (
          <Picker
            key={axis}
            label={say`The part’s ${axis} axis points`}
            options={CHOICES}
            value={placing.points[axis]}
            onChange={(direction) => onChange({ ...placing, points: { ...placing.points, [axis]: direction } })}
          />
        ))}
      </div>
      <label className="row mirror-tick">
        <input
          type="checkbox"
          checked={placing.isMirrored}
          onChange={(event) => onChange({ ...placing, isMirrored: event.target.checked })}
        />
        {say`The part is the mirror image of its drawing`}
      </label>
      <div className="field-grid">
        {AXES.map((axis) => (
          <Field
            key={axis}
            label={say`Its zero lies at ${ZERO[axis]}`}
            value={placing.zero[axis]}
            onChange={(text) => onChange({ ...placing, zero: { ...placing.zero, [axis]: text } })}
            unit={shown.units.length}
            hint={ZERO_HINTS[axis]}
            problem={read.zeroProblems[axis]}
          />
        ))}
      </div>
      {read.problem === undefined ? null : <p className="notice bad">{read.problem}</p>}
    </>
  );
}
