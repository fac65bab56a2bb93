/**
 * An invented aircraft that gives a forecast nonsense to stand on: a process with one weighing, one whose weighings are all equal, an estimate
 * of nothing, a part that weighs next to nothing, and parts that still wait for each of these processes. Sent in words, as a shop would.
 */

type Sent = { readonly kind: string } & Readonly<Record<string, unknown>>;

/** The parts that are odd, by what is odd about them. */
export const ODD_PARTS = { once: 'ONCE', zero: 'ZERO', nothingLeft: 'CRUMB' } as const;

const EQUAL = Array.from({ length: 8 }, (_, at) => `SAME-${at + 1}`);

const part = (number: string, process: string, group: string): Sent => ({
  kind: 'part added',
  ...{ number, name: `Odd ${number}`, group, process },
});
const estimate = (number: string, mass: string, x?: string): Sent => ({
  kind: 'estimate',
  ...{ part: number, estimate: mass, allowance: '10 %', 'std uncertainty': '0 kg' },
  ...(x === undefined ? {} : { x }),
});
const weighing = (number: string, gross: string): Sent => ({
  kind: 'weighing',
  ...{ part: number, gross, condition: 'finished', happenedOn: '2026-03-02' },
});

/** After the entry that begins the aircraft. */
export const ODD_ENTRIES: readonly Sent[] = [
  { kind: 'targets', 'empty mass': '20 kg', 'cg forward': '1 m', 'cg aft': '2 m' },
  ...[
    part(ODD_PARTS.once, 'prepreg', 'wing'),
    estimate(ODD_PARTS.once, '4 kg', '1.5 m'),
    weighing(ODD_PARTS.once, '4.4 kg'),
    part('ONCE-2', 'prepreg', 'wing'),
    estimate('ONCE-2', '4 kg', '1.6 m'),
  ],
  ...EQUAL.flatMap((number) => [
    part(number, 'machined', 'gear'),
    estimate(number, '1 kg', '1.2 m'),
    weighing(number, '1.3 kg'),
  ]),
  ...[part('SAME-9', 'machined', 'gear'), estimate('SAME-9', '1 kg', '1.2 m')],
  ...[
    part(ODD_PARTS.zero, 'printed', 'nothing'),
    estimate(ODD_PARTS.zero, '0 kg', '1 m'),
    weighing(ODD_PARTS.zero, '0.2 kg'),
    part('ZERO-2', 'printed', 'nothing'),
    estimate('ZERO-2', '0 kg'),
  ],
  ...[
    part(ODD_PARTS.nothingLeft, 'wet lay-up', 'tail'),
    estimate(ODD_PARTS.nothingLeft, '5 kg', '3 m'),
    weighing(ODD_PARTS.nothingLeft, '0.001 g'),
    part('CRUMB-2', 'wet lay-up', 'tail'),
    estimate('CRUMB-2', '2 kg', '3 m'),
  ],
];
