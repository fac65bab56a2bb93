/** The entries of the story before they are read: what is said, by whom, on which day it happened and on which it was written down. */
import type { Geometry } from '#shared/geometry/geometry.ts';
import type { WorkingDay } from './calendar.ts';
import type { Made } from './releases.ts';

/** The fields of an entry in words, as a person states them; a geometry is sent as it was measured. */
export type Words = { readonly [field: string]: string | Words | readonly Words[] | Geometry | null };

export type Planned = {
  /** Names the entry within the story; its id follows from it. */
  readonly name: string;
  readonly happenedOn: WorkingDay;
  /** Not before the day it happened. */
  readonly recordedOn: WorkingDay;
  readonly by: string;
  readonly remark?: string;
  /** What truly stood on the scale, where that was pieces of a part: what an assembly of them weighs follows from it. */
  readonly made?: Made;
  readonly words: Words | ((known: Known) => Words);
};

/** What is known only once the days and numbers are given out. */
export type Known = {
  /** The number in the ledger of an entry that was planned earlier. */
  readonly seqOf: (name: string) => string;
  readonly dateOf: (day: WorkingDay) => string;
};

/** In the order in which they were written down; those of one day in the order given. */
export function inOrderWritten(planned: readonly Planned[]): readonly Planned[] {
  return [...planned].sort((a, b) => a.recordedOn - b.recordedOn);
}
