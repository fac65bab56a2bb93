/** An aircraft as it crosses the wire: its row in the database, and what its ledger says it is. */
import type { Aircraft } from '#db/ledger/aircraft.ts';
import type { Overview } from '#shared/bulk/overview.ts';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { AircraftId } from '#shared/ledger/entry.ts';

export function aircraftReport(
  aircraft: Aircraft,
  overview: Overview,
  { isInvented, isReadOnly }: { readonly isInvented: boolean; readonly isReadOnly: boolean },
): AircraftReport {
  const stated = overview.aircraft;
  return {
    id: aircraft.id as AircraftId,
    name: stated?.name ?? aircraft.name,
    headSeq: overview.seq,
    datum: stated?.datum ?? '',
    massUnit: stated?.massUnit ?? 'kg',
    lengthUnit: stated?.lengthUnit ?? 'm',
    macM: stated?.macM,
    lemacM: stated?.lemacM,
    isInvented,
    ...(isReadOnly ? { isReadOnly } : {}),
  };
}
