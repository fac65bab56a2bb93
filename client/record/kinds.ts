/** Every kind of entry as it is asked for on a screen: its name in plain words, when it is wanted, and its fields. */
import { allowanceField, COMMON_GROWTH } from '#shared/estimate/allowance.ts';
import { COMMON_ERRORS, ERROR_FIELDS } from '#shared/estimate/shop-errors.ts';
import { MATERIAL_KINDS } from '#shared/layup/material.ts';
import type { Statement } from '#shared/ledger/entry.ts';
import { Disposition, Evidence, Process, Side } from '#shared/ledger/entry.ts';
import { showPercent } from '#shared/quantity/show.ts';
import { LENGTH_UNITS, MASS_UNITS } from '#shared/quantity/units.ts';
import { alike, CONDITIONS, driftCausesOr, orNone } from '../words/choices.ts';
import type { FieldSpec } from './field-spec.ts';

export type Kind = Statement['kind'];

export type KindSpec = {
  readonly title: string;
  /** When somebody wants this one. */
  readonly hint: string;
  readonly fields: readonly FieldSpec[];
  /** Above the fields that are folded away. */
  readonly more?: string;
};

const PART: FieldSpec = { name: 'part', label: 'Part', is: 'part', isWide: true };
const PIECE: FieldSpec = { name: 'piece', label: 'Piece', is: 'pieces' };
const SCALE_NAME: FieldSpec = {
  name: 'scale',
  label: 'Name of the scale',
  is: 'text',
  suggest: 'scales',
  isWide: true,
};
const REASON: FieldSpec = { name: 'reason', label: 'Why', is: 'long', isWide: true };

export const STATIONS: readonly FieldSpec[] = [
  { name: 'x', label: 'Station x', is: 'length', hint: 'Aft of the datum is positive.' },
  { name: 'y', label: 'Station y', is: 'length' },
  { name: 'z', label: 'Station z', is: 'length' },
  { name: 'arm uncertainty', label: 'Station’s uncertainty', is: 'length' },
];

const ALLOWANCES: readonly FieldSpec[] = Process.options.flatMap((process) =>
  Evidence.options.map((evidence) => ({
    name: allowanceField(process, evidence),
    label: `${process}, ${evidence}`,
    is: 'share' as const,
    hint: `Left empty: ${showPercent(COMMON_GROWTH[process][evidence])} %.`,
  })),
);

const ERRORS: readonly FieldSpec[] = [
  {
    name: ERROR_FIELDS.processShiftStd,
    label: 'A process misses by',
    is: 'share',
    hint: `One standard deviation, before it has released anything. Left empty: ${showPercent(COMMON_ERRORS.processShiftStd)} %.`,
  },
  {
    name: ERROR_FIELDS.pieceToPieceStd,
    label: 'A piece differs by',
    is: 'share',
    hint: `One standard deviation, where an estimate states none. Left empty: ${showPercent(COMMON_ERRORS.pieceToPieceStd)} %.`,
  },
];

const ON_SCALE: readonly FieldSpec[] = [
  {
    name: 'condition',
    label: 'Weighed as',
    is: 'choice',
    options: CONDITIONS,
    isWide: true,
  },
  { name: 'gross', label: 'Gross', is: 'mass', hint: 'Several readings of one load: 4.12 / 4.13 / 4.12.' },
  { name: 'tare', label: 'Tare', is: 'mass' },
];

export const CARRIED: readonly FieldSpec[] = [
  { name: 'scale', label: 'Scale', is: 'text', suggest: 'scales', isMore: true },
  { name: 'fixture', label: 'Fixture', is: 'text', hint: 'What carried the load.', isMore: true },
];
export const MADE_WITH: readonly FieldSpec[] = [
  { name: 'lot', label: 'Lot', is: 'text', isMore: true },
  { name: 'batch', label: 'Batch', is: 'text', isMore: true },
  { name: 'operator', label: 'Operator', is: 'text', isMore: true },
  { name: 'temperature', label: 'Temperature', is: 'temperature', isMore: true },
  { name: 'humidity', label: 'Humidity', is: 'share', isMore: true },
  {
    name: 'resin mixed',
    label: 'Resin mixed',
    is: 'mass',
    hint: 'Of an infusion, for all that is on the scale.',
    isMore: true,
  },
  { name: 'resin left', label: 'Resin left over', is: 'mass', hint: 'In the pot, never fed in.', isMore: true },
  {
    name: 'resin in lines',
    label: 'Resin in lines',
    is: 'mass',
    hint: 'In hoses, runners and the trap.',
    isMore: true,
  },
];
const RESOLUTION: FieldSpec = {
  name: 'resolution',
  label: 'Resolution of the scale',
  is: 'mass',
  hint: 'Left empty, the digits typed stand for it.',
  isMore: true,
};

export const KIND_SPECS: Readonly<Record<Kind, KindSpec>> = {
  estimate: {
    title: 'Estimate revised',
    hint: 'A part is estimated or calculated anew.',
    more: 'Flash, and what goes on later',
    fields: [
      PART,
      { name: 'estimate', label: 'Installed mass, each', is: 'mass' },
      {
        name: 'std uncertainty',
        label: 'Its uncertainty',
        is: 'mass or share',
        hint: 'Standard uncertainty, a mass or a per cent. Left empty, what the shop takes for granted: 3 % as a rule.',
      },
      { name: 'evidence', label: 'It is', is: 'choice', options: alike(Evidence.options), isWide: true },
      { name: 'allowance', label: 'Growth allowance', is: 'share', hint: 'Left empty, the shop’s default is taken.' },
      ...STATIONS,
      { name: 'flash', label: 'Flash, trimmed off', is: 'mass', isMore: true },
      {
        name: 'later',
        label: 'Goes on later',
        is: 'mass',
        hint: 'Of the installed mass: bond, paint, fittings.',
        isMore: true,
      },
      { name: 'finish', label: 'Of that, after fitting out', is: 'mass', isMore: true },
      { name: 'later allowance', label: 'Allowance on what goes on later', is: 'share', isMore: true },
    ],
  },
  'arm measured': {
    title: 'Arm measured',
    hint: 'Where a part has its CG, by tape, on two supports, on a bar or by hand.',
    fields: [
      PART,
      ...STATIONS,
      {
        name: 'balance point',
        label: 'It balances at',
        is: 'length',
        hint: 'The bar’s station, counted from the bench zero.',
      },
      {
        name: 'balance uncertainty',
        label: 'Uncertainty of that point',
        is: 'length',
        hint: 'How far the bar can be moved before the part tips.',
      },
      { name: 'first load', label: 'Load F1', is: 'mass', hint: 'Net, without the support itself.' },
      { name: 'first station', label: 'Station x1', is: 'length' },
      { name: 'second load', label: 'Load F2', is: 'mass' },
      { name: 'second station', label: 'Station x2', is: 'length' },
      {
        name: 'bench zero',
        label: 'Station of the bench zero',
        is: 'length',
        hint: 'Where stations on the bench are counted from. Left empty: the datum.',
        isWide: true,
      },
      {
        name: 'load uncertainty',
        label: 'Uncertainty of a load',
        is: 'mass',
        hint: 'Left empty, the digits typed say it.',
      },
      { name: 'station uncertainty', label: 'Uncertainty of x1, x2', is: 'length' },
    ],
  },
  'part added': {
    title: 'Part added',
    hint: 'A part that is not on the list yet.',
    fields: [
      { name: 'number', label: 'Part number', is: 'text' },
      { name: 'name', label: 'Name', is: 'text' },
      { name: 'group', label: 'Group', is: 'text', suggest: 'groups' },
      { name: 'quantity', label: 'Pieces', is: 'count', hint: 'Left empty: one.' },
      { name: 'process', label: 'Process', is: 'picker', options: orNone(Process.options, 'not said') },
      { name: 'side', label: 'Side', is: 'picker', options: orNone(Side.options, 'not said') },
      {
        name: 'assembly',
        label: 'Belongs to assembly',
        is: 'assembly',
        hint: 'Left empty: to the aircraft itself.',
        isWide: true,
      },
    ],
  },
  'part removed': {
    title: 'Part removed',
    hint: 'A part that the aircraft will not have.',
    fields: [PART, REASON],
  },
  'piece installed': { title: 'Piece built in', hint: 'From stock into the aircraft.', fields: [PART, PIECE] },
  'piece withdrawn': {
    title: 'Piece withdrawn',
    hint: 'A piece no longer counts; the estimate does until the next one is weighed.',
    fields: [PART, PIECE, REASON],
  },
  disposition: {
    title: 'Decision on a piece',
    hint: 'Accepted, to be reworked or scrapped.',
    fields: [
      PART,
      PIECE,
      { name: 'decision', label: 'Decision', is: 'choice', options: alike(Disposition.options), isWide: true },
      {
        name: 'inspection',
        label: 'What was inspected and found',
        is: 'long',
        hint: 'Needed to accept a light piece: a light part can be a weak part.',
        isWide: true,
      },
    ],
  },
  'process cause': {
    title: 'Cause of a process’s change',
    hint: 'Why the parts of a process come out heavier or lighter than they did, or why many small differences add up.',
    more: 'Many small ones instead',
    fields: [
      { name: 'process', label: 'Process', is: 'picker', options: orNone(Process.options, 'choose') },
      {
        name: 'release',
        label: 'Entry of the release',
        is: 'text',
        hint: 'Left empty: the one at which it was called.',
      },
      { name: 'cause', label: 'Cause', is: 'picker', options: driftCausesOr('choose') },
      { name: 'found', label: 'What was found', is: 'long', hint: 'Needed to make sense of “other”.', isWide: true },
      {
        name: 'sum of',
        label: 'Sum of',
        is: 'picker',
        options: orNone(['group', 'process', 'lot'], 'no sum: the process above'),
        isMore: true,
      },
      { name: 'name', label: 'Its name', is: 'text', hint: 'It is explained as it stands now.', isMore: true },
    ],
  },
  weighing: {
    title: 'Weighing',
    hint: 'On the Weigh screen.',
    more: 'More about this weighing',
    fields: [
      PART,
      PIECE,
      ...ON_SCALE,
      {
        name: 'cause',
        label: 'Cause, where it drifts',
        is: 'picker',
        options: driftCausesOr('not stated'),
      },
      ...CARRIED,
      ...MADE_WITH,
      RESOLUTION,
    ],
  },
  'assembly weighing': {
    title: 'Assembly weighed',
    hint: 'A part that has parts of its own, as it stands on the scale.',
    more: 'Measured CG, scale and fixture',
    fields: [
      { ...PART, label: 'Assembly', is: 'assembly' },
      ...ON_SCALE,
      { name: 'not yet in', label: 'Not yet in it', is: 'not yet in', isWide: true },
      ...STATIONS.map((field) => ({ ...field, isMore: true })),
      ...CARRIED,
      RESOLUTION,
    ],
  },
  'aircraft weighing': {
    title: 'Aircraft weighed',
    hint: 'The whole aircraft on its scales; on a screen of its own.',
    fields: [
      { name: 'signed by', label: 'Signed by', is: 'text', isWide: true },
      { name: 'signed on', label: 'Signed on', is: 'day' },
      { name: 'signed as', label: 'Licence or authority', is: 'text' },
    ],
  },
  'check weight': {
    title: 'Check weight',
    hint: 'A known mass on a scale, at the start of a shift.',
    fields: [
      SCALE_NAME,
      { name: 'reference', label: 'The check weight is', is: 'mass', hint: 'As it is marked.' },
      { name: 'shown', label: 'The scale shows', is: 'mass' },
      {
        name: 'limit',
        label: 'It passes within',
        is: 'mass',
        hint: 'Left empty: what OIML R 76 allows a class III scale in service, where the scale’s resolution is known.',
        isWide: true,
      },
    ],
  },
  scale: {
    title: 'Scale and calibration',
    hint: 'A new scale, or a new certificate.',
    fields: [
      { ...SCALE_NAME, hint: 'As the crew calls it: bench, floor, crane.' },
      { name: 'capacity', label: 'Capacity', is: 'mass', hint: 'A gross above it is refused.' },
      { name: 'resolution', label: 'Resolution', is: 'mass', hint: 'The smallest step of the display.' },
      { name: 'calibrated', label: 'Calibrated on', is: 'day' },
      { name: 'calibration due', label: 'Valid until', is: 'day', hint: 'A weighing after that day is marked.' },
      {
        name: 'calibration uncertainty',
        label: 'Uncertainty on the certificate',
        is: 'share',
        hint: 'A per cent of what is shown, or a mass at the capacity: 3 g.',
      },
      {
        name: 'coverage',
        label: 'Coverage factor k',
        is: 'text',
        hint: 'Stands beside it on the certificate: 1 for a standard uncertainty, 2 for an expanded one of about 95 %.',
        isWide: true,
      },
    ],
  },
  targets: {
    title: 'Targets',
    hint: 'Empty weight, CG range and limits, set or revised.',
    more: 'Targets of groups',
    fields: [
      { name: 'empty mass', label: 'Empty-weight target', is: 'mass' },
      { name: 'reserve', label: 'Reserve', is: 'mass', hint: 'Kept back for what nobody has thought of yet.' },
      {
        name: 'cg forward',
        label: 'CG range, forward end',
        is: 'station or share',
        hint: 'A station, or a per cent of the MAC: 18 % MAC.',
      },
      { name: 'cg aft', label: 'CG range, aft end', is: 'station or share' },
      {
        name: 'part limit',
        label: 'Part limit, as a mass',
        is: 'mass',
        hint: 'A part drifts beyond the larger of the two.',
      },
      {
        name: 'part limit share',
        label: 'Part limit, as a share',
        is: 'share',
        hint: 'Of its estimate. Common practice is 6 %.',
      },
      { ...REASON, hint: 'Needed where targets were set before.' },
      { name: 'groups', label: 'Targets of groups', is: 'groups', isMore: true, isWide: true },
    ],
  },
  allowances: {
    title: 'Growth allowances',
    hint: 'What the shop adds to an estimate that states no allowance of its own.',
    fields: [...ALLOWANCES, ...ERRORS, { ...REASON, hint: 'Needed where the shop has set its own before.' }],
  },
  loading: {
    title: 'Loading limits',
    hint: 'Stations, envelope and cases, stated as a whole on the Loading screen.',
    fields: [],
  },
  material: {
    title: 'Material',
    hint: 'What parts are laid up of. Schedules copy its figures, and keep them when the list changes.',
    fields: [
      { name: 'name', label: 'Name', is: 'text', isWide: true },
      { name: 'is', label: 'It is', is: 'choice', options: orNone(MATERIAL_KINDS, 'choose') },
      { name: 'areal', label: 'Mass per area', is: 'text', hint: 'Of fabrics and coats: 200 g/m².' },
      { name: 'density', label: 'Density', is: 'text', hint: 'Of a fabric that of the fibre: 1780 kg/m³.' },
      { name: 'thickness', label: 'Thickness', is: 'text', hint: 'Of a core: 6.35 mm.' },
      { name: 'uptake', label: 'Resin taken up by one face', is: 'text', hint: 'Of a core: 300 g/m².' },
      { name: 'uptake uncertainty', label: 'Uptake’s uncertainty', is: 'share' },
      { name: 'mass', label: 'Mass of one', is: 'mass', hint: 'Of a fitting.' },
      {
        name: 'uncertainty',
        label: 'Uncertainty',
        is: 'share',
        hint: 'One standard uncertainty, as a share of the figure.',
      },
      {
        name: 'withdrawn',
        label: 'On the list',
        is: 'choice',
        options: [
          { value: '', words: 'offered' },
          { value: 'yes', words: 'withdrawn' },
        ],
      },
    ],
  },
  'datum moved': {
    title: 'Datum moved',
    hint: 'All stations are counted anew.',
    fields: [
      { name: 'shift', label: 'By how much, positive aft', is: 'length', hint: 'Towards the nose with a minus.' },
      {
        name: 'datum',
        label: 'The new datum in words',
        is: 'text',
        hint: 'For example: front face of the main frame.',
        isWide: true,
      },
      REASON,
    ],
  },
  note: {
    title: 'Note',
    hint: 'Something worth keeping, of a part or of the aircraft.',
    fields: [
      { ...PART, hint: 'Left empty: of the aircraft.' },
      { name: 'text', label: 'In words', is: 'long', isWide: true },
    ],
  },
  aircraft: {
    title: 'Aircraft described',
    hint: 'Name, datum and units.',
    fields: [
      { name: 'name', label: 'Name', is: 'text', isWide: true },
      {
        name: 'datum',
        label: 'Datum',
        is: 'long',
        hint: 'In words, where stations are counted from. Moving it is an entry of its own.',
        isWide: true,
      },
      {
        name: 'levelling',
        label: 'Levelling reference',
        is: 'long',
        hint: 'What is level when the aircraft is: a rail, two pads, a line on the frame.',
        isWide: true,
      },
      { name: 'mac', label: 'MAC', is: 'length', hint: 'The length of the mean aerodynamic chord.' },
      { name: 'lemac', label: 'Leading edge of MAC', is: 'length', hint: 'Its station.' },
      { name: 'mass unit', label: 'Masses are shown in', is: 'choice', options: alike(MASS_UNITS) },
      {
        name: 'length unit',
        label: 'Lengths are shown in',
        is: 'choice',
        options: alike(LENGTH_UNITS),
      },
      {
        name: 'oil in empty weight',
        label: 'Oil is part of the empty weight',
        is: 'choice',
        options: [
          { value: '', words: 'not said: yes' },
          { value: 'yes', words: 'yes' },
          { value: 'no', words: 'no' },
        ],
        hint: 'Older certification bases take it out. Stated on every report.',
      },
    ],
  },
};

/** What is recorded on the Ledger, as it is laid out to choose from. Weighings of single parts have their own screen. */
export const KIND_GROUPS: readonly { readonly title: string; readonly kinds: readonly Kind[] }[] = [
  { title: 'Parts', kinds: ['estimate', 'arm measured', 'part added', 'part removed'] },
  { title: 'Pieces', kinds: ['disposition', 'process cause', 'piece installed', 'piece withdrawn'] },
  { title: 'Scales and weighings', kinds: ['assembly weighing', 'check weight', 'scale'] },
  { title: 'The aircraft', kinds: ['targets', 'datum moved', 'note'] },
];

/** What a field of a kind is called, for where its figure is read. */
export function labelOf(kind: Kind, field: string): string {
  return KIND_SPECS[kind].fields.find(({ name }) => name === field)?.label ?? field;
}
