/** What is asked of each kind of line, in plain words, in the order in which it is typed. */

import { COVERS } from '#shared/layup/draft.ts';
import type { LineKind, On } from '#shared/layup/schedule.ts';
import { say } from '#shared/words/say.ts';

export type LineField = {
  readonly name: string;
  readonly label: string;
  readonly options?: readonly { readonly value: string; readonly words: string }[];
  readonly placeholder?: string;
  readonly isText?: boolean;
};

export const KIND_WORDS: Readonly<Record<LineKind, string>> = {
  ply: say`Ply`,
  core: say`Core`,
  coat: say`Coat`,
  'bond line': say`Bond line`,
  fillet: say`Fillet`,
  insert: say`Insert`,
};

export const ON_WORDS: Readonly<Record<On, string>> = {
  moulded: say`moulded`,
  later: say`later`,
  finish: say`finish`,
};

const covers: LineField = { name: COVERS, label: say`Covers`, placeholder: say`all` };
const one = { value: '1', words: say`one` };
const two = { value: '2', words: say`both` };
const length: LineField = { name: 'length', label: say`Length` };
const section: LineField = { name: 'section', label: say`Section` };

/** At most three, beside kind, material and when it goes on. */
export const FIELDS_OF: Readonly<Record<LineKind, readonly LineField[]>> = {
  ply: [{ name: 'layers', label: say`Layers` }, covers, { name: 'angle', label: say`Angle`, isText: true }],
  core: [
    covers,
    {
      name: 'faces',
      label: say`Wet faces`,
      options: [
        { value: '', words: say`both` },
        { value: '1', words: say`one` },
        { value: '0', words: say`none` },
      ],
    },
    { name: 'bevel', label: say`Bevel`, placeholder: say`none` },
  ],
  coat: [covers, { name: 'faces', label: say`Faces`, options: [{ ...one, value: '' }, two] }],
  'bond line': [length, section],
  fillet: [length, section],
  insert: [{ name: 'count', label: say`How many` }],
};

/** Asked of a core that is bevelled. */
export const BEVEL_FIELDS: readonly LineField[] = [
  {
    name: 'outline',
    label: say`Outline`,
    options: [
      { value: '', words: say`choose` },
      { value: 'rectangle', words: say`rectangle` },
      { value: 'other', words: say`any other` },
    ],
  },
  { name: 'perimeter', label: say`Perimeter`, placeholder: say`the region’s` },
];

export const KERF_FIELDS: readonly LineField[] = [
  { name: 'kerf length', label: say`Kerfs, all lengths together` },
  { name: 'kerf width', label: say`Kerf width` },
  { name: 'kerf depth', label: say`Kerf depth` },
];

export const FIELD_LABELS: ReadonlyMap<string, string> = new Map([
  ['material', say`Material`],
  ...[...Object.values(FIELDS_OF).flat(), ...BEVEL_FIELDS, ...KERF_FIELDS].map(
    ({ name, label }) => [name, label] as const,
  ),
  ['faces', say`Faces`],
]);
