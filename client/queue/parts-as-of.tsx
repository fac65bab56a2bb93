/** Says that parts and scales are those of an earlier hour, where the server cannot be reached. */
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { partsPath } from '../door/queries.ts';
import { useKeptSince } from '../offline/kept-answers.ts';
import { PARTS_AS_OF } from '../words/offline.ts';
import { momentOf } from './words-of.ts';

export function PartsAsOf({ aircraft }: { readonly aircraft: AircraftReport }) {
  const since = useKeptSince(partsPath(aircraft.id));
  if (since === undefined) return null;
  return (
    <p className="notice" role="status">
      {PARTS_AS_OF(momentOf(since))}
    </p>
  );
}
