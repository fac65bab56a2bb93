/**
 * A part as a person lists it, into the statement that is recorded.
 * Fields: number, name, group, quantity, side, process. Its assembly is another part's number; the caller finds that part.
 */
import { MOST_PIECES, type PartId, Process, Side, type StatementOf } from '#shared/ledger/entry.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';

export const PART_FIELDS = ['number', 'name', 'group', 'assembly', 'quantity', 'side', 'process'] as const;

const PROCESS_SPELLINGS: Readonly<Record<string, Process>> = {
  infused: 'resin-infused',
  infusion: 'resin-infused',
  'resin infusion': 'resin-infused',
  'wet layup': 'wet lay-up',
  'hand lay up': 'wet lay-up',
  'hand layup': 'wet lay-up',
  'pre preg': 'prepreg',
  purchased: 'bought',
  bond: 'bonding',
  paint: 'finish',
};
const SIDE_SPELLINGS = { l: 'left', r: 'right', c: 'centre', center: 'centre', lh: 'left', rh: 'right' } as const;

/** The part, or undefined where a problem was found. A name left out is the number; a process left out is `other`. */
export function partFromWords(
  reader: FieldReader,
  ids: { readonly partId: PartId; readonly parentPartId: PartId | undefined },
): StatementOf<'part added'> | undefined {
  const problemsBefore = reader.problems.length;
  reader.need('number');
  reader.need('group');
  const number = reader.text('number', 60);
  const name = reader.text('name', 120);
  const group = reader.text('group', 60);
  const quantity = reader.count('quantity', MOST_PIECES);
  const side = reader.choice('side', Side.options, SIDE_SPELLINGS);
  const process = reader.choice('process', Process.options, PROCESS_SPELLINGS);
  if (number === undefined || group === undefined || reader.problems.length > problemsBefore) return undefined;
  return {
    kind: 'part added',
    partId: ids.partId,
    number,
    name: name ?? number,
    group,
    ...(ids.parentPartId === undefined ? {} : { parentPartId: ids.parentPartId }),
    quantity: quantity ?? 1,
    ...(side === undefined ? {} : { side }),
    process: process ?? 'other',
  };
}

/** Part numbers are one number whatever their case and outer spaces. */
export function numberKey(number: string): string {
  return number.trim().toLowerCase().normalize('NFC');
}
