/** What the aircraft is meant to weigh, revision by revision; the old ones stay. */

import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { useLedger } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { shownIn } from '../pieces/units.ts';
import { Done } from './form-parts.tsx';
import { useGroupRows, useSetUp } from './questions.ts';
import { ReviseForm } from './revise-form.tsx';
import { RevisionTable } from './revision-table.tsx';
import { useOpenForm } from './use-open-form.ts';

export function TargetsSection({ aircraft }: { readonly aircraft: AircraftReport }) {
  const setUp = useSetUp(aircraft.id);
  const groups = useGroupRows(aircraft.id);
  const ledger = useLedger(aircraft.id);
  const isLead = useMay('lead');
  const form = useOpenForm<'revise'>();
  const failed = [setUp, groups, ledger].find((one) => one.isLoadingError);
  if (failed !== undefined) return <Failed error={failed.error} again={() => void failed.refetch()} />;
  if (setUp.data === undefined || groups.data === undefined || ledger.data === undefined)
    return <Waiting what={say`the targets`} />;
  const { revisions } = setUp.data;
  const before = revisions.at(-1);
  if (form.open === 'revise')
    return (
      <ReviseForm
        aircraft={aircraft}
        before={before}
        groups={groups.data}
        headline={ledger.data.headline}
        onClose={form.close}
      />
    );
  return (
    <section className="stack" aria-label={say`Targets`}>
      <Done words={form.done} />
      {revisions.length === 0 ? (
        <div className="card stack-tight">
          <h2>{say`No target yet`}</h2>
          <p>{say`With an empty-weight target every screen shows what is left of it. A CG range, a reserve and targets of groups may come with it or later.`}</p>
        </div>
      ) : (
        <RevisionTable
          aircraft={aircraft}
          onCorrected={isLead ? form.corrected : undefined}
          revisions={revisions}
          shown={shownIn(aircraft)}
        />
      )}
      {isLead ? (
        <div>
          <Button kind={revisions.length === 0 ? 'main' : 'plain'} {...form.opens('revise')}>
            {revisions.length === 0 ? say`Set targets` : say`Revise the targets`}
          </Button>
        </div>
      ) : null}
    </section>
  );
}
