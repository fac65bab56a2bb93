/** The scales of the shop: what they can tell, how far they are trusted, and which weighings are in doubt because of them. */
import { useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { useScales } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { ScaleCard } from './scale-card.tsx';
import { ScaleForm } from './scale-form.tsx';

export function ScalesSection({ aircraft }: { readonly aircraft: AircraftReport }) {
  const scales = useScales(aircraft.id);
  const isLead = useMay('lead');
  const [isAdding, setAdding] = useState(false);
  const [done, setDone] = useState<string>();
  if (scales.isPending) return <Waiting what="the scales" />;
  if (scales.isLoadingError) return <Failed error={scales.error} again={() => void scales.refetch()} />;
  if (isAdding)
    return (
      <ScaleForm
        aircraft={aircraft}
        onClose={(words) => {
          setAdding(false);
          setDone(words);
        }}
      />
    );
  return (
    <section className="stack" aria-label="Scales">
      {done === undefined ? null : (
        <p className="notice good" role="status">
          {done}
        </p>
      )}
      {scales.data.length === 0 ? (
        <div className="card stack-tight">
          <h2>No scale yet</h2>
          <p>
            A scale that is described says how far its readings can be trusted: what it can tell apart, its calibration,
            and whether it still shows a known mass right. Weighings name it.
          </p>
        </div>
      ) : (
        <div className="scales">
          {scales.data.map((scale) => (
            <ScaleCard key={scale.scale.toLowerCase()} aircraft={aircraft} scale={scale} />
          ))}
        </div>
      )}
      {isLead ? (
        <div>
          <Button kind={scales.data.length === 0 ? 'main' : 'plain'} onPress={() => setAdding(true)}>
            {scales.data.length === 0 ? 'Describe a scale' : 'Describe another scale'}
          </Button>
        </div>
      ) : null}
    </section>
  );
}
