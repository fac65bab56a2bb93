/** Who did what beside the ledgers (rule N18): the newest first, page by page. */

import { useInfiniteQuery } from '@tanstack/react-query';
import { Link } from 'wouter';
import { type Act, ActsReport } from '#shared/contract/acts.ts';
import { momentWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { ask } from '../door/ask.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { factWords, kindWords } from '../words/acts.ts';
import { rich } from '../words/rich.ts';
import './access.css';

export function ActsSection() {
  const isLead = useMay('lead');
  return (
    <section className="card stack" aria-label={say`Who did what`}>
      <h2>{say`Who did what`}</h2>
      <p>{say`Signing in, accounts, access, aircraft that come and go, backups and checkpoints, of the whole shop. Nobody can change this list or take anything out of it. What was recorded about an aircraft stands in its ledger, with initials.`}</p>
      {isLead ? <Acts /> : <p className="soft">{say`The lead reads this list.`}</p>}
    </section>
  );
}

function Acts() {
  const list = useInfiniteQuery({
    queryKey: ['acts'],
    initialPageParam: '',
    queryFn: ({ pageParam, signal }) =>
      ask(`/api/acts${pageParam === '' ? '' : `?before=${pageParam}`}`, { reply: ActsReport, signal }),
    getNextPageParam: ({ next }) => next,
  });
  const acts = list.data?.pages.flatMap((page) => page.acts) ?? [];
  return (
    <>
      {list.isPending ? <Waiting what={say`the list`} /> : null}
      {list.isLoadingError ? <Failed error={list.error} again={() => void list.refetch()} /> : null}
      <ol className="acts-list" reversed>
        {acts.map((act) => (
          <ActRow key={act.id} act={act} />
        ))}
      </ol>
      {list.hasNextPage ? (
        <div>
          <Button onPress={() => void list.fetchNextPage()} isDisabled={list.isFetchingNextPage}>{say`Older`}</Button>
        </div>
      ) : null}
    </>
  );
}

function ActRow({ act }: { readonly act: Act }) {
  const { aircraft, about, address } = act;
  const who = act.by ?? (act.kind === 'sign-in refused' ? say`somebody` : say`the server`);
  return (
    <li>
      <p className="soft small">{rich`${momentWords(act.doneAt)}, ${address === undefined ? say`at the server itself` : say`from ${address}`}`}</p>
      <p>
        <strong>{who}</strong> {kindWords(act)}
        {about === undefined || about === act.by ? '' : say`: ${about}`}
        {aircraft === undefined ? null : (
          <>
            {', '}
            <Link href={`/aircraft/${aircraft.id}/ledger`}>{aircraft.name}</Link>
          </>
        )}
      </p>
      {factWords(act) === '' ? null : <p className="soft small">{factWords(act)}</p>}
    </li>
  );
}
