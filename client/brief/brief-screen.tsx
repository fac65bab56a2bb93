/** The briefs of an aircraft: the next one to be made, from the last issued one to now where nobody says otherwise, and those there are. */

import { useState } from 'react';
import { Link, useLocation } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { BriefLine, BriefListReport } from '#shared/contract/brief.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { newId, ProblemError, wordsOf } from '../door/ask.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { withDays } from '../pieces/day.tsx';
import { Empty, Failed, Waiting, Working } from '../pieces/states.tsx';
import { tied } from '../pieces/units.ts';
import { periodWords } from '../words/brief.ts';
import { rich } from '../words/rich.ts';
import { useBriefs, useMakeBrief } from './questions.ts';
import './brief.css';

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function BriefScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const briefs = useBriefs(aircraft.id);
  const mayMake = useMay('engineer');
  if (briefs.data === undefined)
    return (
      <div className="page stack">
        <h1>{say`Brief`}</h1>
        {briefs.isLoadingError ? (
          <Failed error={briefs.error} again={() => void briefs.refetch()} />
        ) : (
          <Waiting what={say`the briefs`} />
        )}
      </div>
    );
  const list = briefs.data;
  if (list.seq === 0)
    return (
      <div className="page stack">
        <Empty isPage title={say`No brief yet`}>
          <p>{say`A brief says where the aircraft stands. There is nothing in the ledger yet that it could say.`}</p>
        </Empty>
      </div>
    );
  return (
    <div className="page stack">
      <div>
        <h1>{say`Brief`}</h1>
        <p className="soft">{say`One page for the team: where the aircraft stands, what grew, why, and what is done about it. An issued brief stays as it is for ever.`}</p>
      </div>
      {mayMake ? <Make aircraft={aircraft} list={list} /> : null}
      {list.briefs.length === 0 ? (
        <p className="soft">{rich`There is no brief yet.${mayMake ? '' : say` A lead or an engineer makes one.`}`}</p>
      ) : (
        <ol className="brief-list" aria-label={say`Briefs, newest first`}>
          {list.briefs.map((line) => (
            <Line key={line.briefId} aircraftId={aircraft.id} line={line} />
          ))}
        </ol>
      )}
    </div>
  );
}

function Make({ aircraft, list }: { readonly aircraft: AircraftReport; readonly list: BriefListReport }) {
  const [, go] = useLocation();
  const [typed, setTyped] = useState<{ readonly entry?: string; readonly since?: string }>({});
  const [id, setId] = useState(newId);
  const make = useMakeBrief(aircraft.id, (briefId) => go(`/aircraft/${aircraft.id}/brief/${briefId}`));
  const entry = typed.entry ?? String(list.next.toSeq);
  const since = typed.since ?? String(list.next.fromSeq);
  const problem = problemOf({ entry, since, last: list.seq });
  const set = (changes: typeof typed) => {
    setTyped({ ...typed, ...changes });
    // Another brief than the one that was refused.
    setId(newId());
    make.reset();
  };
  const refused = (pointer: string) => (make.error instanceof ProblemError ? make.error.of(pointer) : undefined);
  const isOfAField = refused('/entry') !== undefined || refused('/since') !== undefined;
  return (
    <form
      className="card stack"
      aria-label={say`The next brief`}
      onSubmit={(event) => {
        event.preventDefault();
        if (problem.entry === undefined && problem.since === undefined && !make.isPending)
          make.mutate({ id, entry: Number(entry), since: Number(since) });
      }}
    >
      <h2>{say`The next brief`}</h2>
      <div className="brief-make">
        <Field
          label={say`As known at entry`}
          value={entry}
          onChange={(value) => set({ entry: value })}
          hint={say`The last entry is ${list.seq}.`}
          problem={problem.entry ?? refused('/entry')}
        />
        <Field
          label={say`What came since entry`}
          value={since}
          onChange={(value) => set({ since: value })}
          hint={
            list.next.fromSeq === 0
              ? say`0 is the beginning.`
              : say`The last issued brief ends at ${list.next.fromSeq}.`
          }
          problem={problem.since ?? refused('/since')}
        />
      </div>
      <div className="row">
        <Button kind="main" type="submit">{say`Make the brief`}</Button>
        <span className="soft small">{say`It is a draft until it is issued.`}</span>
        {make.isPending ? <Working words={say`Making the brief`} /> : null}
      </div>
      {make.isError && !isOfAField ? (
        <p className="notice bad" role="alert">
          {wordsOf(make.error)}
        </p>
      ) : null}
    </form>
  );
}

function problemOf({ entry, since, last }: { readonly entry: string; readonly since: string; readonly last: number }) {
  const isWhole = (text: string) => /^\d{1,9}$/.test(text.trim());
  const first = isWhole(since) ? undefined : say`Give the number of an entry; 0 is the beginning.`;
  if (!isWhole(entry) || Number(entry) < 1 || Number(entry) > last)
    return { entry: say`Give the number of an entry, 1 to ${last}.`, since: first };
  const isReversed = first === undefined && Number(since) > Number(entry);
  return { entry: undefined, since: isReversed ? say`Give an entry that is not after ${Number(entry)}.` : first };
}

function Line({ aircraftId, line }: { readonly aircraftId: string; readonly line: BriefLine }) {
  const { issued, madeAt, by } = line;
  return (
    <li className="card stack-tight">
      <h2>
        <Link href={`/aircraft/${aircraftId}/brief/${line.briefId}`}>
          {issued === undefined ? say`Draft` : say`Brief ${issued.number}`}, {periodWords(line)}
        </Link>
      </h2>
      <p>{tied(line.lead)}</p>
      <p className="soft small">
        {withDays(
          say`made by ${by} on ${dayWords(madeAt)}${issued === undefined ? say`, not issued yet` : say`, issued by ${issued.by} on ${dayWords(issued.at)}`}`,
        )}
      </p>
    </li>
  );
}
