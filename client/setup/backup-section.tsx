/** Backups of the whole store (rules Z1, Z5, Z6): made in one touch and saved on this device, and those that the server keeps. */

import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { BackupReport, BackupState, type BackupWhy, type KeptBackup } from '#shared/contract/backup.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { momentWords } from '#shared/words/day.ts';
import { counted, say } from '#shared/words/say.ts';
import { ask } from '../door/ask.ts';
import { usePerson } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { saveFrom } from '../pieces/save-file.ts';
import { Failed, Working } from '../pieces/states.tsx';
import { rich } from '../words/rich.ts';

export function BackupSection() {
  const { role, aircraft } = usePerson();
  const isOpen = role === 'lead' && aircraft === 'all';
  return (
    <section className="card stack" aria-label={say`Back up`}>
      <h2>{say`Back up all of it`}</h2>
      <p>{say`One file with every aircraft and everything beside it: entries, proposals, briefs, photos, accounts with their rights and hashed passwords. Keep it on another disk, where only those can read it who may. It is restored by the command, into an empty store: tarebook restore.`}</p>
      {isOpen ? <Backups /> : <p className="soft">{say`A lead who sees all aircraft does this.`}</p>}
    </section>
  );
}

const KEY = ['backups'];

function Backups() {
  const queries = useQueryClient();
  const state = useQuery({ queryKey: KEY, queryFn: () => ask('/api/backups', { reply: BackupState }) });
  const make = useMutation({
    mutationFn: () => ask('/api/backups', { method: 'POST', body: {}, reply: BackupReport }),
    onSuccess: ({ name }) => {
      saveFrom(addressOf(name), name);
      return queries.invalidateQueries({ queryKey: KEY });
    },
  });
  return (
    <>
      <div>
        <Button kind="main" onPress={() => make.mutate()} isDisabled={make.isPending}>{say`Back up and save`}</Button>
      </div>
      {make.isPending ? <Working words={say`Backing up; others can go on`} /> : null}
      <div aria-live="polite" className="stack">
        {make.isError ? <Failed error={make.error} again={() => make.mutate()} /> : null}
        {make.data === undefined ? null : <Made report={make.data} />}
      </div>
      {state.isError ? <Failed error={state.error} again={() => void state.refetch()} /> : null}
      {state.data === undefined ? null : <Kept state={state.data} />}
    </>
  );
}

function Made({ report }: { readonly report: BackupReport }) {
  const entries = report.aircraft.reduce((sum, { entryCount }) => sum + entryCount, 0);
  return (
    <div className="notice good stack-tight">
      <p>{rich`● Backed up: ${counted(entries, 'entry', 'entries')} of ${report.aircraft.length} aircraft, ${megabytes(report.bytes)}. This browser saves it.`}</p>
      <p>{say`SHA-256 of the file:`}</p>
      <code className="hash">{report.sha256}</code>
    </div>
  );
}

function Kept({ state }: { readonly state: BackupState }) {
  const { failure, everyHours, keep, backups, folder } = state;
  return (
    <>
      {failure === undefined ? null : (
        <p className="notice bad" role="alert">
          <strong>{say`▲ The scheduled backup was not made.`}</strong> {failure.words} {failure.remedy}
        </p>
      )}
      <p>
        {everyHours === undefined
          ? say`The server makes none by itself; it does when it is started with --backup-hours.`
          : say`The server makes one by itself every ${counted(everyHours, 'hour', 'hours')} and keeps the newest ${keep}.`}
      </p>
      {backups.length === 0 ? (
        <p className="soft">{say`There is none yet.`}</p>
      ) : (
        <table>
          <caption>{rich`Kept on the server, in the folder ${folder}`}</caption>
          <thead>
            <tr>
              <th scope="col">{say`Made`}</th>
              <th scope="col">{say`Why`}</th>
              <th scope="col" className="number">{say`Size`}</th>
              <th scope="col">{say`File`}</th>
            </tr>
          </thead>
          <tbody>{backups.slice(0, MOST_SHOWN).map(rowOf)}</tbody>
        </table>
      )}
    </>
  );
}

const MOST_SHOWN = 20;

function rowOf({ name, why, madeAt, bytes }: KeptBackup) {
  return (
    <tr key={name}>
      <td>{momentWords(madeAt)}</td>
      <td>{WHYS[why]}</td>
      <td className="number">{megabytes(bytes)}</td>
      <td>
        <a href={addressOf(name)} download={name}>{say`Save on this device`}</a>
      </td>
    </tr>
  );
}

const WHYS: Readonly<Record<BackupWhy, string>> = {
  asked: say`somebody asked`,
  scheduled: say`schedule`,
  'before upgrade': say`before an upgrade`,
};

function megabytes(bytes: number): string {
  return `${showFixed(bytes / 1_048_576, 1)} MB`;
}

function addressOf(name: string): string {
  return `/api/backups/${encodeURIComponent(name)}`;
}

/** Straight to the disk: a large one would not fit into the memory of a tablet. */
