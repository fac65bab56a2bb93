/** What pieces weighed twice have taught of flash and of what goes on later, and what that makes of parts still to come (rule W9). */

import { Link } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PairReport } from '#shared/contract/drift.ts';
import { say, term } from '#shared/words/say.ts';
import { usePairs, useParts } from '../door/queries.ts';
import { Failed, Waiting } from '../pieces/states.tsx';
import { TableCard } from '../pieces/table-card.tsx';
import { percent, type Shown } from '../pieces/units.ts';

const WHAT = { flash: say`flash, trimmed off`, later: say`what goes on later` } as const;

export function Lessons({ aircraft, shown }: { readonly aircraft: AircraftReport; readonly shown: Shown }) {
  const pairs = usePairs(aircraft.id);
  const parts = useParts(aircraft.id);
  if (pairs.isPending) return <Waiting what={say`what was weighed twice`} />;
  if (pairs.isLoadingError) return <Failed error={pairs.error} again={() => void pairs.refetch()} />;
  const idOf = (number: string) => parts.data?.parts.find((part) => part.number === number)?.partId;
  const offers = pairs.data.flatMap(({ process, what, offers: each }) =>
    each.map((one) => ({ process, what, ...one })),
  );
  const none = say`No piece has been weighed in two conditions yet: before and after trimming, or before and after finishing.`;
  return (
    <>
      <TableCard
        title={say`What pieces weighed twice have shown`}
        headings={[
          say`process`,
          say`of`,
          { figures: say`pairs` },
          { figures: say`found, %` },
          { figures: say`estimated, %` },
        ]}
        none={pairs.data.length === 0 ? none : undefined}
      >
        {pairs.data.map((pair) => (
          <tr key={`${pair.process} ${pair.what}`}>
            <td>{term(pair.process)}</td>
            <td>{WHAT[pair.what]}</td>
            <td className="number">{pair.pairCount}</td>
            <td className="number">{foundWords(pair)}</td>
            <td className="number">{bare(pair.estimatedFraction)}</td>
          </tr>
        ))}
      </TableCard>
      {offers.length === 0 ? null : (
        <TableCard
          title={say`Estimates that this would change`}
          headings={[
            say`part`,
            say`of`,
            { figures: say`estimated, ${shown.units.mass}` },
            { figures: say`by what was found, ${shown.units.mass}` },
          ]}
        >
          {offers.map((offer) => (
            <tr key={`${offer.number} ${offer.what}`}>
              <td>
                <PartLink aircraftId={aircraft.id} number={offer.number} partId={idOf(offer.number)} />
              </td>
              <td>{WHAT[offer.what]}</td>
              <td className="number">{shown.mass(offer.estimatedKg)}</td>
              <td className="number">{shown.mass(offer.offeredKg)}</td>
            </tr>
          ))}
        </TableCard>
      )}
    </>
  );
}

function PartLink(props: {
  readonly aircraftId: string;
  readonly number: string;
  readonly partId: string | undefined;
}) {
  if (props.partId === undefined) return <>{props.number}</>;
  return <Link href={`/aircraft/${props.aircraftId}/parts/${props.partId}`}>{props.number}</Link>;
}

function foundWords({ meanFraction, sdFraction }: PairReport): string {
  return sdFraction === undefined ? bare(meanFraction) : `${bare(meanFraction)}\u00a0±\u00a0${bare(sdFraction)}`;
}

function bare(fraction: number): string {
  return percent(fraction).replace('\u00a0%', '');
}
