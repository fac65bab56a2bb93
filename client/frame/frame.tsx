/** The bar above every screen, the cautions below it, and the sign-in that comes in front when a session has ended. */
import { type ReactNode, useState } from 'react';
import { Link, useLocation } from 'wouter';
import { z } from 'zod';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { ask, wordsOf } from '../door/ask.ts';
import { useLiveLine } from '../door/live.ts';
import { queries } from '../door/queries.ts';
import { PasswordDialog } from '../people/password-dialog.tsx';
import { Button } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { useMay, usePerson } from './signed-in.ts';
import { THEMES, type Theme, useTheme } from './theme.ts';
import './frame.css';

export function Frame(props: {
  readonly aircraft: readonly AircraftReport[];
  readonly current: AircraftReport | undefined;
  readonly children: ReactNode;
}) {
  const line = useLiveLine();
  const [at, go] = useLocation();
  const isLead = useMay('lead');
  const { current } = props;
  const screen = at.split('/').at(-1);
  return (
    <>
      <a className="skip-link" href="#content">
        To the content
      </a>
      <header className="top-bar no-print">
        <Link href="/" className="name">
          <img src="/mark.svg" alt="" width="28" height="28" />
          Tarebook
        </Link>
        <nav aria-label="Screens">
          {current === undefined ? null : (
            <>
              <ScreenLink href={`/aircraft/${current.id}/ledger`} words="Ledger" isHere={screen === 'ledger'} />
              <ScreenLink href={`/aircraft/${current.id}/weigh`} words="Weigh" isHere={screen === 'weigh'} />
            </>
          )}
          {isLead ? <ScreenLink href="/people" words="People" isHere={at === '/people'} /> : null}
        </nav>
        <div className="far">
          {props.aircraft.length === 0 ? null : (
            <label>
              <span className="hidden-words">Aircraft</span>
              <select
                value={current?.id ?? ''}
                onChange={(event) => go(event.target.value === '+' ? '/new' : `/aircraft/${event.target.value}/ledger`)}
              >
                {current === undefined ? <option value="">Choose an aircraft</option> : null}
                {props.aircraft.map((one) => (
                  <option key={one.id} value={one.id}>
                    {one.name}
                  </option>
                ))}
                {isLead ? <option value="+">New aircraft …</option> : null}
              </select>
            </label>
          )}
          <PersonMenu />
        </div>
      </header>
      {line === 'open' ? null : <LineState />}
      <main id="content">{props.children}</main>
      <footer className="cautions">
        Predicted figures are planning figures, not approved data: no flight on them. The completed aircraft is weighed
        on calibrated scales by the rules of the local authority, and its report is signed by someone licensed or
        authorised to. Follow the shop’s lifting and jacking practice. A light part can be a weak part.
      </footer>
    </>
  );
}

function ScreenLink(props: { readonly href: string; readonly words: string; readonly isHere: boolean }) {
  return (
    <Link href={props.href} aria-current={props.isHere ? 'page' : undefined}>
      {props.words}
    </Link>
  );
}

/** Told only when the line stays broken: a reload or a sign-in breaks it for a moment. */
function LineState() {
  return (
    <p className="line-state no-print" role="status">
      Not connected: what others record appears when the connection is back.
    </p>
  );
}

function PersonMenu() {
  const person = usePerson();
  const [isOpen, setOpen] = useState(false);
  const [isChanging, setChanging] = useState(false);
  const [theme, setTheme] = useTheme();
  const [failure, setFailure] = useState<string>();
  const signOut = async () => {
    try {
      await ask('/api/sign-out', { method: 'POST', body: {}, reply: z.unknown() });
      queries.clear();
      location.assign('/');
    } catch (error) {
      setFailure(wordsOf(error));
    }
  };
  return (
    <>
      <Button
        kind="quiet"
        onPress={() => setOpen(true)}
        aria-label={`${person.initials}, ${person.name}: your account`}
      >
        {person.initials}
      </Button>
      <Dialog title={person.name} isOpen={isOpen} onClose={() => setOpen(false)}>
        <p className="soft">
          Signs in the ledger as {person.initials}; role: {person.role}.
        </p>
        <label className="field">
          <span className="label">Light or dark</span>
          <select value={theme} onChange={(event) => setTheme(event.target.value as Theme)}>
            {THEMES.map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </label>
        {failure === undefined ? null : (
          <p className="notice bad" role="alert">
            {failure}
          </p>
        )}
        <div className="row">
          <Button
            onPress={() => {
              setOpen(false);
              setChanging(true);
            }}
          >
            Change password
          </Button>
          <Button onPress={() => void signOut()}>Sign out</Button>
          <Button kind="main" onPress={() => setOpen(false)}>
            Done
          </Button>
        </div>
      </Dialog>
      <PasswordDialog isOpen={isChanging} onClose={() => setChanging(false)} />
    </>
  );
}
