/** The scales of the shop: what they can tell, how far they are trusted, and which weighings are in doubt because of them. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { useScales } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { Done } from './form-parts.tsx';
import { ScaleCard } from './scale-card.tsx';
import { ScaleForm } from './scale-form.tsx';
import { useOpenForm } from './use-open-form.ts';

export function ScalesSection({ aircraft }: { readonly aircraft: AircraftReport }) {
  const scales = useScales(aircraft.id);
  const isLead = useMay('lead');
  const form = useOpenForm<'scale'>();
  if (scales.isPending) return <Waiting what={say`the scales`} />;
  if (scales.isLoadingError) return <Failed error={scales.error} again={() => void scales.refetch()} />;
  if (form.open === 'scale') return <ScaleForm aircraft={aircraft} onClose={form.close} />;
  return (
    <section className="stack" aria-label={say`Scales`}>
      <Done words={form.done} />
      {scales.data.length === 0 ? (
        <div className="card stack-tight">
          <h2>{say`No scale yet`}</h2>
          <p>{say`A scale that is described says how far its readings can be trusted: what it can tell apart, its calibration, and whether it still shows a known mass right. Weighings name it.`}</p>
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
          <Button kind={scales.data.length === 0 ? 'main' : 'plain'} {...form.opens('scale')}>
            {scales.data.length === 0 ? say`Describe a scale` : say`Describe another scale`}
          </Button>
        </div>
      ) : null}
    </section>
  );
}
