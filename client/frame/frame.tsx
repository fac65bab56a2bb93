/** The bar above every screen, and the cautions below it. */

import { type ReactNode, useEffect, useRef, useState } from 'react';
import { Link, useLocation } from 'wouter';
import { z } from 'zod';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { ask, wordsOf } from '../door/ask.ts';
import { useLiveLine } from '../door/live.ts';
import { queries, useSession } from '../door/queries.ts';
import { GUIDES } from '../guide/which.ts';
import { forgetAnswers } from '../offline/kept-answers.ts';
import { NewerAppNotice } from '../offline/newer-app-notice.tsx';
import { useOpenCount } from '../open/questions.ts';
import { PasswordDialog } from '../people/password-dialog.tsx';
import { PinDialog } from '../people/pin-dialog.tsx';
import { Button, Choice } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { QueueLine } from '../queue/queue-line.tsx';
import { useQueue, useSending } from '../queue/use-queue.ts';
import { SIGN_OUT } from '../words/offline.ts';
import { rich } from '../words/rich.ts';
import { TABLET_WORDS } from '../words/tablet.ts';
import { Cautions } from './cautions.tsx';
import { KeysButton } from './keys-dialog.tsx';
import { useSharedTablet } from './shared-tablet.ts';
import { useMay, usePerson } from './signed-in.ts';
import { THEMES, useTheme } from './theme.ts';
import './frame.css';

/** In the order of use: the build from day to day, then what is decided on it. Bringing a list starts at Parts, accounts at Set-up. */
const SCREENS = [
  { path: 'ledger', words: say`Ledger` },
  { path: 'open', words: say`Open` },
  { path: 'parts', words: say`Parts` },
  { path: 'weigh', words: say`Weigh` },
  { path: 'processes', words: say`Processes` },
  { path: 'what-if', words: say`What if` },
  { path: 'loading', words: say`Loading` },
  { path: 'aircraft-weighing', words: say`Aircraft weighing` },
  { path: 'brief', words: say`Brief` },
  { path: 'set-up', words: say`Set-up` },
] as const;

const THEME_NAMES = { 'as device': say`as device`, light: say`light`, dark: say`dark` } as const;
const THEME_WORDS = THEMES.map((value) => ({ value, words: THEME_NAMES[value] }));

export function Frame(props: {
  readonly aircraft: readonly AircraftReport[];
  readonly current: AircraftReport | undefined;
  readonly children: ReactNode;
}) {
  const line = useLiveLine();
  const [at, go] = useLocation();
  const personId = usePerson().id;
  useSending(personId, line);
  const isLead = useMay('lead');
  const { current } = props;
  const screen = at.split('/')[3];
  const openCount = useOpenCount(current?.id);
  const nav = useRef<HTMLElement>(null);
  const isCounted = openCount !== undefined;
  // Where the row of screens scrolls, the one that is open is in sight, whole; the count beside one moves the others when it comes.
  useEffect(() => {
    if (screen !== undefined || isCounted) showWhole(nav.current?.querySelector('[aria-current="page"]'));
  }, [screen, isCounted]);
  return (
    <>
      <a className="skip-link" href="#content">{say`To the content`}</a>
      <header className="top-bar no-print">
        <Link href="/" className="name">
          <img src="/mark.svg" alt="" width="28" height="28" />
          <span className="name-word">{say`Tarebook`}</span>
        </Link>
        <nav aria-label={say`Screens`} ref={nav}>
          {current === undefined
            ? null
            : SCREENS.map(({ path, words }) => (
                <ScreenLink
                  key={path}
                  href={`/aircraft/${current.id}/${path}`}
                  words={words}
                  count={path === 'open' ? openCount : undefined}
                  isHere={screen === path}
                />
              ))}
        </nav>
        <div className="far">
          {props.aircraft.length === 0 ? null : (
            <label>
              <span className="hidden-words">{say`Aircraft`}</span>
              <select
                value={current?.id ?? ''}
                onChange={(event) => go(event.target.value === '+' ? '/new' : `/aircraft/${event.target.value}/ledger`)}
              >
                {current === undefined ? <option value="">{say`Choose an aircraft`}</option> : null}
                {props.aircraft.map((one) => (
                  <option key={one.id} value={one.id}>
                    {one.name}
                  </option>
                ))}
                {isLead ? <option value="+">{say`New aircraft …`}</option> : null}
              </select>
            </label>
          )}
          <SwitchPerson />
          <PersonMenu />
        </div>
      </header>
      {line === 'open' ? null : <LineState />}
      <NewerAppNotice line={line} />
      <QueueLine personId={personId} isOnWeigh={screen === 'weigh'} />
      <main id="content">{props.children}</main>
      <Cautions>
        <KeysButton />
        <GuideLinks />
      </Cautions>
    </>
  );
}

function GuideLinks() {
  return GUIDES.map(({ of, name }) => (
    <Link key={of} className="button quiet slim" href={`/guide/${of}`}>
      {name}
    </Link>
  ));
}

function showWhole(link: Element | null | undefined): void {
  link?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
}

function ScreenLink(props: {
  readonly href: string;
  readonly words: string;
  /** How much waits there; nothing is shown where that is nothing. */
  readonly count?: number | undefined;
  readonly isHere: boolean;
}) {
  return (
    <Link
      onFocus={(event) => showWhole(event.currentTarget)}
      href={props.href}
      aria-current={props.isHere ? 'page' : undefined}
    >
      {props.words}
      {props.count === undefined || props.count === 0 ? null : <span className="screen-count">{props.count}</span>}
    </Link>
  );
}

/** A reload or a sign-in breaks the line for a moment; that is no news. */
const SHORT_BREAK_MS = 3000;

function LineState() {
  const [lasts, setLasts] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setLasts(true), SHORT_BREAK_MS);
    return () => clearTimeout(timer);
  }, []);
  if (!lasts) return null;
  return (
    <p
      className="line-state no-print"
      role="status"
    >{say`Not connected: what others record appears when the connection is back.`}</p>
  );
}

/** One touch, and the next person chooses their name. */
function SwitchPerson() {
  const shared = useSharedTablet();
  return shared === undefined ? null : <Button onPress={shared.lock}>{TABLET_WORDS.switchPerson}</Button>;
}

function PersonMenu() {
  const person = usePerson();
  const isLead = useMay('lead');
  const [isOpen, setOpen] = useState(false);
  const [isChanging, setChanging] = useState(false);
  const [theme, setTheme] = useTheme();
  const [isPinning, setPinning] = useState(false);
  const shared = useSharedTablet();
  const session = useSession().data;
  const hasPin = session?.state === 'signed in' && session.hasPin;
  const [failure, setFailure] = useState<string>();
  const [isLeaving, setLeaving] = useState(false);
  const unsent = useQueue().filter((one) => one.person.id === person.id).length;
  const signOut = async () => {
    try {
      await ask('/api/sign-out', { method: 'POST', body: {}, reply: z.unknown() });
      await forgetAnswers();
      queries.clear();
      location.assign('/');
    } catch (error) {
      setLeaving(false);
      setFailure(wordsOf(error));
    }
  };
  return (
    <>
      <Button
        kind="quiet"
        onPress={() => setOpen(true)}
        aria-label={say`${person.initials}, ${person.name}: your account`}
      >
        {person.initials}
      </Button>
      <Dialog title={person.name} isOpen={isOpen} onClose={() => setOpen(false)}>
        <p className="soft">{rich`Your entries carry the initials ${person.initials}. Your role is ${person.role}.`}</p>
        {shared === undefined ? null : (
          <p className="notice">
            {shared.byPin ? `${TABLET_WORDS.inByPin(shared.name)} ` : ''}
            {TABLET_WORDS.locks(shared.idleMinutes)}
          </p>
        )}
        <Choice label={say`Light or dark`} options={THEME_WORDS} value={theme} onChange={setTheme} />
        {failure === undefined ? null : (
          <p className="notice bad" role="alert">
            {failure}
          </p>
        )}
        <div className="acts">
          {isLead ? (
            <Link href="/people" className="button plain" onClick={() => setOpen(false)}>{say`People`}</Link>
          ) : null}
          {shared?.byPin === true ? null : (
            <>
              <Button
                onPress={() => {
                  setOpen(false);
                  setChanging(true);
                }}
              >{say`Change password`}</Button>
              <Button
                onPress={() => {
                  setOpen(false);
                  setPinning(true);
                }}
              >
                {hasPin ? say`Change PIN` : say`Set a PIN`}
              </Button>
            </>
          )}
          <Button onPress={() => (unsent === 0 ? void signOut() : setLeaving(true))}>{say`Sign out`}</Button>
          <Button kind="main" onPress={() => setOpen(false)}>{say`Done`}</Button>
        </div>
      </Dialog>
      <Dialog title={SIGN_OUT.title} isOpen={isLeaving} onClose={() => setLeaving(false)}>
        <p>{SIGN_OUT.words(unsent)}</p>
        <div className="acts">
          <Button onPress={() => void signOut()}>{SIGN_OUT.yes}</Button>
          <Button kind="main" onPress={() => setLeaving(false)}>
            {SIGN_OUT.no}
          </Button>
        </div>
      </Dialog>
      <PasswordDialog isOpen={isChanging} onClose={() => setChanging(false)} />
      <PinDialog hasPin={hasPin} isOpen={isPinning} onClose={() => setPinning(false)} />
    </>
  );
}
