/** Loading limits in words, for tests: a two-seater by station, and its twin in pounds, inches and US gallons by per cent MAC. All invented. */
export const METRIC = {
  'maximum weight': '650 kg',
  stations: [
    { what: 'seat', name: 'Left seat', x: '1.9 m', y: '-0.3 m', least: '55 kg', most: '110 kg', pilot: 'yes' },
    { what: 'seat', name: 'Right seat', x: '1.9 m', y: '0.3 m', least: '40 kg', most: '110 kg' },
    { what: 'baggage', name: 'Shelf', x: '2.6 m', y: '0 m', most: '15 kg' },
    {
      ...{
        what: 'tank',
        name: 'Tank',
        y: '0 m',
        fluid: 'avgas',
        density: '0.72 kg/L',
        usable: '90 L',
        unusable: '2 L',
      },
      arms: [
        { quantity: '0 L', x: '2.40 m' },
        { quantity: '90 L', x: '2.44 m' },
      ],
    },
  ],
  envelope: [
    { mass: '300 kg', at: '2.0 m' },
    { mass: '650 kg', at: '2.0 m' },
    { mass: '650 kg', at: '2.4 m' },
    { mass: '300 kg', at: '2.5 m' },
  ],
  cases: [
    {
      name: 'Solo',
      loads: [
        { station: 'left seat', load: '75 kg' },
        { station: 'Tank', load: '60 L' },
      ],
      burn: [{ tank: 'tank', quantity: '50 L' }],
    },
  ],
} as const;

export const POUNDS = {
  'maximum weight': '1400 lb',
  'zero-fuel maximum': '1300 lb',
  'envelope by': 'per cent MAC',
  'butt line left': '-2 in',
  'butt line right': '2 in',
  stations: [
    { what: 'seat', name: 'Left', x: '75 in', y: '-11 in', least: '120 lb', most: '240 lb', pilot: 'yes' },
    { what: 'tank', name: 'Wing', x: '82 in', y: '0 in', fluid: 'avgas', density: '6 lb/US gal', usable: '20 US gal' },
  ],
  envelope: [
    { mass: '600 lb', at: '15 % MAC' },
    { mass: '1400 lb', at: '18' },
    { mass: '1400 lb', at: '30 %' },
    { mass: '600 lb', at: '32 % MAC' },
  ],
  cases: [],
} as const;
