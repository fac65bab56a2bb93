/** The scratch changes as they are typed, kept on this device for each aircraft until they are put away or kept as a proposal (rule F6). */
import { useState } from 'react';
import { z } from 'zod';
import {
  ACTS,
  CHANGE_FIELDS,
  type ChangeField,
  type ProposalReport,
  type SentChange,
} from '#shared/contract/proposal.ts';
import { numberKey } from '#shared/part/from-words.ts';
import { plain } from '#shared/quantity/in-words.ts';
import type { DisplayUnits } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { newId } from '../door/ask.ts';
import { typedWith } from '../pieces/typed-units.ts';

const Row = z.object({
  key: z.string(),
  act: z.enum(ACTS),
  part: z.string(),
  name: z.string(),
  mass: z.string(),
  uncertainty: z.string(),
  x: z.string(),
  y: z.string(),
  z: z.string(),
});
export type Row = z.infer<typeof Row>;

const Scratch = z.object({
  rows: z.array(Row),
  station: z.string(),
  /** The proposal whose changes were taken into the list. */
  from: z.string().optional(),
});
export type Scratch = z.infer<typeof Scratch>;

const NOTHING: Scratch = { rows: [], station: '' };

export function useScratch(aircraftId: string) {
  const place = `tarebook what-if ${aircraftId}`;
  const [scratch, setScratch] = useState<Scratch>(() => readScratch(place));
  const become = (next: (before: Scratch) => Scratch) =>
    setScratch((before) => {
      const after = next(before);
      localStorage.setItem(place, JSON.stringify(after));
      return after;
    });
  const rows = (next: (rows: readonly Row[]) => readonly Row[]) =>
    become((before) => ({ ...before, rows: [...next(before.rows)] }));
  return {
    ...scratch,
    add: () => {
      const row = emptyRow();
      rows((before) => [...before, row]);
      return row.key;
    },
    change: (key: string, changed: Partial<Row>) =>
      rows((before) => before.map((row) => (row.key === key ? { ...row, ...changed } : row))),
    remove: (key: string) => rows((before) => before.filter((row) => row.key !== key)),
    setStation: (station: string) => become((before) => ({ ...before, station })),
    clear: () => become(({ station }) => ({ rows: [], station })),
    take: (proposal: ProposalReport, units: DisplayUnits) =>
      become(({ station }) => ({
        ...{ rows: proposal.changes.map((one) => rowOf(one, units)), station },
        from: proposal.proposalId,
      })),
  };
}
export type ScratchList = ReturnType<typeof useScratch>;

/** Puts a change on the list from another screen; it is there when What if is opened. */
export function addToScratch(aircraftId: string, row: Partial<Row>): void {
  const place = `tarebook what-if ${aircraftId}`;
  const before = readScratch(place);
  localStorage.setItem(place, JSON.stringify({ ...before, rows: [...before.rows, { ...emptyRow(), ...row }] }));
}

function emptyRow(): Row {
  return { key: newId(), act: 'set mass', part: '', name: '', mass: '', uncertainty: '', x: '', y: '', z: '' };
}

function readScratch(place: string): Scratch {
  try {
    return Scratch.parse(JSON.parse(localStorage.getItem(place) ?? 'null'));
  } catch {
    // Nothing, or a note of another version.
    return NOTHING;
  }
}

/** True where all that its act needs is typed, and the part is one of the aircraft's. */
export function isComplete(row: Row, numbers: ReadonlySet<string>): boolean {
  const { needs, may } = CHANGE_FIELDS[row.act];
  const has = (field: ChangeField) => row[field].trim() !== '';
  if (!needs.every(has)) return false;
  if ((row.act === 'set arm' || row.act === 'move') && !may.some(has)) return false;
  return !needs.includes('part') || numbers.has(numberKey(row.part));
}

/** The words that are sent; bare numbers take the aircraft's units. */
export function inSentWords(row: Row, units: DisplayUnits): SentChange {
  const { needs, may } = CHANGE_FIELDS[row.act];
  const words = [...needs, ...may].flatMap((field) => {
    const text = row[field].trim();
    if (text === '') return [];
    const unit = UNIT_OF[field];
    return [[field, unit === undefined ? text : typedWith(text, units[unit])]];
  });
  return { act: row.act, ...(Object.fromEntries(words) as Omit<SentChange, 'act'>) };
}

export const UNIT_OF: Readonly<Partial<Record<ChangeField, keyof DisplayUnits>>> = {
  mass: 'mass',
  uncertainty: 'mass',
  x: 'length',
  y: 'length',
  z: 'length',
};

/** A change that was kept, as one would type it. */
function rowOf({ part, change }: ProposalReport['changes'][number], units: DisplayUnits): Row {
  const mass = (kg: number | undefined) => (kg === undefined ? '' : plain(kg / MASS_UNIT_KG[units.mass]));
  const length = (m: number | undefined) => (m === undefined ? '' : plain(m / LENGTH_UNIT_M[units.length]));
  const row = { ...emptyRow(), act: change.act, ...(change.act === 'add part' ? { name: part } : { part }) };
  switch (change.act) {
    case 'remove':
      return row;
    case 'set mass':
      return { ...row, mass: mass(change.massKg), uncertainty: mass(change.massStdKg) };
    case 'add mass':
      return { ...row, mass: mass(change.massKg) };
    case 'set arm':
    case 'move':
      return { ...row, x: length(change.xM), y: length(change.yM), z: length(change.zM) };
    case 'add part': {
      const at = { x: length(change.xM), y: length(change.yM), z: length(change.zM) };
      return { ...row, ...at, mass: mass(change.massKg), uncertainty: mass(change.massStdKg) };
    }
  }
}
