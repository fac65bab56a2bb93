/** What would make the forecast surer, the surest first (rule F5), each a press from the scale or from the part. */

import { useState } from 'react';
import { Link } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ForecastReport, WhatNextReport } from '#shared/contract/forecast.ts';
import { LOCALE, say, term } from '#shared/words/say.ts';
import { useWhatNext } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { TableCard } from '../pieces/table-card.tsx';
import type { Shown } from '../pieces/units.ts';

const FIRST_SHOWN = 8;

export function WeighNext(props: {
  readonly aircraft: AircraftReport;
  readonly forecast: ForecastReport | undefined;
  readonly shown: Shown;
}) {
  const { aircraft, forecast, shown } = props;
  const next = useWhatNext(aircraft.id);
  const mayWeigh = useMay('crew');
  const [isOpen, setOpen] = useState(false);
  if (next.isPending) return <Waiting what={say`what to weigh next`} />;
  if (next.isLoadingError) return <Failed error={next.error} again={() => void next.refetch()} />;
  const rows = isOpen ? next.data : next.data.slice(0, FIRST_SHOWN);
  return (
    <section className="stack-tight" aria-label={say`What to weigh next`}>
      <TableCard
        title={say`Weigh or work out next`}
        headings={[
          say`part`,
          say`process`,
          { figures: say`pieces` },
          { figures: say`weighing takes off, %` },
          { figures: say`leaves ±, ${shown.units.mass}` },
          { figures: say`working out takes off, %` },
          { figures: say`of the CG’s %` },
          say`do`,
        ]}
        none={rows.length === 0 ? say`Nothing is open that would make the forecast surer.` : undefined}
      >
        {rows.map((row) => (
          <tr key={row.partId}>
            <td>
              <Link href={`/aircraft/${aircraft.id}/parts/${row.partId}`}>{row.part}</Link> {row.name}
            </td>
            <td>{term(row.process)}</td>
            <td className="number">{row.openPieces === 0 ? '–' : row.openPieces}</td>
            <td className="number">{shareOf(row.massShare)}</td>
            <td className="number">{leftOf(row, forecast, shown)}</td>
            <td className="number">{shareOf(row.workedOut?.massShare)}</td>
            <td className="number">{shareOf(row.cgShare)}</td>
            <td>
              {mayWeigh ? (
                <Link
                  className="button slim"
                  href={`/aircraft/${aircraft.id}/weigh?part=${encodeURIComponent(row.part)}`}
                  aria-label={say`Weigh ${row.part}`}
                >
                  {row.act === 'weigh' ? say`Weigh` : say`Weigh when finished`}
                </Link>
              ) : (
                row.act
              )}
            </td>
          </tr>
        ))}
      </TableCard>
      {next.data.length > FIRST_SHOWN ? (
        <div>
          <Button slim onPress={() => setOpen(!isOpen)}>
            {isOpen ? say`The first few only` : say`All ${next.data.length.toLocaleString(LOCALE)}`}
          </Button>
        </div>
      ) : null}
      {rows.length === 0 ? null : (
        <p className="soft small">{say`Shares are of the square of the forecast’s ±, each part taken alone on an exact scale. Worked out means an estimate that is good to 3 %.`}</p>
      )}
    </section>
  );
}

function shareOf(share: number | undefined): string {
  if (share === undefined) return '–';
  if (share < 0.005) return say`under 1`;
  return String(Math.round(share * 100));
}

/** The uncertainty of the forecast that would be left. */
function leftOf({ massShare }: WhatNextReport, forecast: ForecastReport | undefined, { massWithStd }: Shown): string {
  if (forecast === undefined) return '–';
  const leftKg = forecast.forecastStdKg * Math.sqrt(Math.max(0, 1 - massShare));
  return massWithStd(leftKg, forecast.forecastStdKg / 10).value;
}
