/**
 * How the demonstration aircraft may be loaded: two seats side by side, a shelf behind them, one tank in the hull, an envelope by per cent MAC and
 * five named cases. All invented, as the aircraft is.
 */
import type { Words } from './plan.ts';

const PILOT = 'Left seat';
const PASSENGER = 'Right seat';
const SHELF = 'Baggage shelf';
const TANK = 'Hull tank';

export const LIMITS: Words = {
  'maximum weight': '650 kg',
  'envelope by': 'per cent MAC',
  'butt line left': '-80 mm',
  'butt line right': '80 mm',
  stations: [
    { what: 'seat', name: PILOT, x: '2.90 m', y: '-0.28 m', least: '55 kg', most: '110 kg', pilot: 'yes' },
    { what: 'seat', name: PASSENGER, x: '2.90 m', y: '0.28 m', least: '40 kg', most: '110 kg' },
    { what: 'baggage', name: SHELF, x: '3.45 m', y: '0 m', most: '15 kg' },
    {
      ...{
        what: 'tank',
        name: TANK,
        y: '0 m',
        fluid: 'avgas',
        density: '0.72 kg/L',
        usable: '86 L',
        unusable: '1.8 L',
      },
      arms: [
        { quantity: '0 L', x: '3.40 m' },
        { quantity: '40 L', x: '3.43 m' },
        { quantity: '86 L', x: '3.44 m' },
      ],
    },
  ],
  envelope: [
    { mass: '380 kg', at: '4 % MAC' },
    { mass: '650 kg', at: '8 % MAC' },
    { mass: '650 kg', at: '21.5 % MAC' },
    { mass: '480 kg', at: '24.8 % MAC' },
    { mass: '380 kg', at: '26 % MAC' },
  ],
  cases: [
    {
      name: 'Light pilot alone, full tank',
      loads: [
        { station: PILOT, load: '55 kg' },
        { station: TANK, load: '86 L' },
      ],
      burn: [{ tank: TANK, quantity: '76 L' }],
    },
    {
      name: 'Pilot alone with baggage',
      loads: [
        { station: PILOT, load: '80 kg' },
        { station: SHELF, load: '15 kg' },
        { station: TANK, load: '60 L' },
      ],
      burn: [{ tank: TANK, quantity: '50 L' }],
    },
    {
      name: 'Two aboard, full tank',
      loads: [
        { station: PILOT, load: '80 kg' },
        { station: PASSENGER, load: '75 kg' },
        { station: TANK, load: '86 L' },
      ],
      burn: [{ tank: TANK, quantity: '76 L' }],
    },
    {
      name: 'Two heavy ones, what fuel is left',
      loads: [
        { station: PILOT, load: '110 kg' },
        { station: PASSENGER, load: '110 kg' },
        { station: TANK, load: '70 L' },
      ],
      burn: [{ tank: TANK, quantity: '60 L' }],
    },
    {
      name: 'Circuits, little fuel',
      loads: [
        { station: PILOT, load: '85 kg' },
        { station: TANK, load: '25 L' },
      ],
      burn: [{ tank: TANK, quantity: '15 L' }],
    },
  ],
};
