/** The entry that is to be corrected, as the ledger tells it, and what it did when it was recorded. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { EntryReport } from '#shared/contract/reports.ts';
import { describeEntry } from '#shared/rollup/describe-entry.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { shownIn, tied } from '../pieces/units.ts';

export function EntrySaid({ row, aircraft }: { readonly row: EntryReport; readonly aircraft: AircraftReport }) {
  const shown = shownIn(aircraft);
  const changedKg = row.effects.reduce((sumKg, { massKg }) => sumKg + massKg, 0);
  return (
    <p className="notice">
      <span className="entry-words block">{tied(describeEntry(row, shown.units))}</span>
      <span className="soft small">
        {dayWords(row.entry.happenedOn)}, {row.entry.by}.{' '}
        {changedKg === 0
          ? say`It left the predicted weight as it was.`
          : say`It changed the predicted weight by ${shown.massWithUnit(changedKg, { sign: true })}.`}
      </span>
    </p>
  );
}
