/** No aircraft yet: look round with the invented one, begin your own, or bring the list there is. */

import { useMutation } from '@tanstack/react-query';
import { useLocation } from 'wouter';
import { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { ask } from '../door/ask.ts';
import { queries } from '../door/queries.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Empty, Failed } from '../pieces/states.tsx';

export function BeginScreen() {
  const isLead = useMay('lead');
  const [, go] = useLocation();
  const demonstrate = useMutation({
    mutationFn: () => ask('/api/demonstration', { method: 'POST', body: {}, reply: AircraftReport }),
    onSuccess: async (aircraft) => {
      await queries.invalidateQueries({ queryKey: ['aircraft'] });
      go(`/aircraft/${aircraft.id}/ledger`);
    },
  });
  if (!isLead)
    return (
      <div className="narrow-page">
        <Empty isPage title={say`No aircraft is open to you yet`}>
          <p>{say`Ask the lead to give you access to one.`}</p>
        </Empty>
      </div>
    );
  return (
    <div className="narrow-page stack">
      <h1>{say`How do you want to begin?`}</h1>
      <section className="card stack">
        <h2>{say`Look round with the demonstration aircraft`}</h2>
        <p>{say`Dabchick, a two-seat light amphibian: some 150 parts and eighteen months of entries. Aircraft, people and figures are invented. It stands beside your own aircraft and can be left alone later.`}</p>
        <Button kind="main" onPress={() => demonstrate.mutate()} isDisabled={demonstrate.isPending}>
          {demonstrate.isPending ? say`Making it: a few seconds …` : say`Look round with Dabchick`}
        </Button>
        {demonstrate.isError ? <Failed error={demonstrate.error} /> : null}
      </section>
      <section className="card stack">
        <h2>{say`Begin your own aircraft`}</h2>
        <p>{say`Five questions: name, datum, units, targets and the groups of its parts.`}</p>
        <div>
          <Button onPress={() => go('/new')}>{say`Begin my own`}</Button>
        </div>
      </section>
      <section className="card stack">
        <h2>{say`Bring a parts list`}</h2>
        <p>{say`You have one in a spreadsheet: after three questions it is read, shown, and put right with you line by line. CSV, XLSX, or copied cells.`}</p>
        <div>
          <Button onPress={() => go('/new/list')}>{say`Bring a parts list`}</Button>
        </div>
      </section>
    </div>
  );
}
