/** A whole aircraft out as a ZIP, and one in (rules X1, X3). */

import { useMutation, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { FileTrigger } from 'react-aria-components';
import { Link } from 'wouter';
import { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { ask, askFile, ProblemError, wordsOf } from '../door/ask.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { fileName, saveFile } from '../pieces/save-file.ts';
import { Working } from '../pieces/states.tsx';
import { BRING_IN, CARRY_OUT, NAME_HINT } from '../words/carry.ts';
import { rich } from '../words/rich.ts';

export function CarrySection({ aircraft }: { readonly aircraft: AircraftReport }) {
  const isLead = useMay('lead');
  return (
    <div className="stack">
      <section className="card stack" aria-label={say`Carry out`}>
        <h2>{say`Carry this aircraft out`}</h2>
        <p>{CARRY_OUT}</p>
        {isLead ? <CarryOut aircraft={aircraft} /> : <p className="soft">{say`The lead carries it out.`}</p>}
      </section>
      {isLead ? (
        <section className="card stack" aria-label={say`Bring in`}>
          <h2>{say`Bring an aircraft in`}</h2>
          <p>{BRING_IN}</p>
          <BringIn />
        </section>
      ) : null}
    </div>
  );
}

function CarryOut({ aircraft }: { readonly aircraft: AircraftReport }) {
  const out = useMutation({
    mutationFn: () => askFile(`/api/aircraft/${aircraft.id}/archive`),
    onSuccess: (zip) => saveFile(`${fileName(aircraft.name)}.zip`, zip),
  });
  return (
    <>
      <div>
        <Button kind="main" onPress={() => out.mutate()} isDisabled={out.isPending}>{say`Carry out as ZIP`}</Button>
      </div>
      {out.isPending ? <Working words={say`Packing the aircraft`} /> : null}
      {out.isError ? (
        <p className="notice bad" role="alert">
          {wordsOf(out.error)}
        </p>
      ) : null}
    </>
  );
}

function BringIn() {
  const [name, setName] = useState('');
  const queries = useQueryClient();
  const bring = useMutation({
    mutationFn: (zip: File) =>
      ask(`/api/archives${name.trim() === '' ? '' : `?name=${encodeURIComponent(name.trim())}`}`, {
        method: 'POST',
        body: new Blob([zip], { type: 'application/zip' }),
        reply: AircraftReport,
      }),
    onSuccess: () => queries.invalidateQueries(),
  });
  return (
    <>
      <div className="short-form">
        <Field label={say`Another name for it`} hint={NAME_HINT} value={name} onChange={setName} />
      </div>
      <div>
        <FileTrigger
          acceptedFileTypes={['.zip', 'application/zip']}
          onSelect={(files) => {
            const zip = files?.item(0);
            if (zip != null) bring.mutate(zip);
          }}
        >
          <Button isDisabled={bring.isPending}>{say`Choose the ZIP file`}</Button>
        </FileTrigger>
      </div>
      {bring.isPending ? <Working words={say`Reading, checking and recording it`} /> : null}
      <div aria-live="polite">
        {bring.isError ? <Refused error={bring.error} /> : null}
        {bring.data === undefined ? null : (
          <p className="notice good">
            {rich`● ${bring.data.name} is here, with ${bring.data.headSeq} entries as they were recorded. ${<Link href={`/aircraft/${bring.data.id}`}>{say`Open it`}</Link>}`}
          </p>
        )}
      </div>
    </>
  );
}

const MOST_TOLD = 20;

/** Each problem with its file, row and column. */
function Refused({ error }: { readonly error: Error }) {
  const problems = error instanceof ProblemError ? (error.report.problems ?? []) : [];
  if (problems.length === 0) return <p className="notice bad">{wordsOf(error)}</p>;
  const places = problems.map(({ pointer }) => placeOf(pointer));
  return (
    <div className="notice bad stack-tight">
      <p>
        <strong>{say`▲ Nothing was brought in.`}</strong> {problems[0]?.remedy}
      </p>
      <ul>
        {problems.slice(0, MOST_TOLD).map(({ pointer, words }, at) => (
          <li key={`${pointer} ${words}`}>
            {places[at] === '' ? '' : <strong>{places[at]}: </strong>}
            {words}
          </li>
        ))}
      </ul>
      {problems.length > MOST_TOLD ? <p>{rich`And ${problems.length - MOST_TOLD} more.`}</p> : null}
    </div>
  );
}

/** `/weighing.csv/3/18` is the file, the line and the column. */
function placeOf(pointer: string): string {
  const [file = '', line, column] = pointer
    .slice(1)
    .replaceAll('~1', '/')
    .split(/\/(?=\d+(?:\/|$))/);
  return [file, line === undefined ? '' : say`line ${line}`, column === undefined ? '' : say`column ${column}`]
    .filter((part) => part !== '')
    .join(', ');
}
