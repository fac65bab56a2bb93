/** The CG of a part on two supports (rule W6): the picture of what is asked for, and what follows from it while it is typed. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { readLength, readMass } from '#shared/quantity/typed.ts';
import { centreOnSupports } from '#shared/weighing/two-supports.ts';
import { say } from '#shared/words/say.ts';
import { plusMinus, shownIn } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import type { Form } from './field-spec.ts';

export const SUPPORT_FIELDS = [
  'first load',
  'first station',
  'second load',
  'second station',
  'bench zero',
  'load uncertainty',
  'station uncertainty',
];

export function SupportsPicture() {
  return (
    <svg
      className="supports-picture"
      viewBox="0 0 360 132"
      role="img"
      aria-label={say`A part on two supports: load F1 at station x1, load F2 at station x2, both counted from the bench zero; the CG lies between.`}
    >
      <g fill="none" stroke="currentColor" strokeWidth="1.5">
        <path d="M70 46 C120 30 240 26 300 44 L300 58 L70 58 Z" />
        <path d="m105 59 11 20H94Zm140 0 11 20h-22Z" />
        <path d="M24 79h316" strokeWidth="2" />
        <path d="M24 84v40M105 84v16M245 84v30" strokeDasharray="3 3" />
        <path d="M24 98h77m-6-4 6 4-6 4M24 114h217m-6-4 6 4-6 4" />
        <circle cx="168" cy="45" r="8" />
        <path d="M160 45h16M168 37v16" />
      </g>
      <g fill="currentColor" fontSize="14">
        <text x="28" y="74">
          0
        </text>
        <text x="120" y="75">
          F1
        </text>
        <text x="260" y="75">
          F2
        </text>
        <text x="60" y="95">
          x1
        </text>
        <text x="150" y="111">
          x2
        </text>
        <text x="182" y="50">{say`CG`}</text>
      </g>
    </svg>
  );
}

export const BAR_FIELDS = ['balance point', 'bench zero', 'balance uncertainty'];

/** Where the CG lies, as soon as the balance point is there. */
export function BarAnswer({ form, aircraft }: { readonly form: Form; readonly aircraft: AircraftReport }) {
  const station = (name: string) => readLength(form[name] ?? '', { unit: aircraft.lengthUnit });
  const [point, std, zero] = [station('balance point'), station('balance uncertainty'), station('bench zero')];
  if (!point.ok || !std.ok) return null;
  const shown = shownIn(aircraft);
  const x = shown.lengthWithStd(point.value.si + (zero.ok ? zero.value.si : 0), std.value.si);
  return (
    <p
      className="notice wide"
      role="status"
    >{rich`The CG lies at x = ${<strong>{plusMinus(x, shown.units.length)}</strong>}.`}</p>
  );
}

/** Where the CG lies, as soon as loads and stations are there. What is refused is said when it is recorded. */
export function SupportsAnswer({ form, aircraft }: { readonly form: Form; readonly aircraft: AircraftReport }) {
  const load = (name: string) => readMass(form[name] ?? '', { unit: aircraft.massUnit });
  const station = (name: string) => readLength(form[name] ?? '', { unit: aircraft.lengthUnit });
  const [f1, f2, x1, x2] = [
    load('first load'),
    load('second load'),
    station('first station'),
    station('second station'),
  ];
  if (!f1.ok || !f2.ok || !x1.ok || !x2.ok) return null;
  const loadStd = load('load uncertainty');
  const stationStd = station('station uncertainty');
  const stationStdM = stationStd.ok ? stationStd.value.si : 0;
  const support = (f: typeof f1.value, x: typeof x1.value) => ({
    netKg: f.si,
    netStdKg: loadStd.ok ? loadStd.value.si : f.lastDigitSi / Math.sqrt(12),
    stationM: x.si,
    stationStdM,
  });
  const centre = centreOnSupports(support(f1.value, x1.value), support(f2.value, x2.value));
  if (!centre.ok) return null;
  const zero = station('bench zero');
  const shown = shownIn(aircraft);
  const x = shown.lengthWithStd(centre.value.xM + (zero.ok ? zero.value.si : 0), centre.value.xStdM);
  return (
    <p
      className="notice wide"
      role="status"
    >{rich`The CG lies at x = ${<strong>{plusMinus(x, shown.units.length)}</strong>}.`}</p>
  );
}
