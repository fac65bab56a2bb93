/** What is asked of each kind of line, in plain words, in the order in which it is typed. */
import { COVERS } from '#shared/layup/draft.ts';
import type { LineKind, On } from '#shared/layup/schedule.ts';

export type LineField = {
  readonly name: string;
  readonly label: string;
  readonly options?: readonly { readonly value: string; readonly words: string }[];
  readonly placeholder?: string;
  readonly isText?: boolean;
};

export const KIND_WORDS: Readonly<Record<LineKind, string>> = {
  ply: 'Ply',
  core: 'Core',
  coat: 'Coat',
  'bond line': 'Bond line',
  fillet: 'Fillet',
  insert: 'Insert',
};

export const ON_WORDS: Readonly<Record<On, string>> = {
  moulded: 'moulded',
  later: 'later',
  finish: 'finish',
};

const covers: LineField = { name: COVERS, label: 'Covers', placeholder: 'all' };
const one = { value: '1', words: 'one' };
const two = { value: '2', words: 'both' };
const length: LineField = { name: 'length', label: 'Length' };
const section: LineField = { name: 'section', label: 'Section' };

/** At most three, beside kind, material and when it goes on. */
export const FIELDS_OF: Readonly<Record<LineKind, readonly LineField[]>> = {
  ply: [{ name: 'layers', label: 'Layers' }, covers, { name: 'angle', label: 'Angle', isText: true }],
  core: [
    covers,
    {
      name: 'faces',
      label: 'Wet faces',
      options: [
        { value: '', words: 'both' },
        { value: '1', words: 'one' },
        { value: '0', words: 'none' },
      ],
    },
    { name: 'bevel', label: 'Bevel', placeholder: 'none' },
  ],
  coat: [covers, { name: 'faces', label: 'Faces', options: [{ ...one, value: '' }, two] }],
  'bond line': [length, section],
  fillet: [length, section],
  insert: [{ name: 'count', label: 'How many' }],
};

/** Asked of a core that is bevelled. */
export const BEVEL_FIELDS: readonly LineField[] = [
  {
    name: 'outline',
    label: 'Outline',
    options: [
      { value: '', words: 'choose' },
      { value: 'rectangle', words: 'rectangle' },
      { value: 'other', words: 'any other' },
    ],
  },
  { name: 'perimeter', label: 'Perimeter', placeholder: 'the region’s' },
];

export const KERF_FIELDS: readonly LineField[] = [
  { name: 'kerf length', label: 'Kerfs, all lengths together' },
  { name: 'kerf width', label: 'Kerf width' },
  { name: 'kerf depth', label: 'Kerf depth' },
];

export const FIELD_LABELS: ReadonlyMap<string, string> = new Map([
  ['material', 'Material'],
  ...[...Object.values(FIELDS_OF).flat(), ...BEVEL_FIELDS, ...KERF_FIELDS].map(
    ({ name, label }) => [name, label] as const,
  ),
  ['faces', 'Faces'],
]);
