/** Where the mass is: along the fuselage, from the side, and how the CG travelled (rule R5). */

import { keepPreviousData, useQuery } from '@tanstack/react-query';
import { useMemo } from 'react';
import { Link } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { WhereReport } from '#shared/contract/where.ts';
import { say } from '#shared/words/say.ts';
import { ask } from '../door/ask.ts';
import { useHistory } from '../door/queries.ts';
import { CgChart } from '../ledger/cg-chart.tsx';
import { Empty, Failed, Waiting } from '../pieces/states.tsx';
import { shownIn } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { AlongPicture } from './along-picture.tsx';
import { SidePicture } from './side-picture.tsx';
import '../ledger/ledger.css';
import './where.css';

function useWhere(aircraftId: string) {
  return useQuery({
    queryKey: ['aircraft', aircraftId, 'where'],
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}/where`, { reply: WhereReport, signal }),
    placeholderData: keepPreviousData,
  });
}

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function WhereScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const where = useWhere(aircraft.id);
  const history = useHistory(aircraft.id);
  const { massUnit, lengthUnit } = aircraft;
  const shown = useMemo(() => shownIn({ massUnit, lengthUnit }), [massUnit, lengthUnit]);
  if (where.isPending)
    return (
      <div className="page">
        <h1 className="hidden-words">{say`Where the mass is`}</h1>
        <Waiting what={say`where the mass is`} />
      </div>
    );
  if (where.isLoadingError)
    return (
      <div className="page stack">
        <h1>{say`Where the mass is`}</h1>
        <Failed error={where.error} again={() => void where.refetch()} />
      </div>
    );
  if (where.data.masses.length === 0)
    return (
      <div className="page stack">
        <h1>{say`Where the mass is`}</h1>
        <Empty title={say`There is no mass to show yet`}>
          <p>{rich`It is seen here as soon as a part has an estimate or has been weighed. ${<Link href={`/aircraft/${aircraft.id}/parts`}>{say`Parts`}</Link>} are added first.`}</p>
        </Empty>
      </div>
    );
  const days = history.data?.days ?? [];
  return (
    <div className="page stack where-page">
      <div className="stack-tight">
        <h1>{say`Where the mass is`}</h1>
        <p className="soft">{rich`Stations are from the datum: ${aircraft.datum.replace(/\.$/, '')}. Masses are predicted ones, with the allowance of what is not weighed.`}</p>
      </div>
      <AlongPicture report={where.data} shown={shown} />
      <SidePicture report={where.data} shown={shown} aircraftId={aircraft.id} />
      {days.length < 2 ? null : <CgChart days={days} shown={shown} />}
    </div>
  );
}
