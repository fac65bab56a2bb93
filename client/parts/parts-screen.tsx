/** Every part of the aircraft in one table. */

import { useMemo } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { useGroupTargets, useParts } from '../door/queries.ts';
import { Failed, Waiting } from '../pieces/states.tsx';
import { shownIn } from '../pieces/units.ts';
import { PartsTable } from './parts-table.tsx';

const NO_TARGETS: ReadonlyMap<string, number> = new Map();

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function PartsScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const parts = useParts(aircraft.id);
  const targets = useGroupTargets(aircraft.id);
  const { massUnit, lengthUnit } = aircraft;
  // The aircraft's report is a new one after each entry; the rows need not be made anew for that.
  const shown = useMemo(() => shownIn({ massUnit, lengthUnit }), [massUnit, lengthUnit]);
  if (parts.isPending)
    return (
      <div className="page">
        <h1 className="hidden-words">{say`Parts`}</h1>
        <Waiting what={say`the parts`} />
      </div>
    );
  if (parts.isLoadingError)
    return (
      <div className="page stack">
        <h1>{say`Parts`}</h1>
        <Failed error={parts.error} again={() => void parts.refetch()} />
      </div>
    );
  return <PartsTable aircraft={aircraft} shown={shown} known={parts.data} targets={targets.data ?? NO_TARGETS} />;
}
