/** An aircraft as it crosses the wire: its row in the database, and what its ledger says it is. */
import type { Aircraft } from '#db/ledger/aircraft.ts';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { AircraftId } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { aircraftOf } from '#shared/rollup/report.ts';

export function aircraftReport(aircraft: Aircraft, ledger: Ledger, isInvented: boolean): AircraftReport {
  const stated = aircraftOf(ledger);
  return {
    id: aircraft.id as AircraftId,
    name: stated?.name ?? aircraft.name,
    headSeq: ledger.entries.at(-1)?.seq ?? 0,
    datum: stated?.datum ?? '',
    massUnit: stated?.massUnit ?? 'kg',
    lengthUnit: stated?.lengthUnit ?? 'm',
    macM: stated?.macM,
    lemacM: stated?.lemacM,
    isInvented,
  };
}
