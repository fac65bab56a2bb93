/** The differences of weighed pieces, split by what the pieces had in common (rule W10): where the cause of a change may be looked for. */

import { useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { SplitKey } from '#shared/contract/drift.ts';
import { NOT_STATED } from '#shared/contract/drift.ts';
import { say, term } from '#shared/words/say.ts';
import { useSplit } from '../door/queries.ts';
import { Picker } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { TableCard } from '../pieces/table-card.tsx';
import { percent, type Shown } from '../pieces/units.ts';
import { alike } from '../words/choices.ts';

const KEYS: readonly SplitKey[] = [
  ...(['lot', 'batch', 'operator', 'temperature', 'humidity'] as const),
  ...(['scale', 'condition', 'process', 'group'] as const),
];
const CHOICES = alike(KEYS);

export function SplitTable({ aircraft, shown }: { readonly aircraft: AircraftReport; readonly shown: Shown }) {
  const [key, setKey] = useState<SplitKey>('lot');
  const split = useSplit(aircraft.id, key);
  // Nothing is weighed: by whatever it were split, there is nothing.
  const isNone = split.data?.length === 0;
  return (
    <section className="stack-tight" aria-label={say`What the pieces had in common`}>
      {isNone ? null : (
        <div className="split-by no-print">
          <Picker label={say`Split the differences by`} options={CHOICES} value={key} onChange={setKey} />
        </div>
      )}
      {split.isPending ? <Waiting what={say`the differences`} /> : null}
      {split.isLoadingError ? <Failed error={split.error} again={() => void split.refetch()} /> : null}
      {split.data === undefined ? null : (
        <TableCard
          title={say`Differences from the estimates, by ${term(key)}`}
          headings={[
            term(key),
            { figures: say`pieces` },
            { figures: say`sum, ${shown.units.mass}` },
            { figures: say`mean, %` },
            { figures: say`spread, %` },
          ]}
          none={isNone ? say`No piece with an estimate has been weighed yet.` : undefined}
        >
          {split.data.map((row) => (
            <tr key={row.name}>
              <td>{row.name === NOT_STATED ? say`not stated` : row.name}</td>
              <td className="number">{row.pieceCount}</td>
              <td className="number">{shown.mass(row.sumKg, { sign: true })}</td>
              <td className="number">{share(row.meanFraction)}</td>
              <td className="number">{row.sdFraction === undefined ? '–' : share(row.sdFraction).replace('+', '')}</td>
            </tr>
          ))}
        </TableCard>
      )}
      {isNone ? null : (
        <p className="soft small">{say`Estimates without their allowances. The spread is the standard deviation from piece to piece; one piece has none.`}</p>
      )}
    </section>
  );
}

function share(fraction: number | undefined): string {
  return fraction === undefined ? '–' : percent(fraction, { sign: true }).replace('\u00a0%', '');
}
