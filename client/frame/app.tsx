/** Which screen: by who is signed in, and by the address. */

import { lazy, Suspense, useEffect, useState } from 'react';
import { Redirect, Route, Switch, useLocation, useRoute } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { type Person, SessionReport } from '#shared/contract/people.ts';
import { say } from '#shared/words/say.ts';
import { ask, onSignedOut } from '../door/ask.ts';
import { SIGNED_IN } from '../door/live.ts';
import { queries, useAircraftList, useSession } from '../door/queries.ts';
import { FirstAccount } from '../first-run/first-account.tsx';
import { GUIDES } from '../guide/which.ts';
import { forgetSession, keepAnswersOf } from '../offline/kept-answers.ts';
import { Dialog } from '../pieces/dialog.tsx';
import { Empty, Failed, Waiting } from '../pieces/states.tsx';
import { QueueLine } from '../queue/queue-line.tsx';
import { draftsOf } from '../record/draft.ts';
import { WeighScreen } from '../weigh/weigh-screen.tsx';
import { rich } from '../words/rich.ts';
import { TABLET_WORDS } from '../words/tablet.ts';
import { isPageOf } from './begins-at.ts';
import { Broken } from './broken.tsx';
import { Frame } from './frame.tsx';
import { LockScreen } from './lock-screen.tsx';
import { PinSignIn } from './pin-sign-in.tsx';
import { SharedTabletContext } from './shared-tablet.ts';
import { SignInForm } from './sign-in-form.tsx';
import { SignedIn, usePerson } from './signed-in.ts';
import { switchPerson } from './switch-person.ts';
import { useTheme } from './theme.ts';
import { useIdleLock } from './use-idle-lock.ts';
import { Welcome } from './welcome.tsx';

// The tablet at the mould waits for nothing but Weigh.
const BeginScreen = lazy(async () => ({ default: (await import('../first-run/begin-screen.tsx')).BeginScreen }));
const OwnAircraft = lazy(async () => ({ default: (await import('../first-run/own-aircraft.tsx')).OwnAircraft }));
const PeopleScreen = lazy(async () => ({ default: (await import('../people/people-screen.tsx')).PeopleScreen }));
const LedgerScreen = lazy(() => import('../ledger/ledger-screen.tsx'));
const PartsScreen = lazy(() => import('../parts/parts-screen.tsx'));
const PartScreen = lazy(() => import('../part/part-screen.tsx'));
const LayUpScreen = lazy(() => import('../layup/layup-screen.tsx'));
const AccuracyScreen = lazy(() => import('../laminate/accuracy-screen.tsx'));
const ProcessesScreen = lazy(() => import('../drift/processes-screen.tsx'));
const SetupScreen = lazy(() => import('../setup/setup-screen.tsx'));
const OpenScreen = lazy(() => import('../open/open-screen.tsx'));
const WhereScreen = lazy(() => import('../where/where-screen.tsx'));
const WhatIfScreen = lazy(() => import('../what-if/what-if-screen.tsx'));
const AircraftWeighingScreen = lazy(() => import('../aircraft-weighing/aircraft-weighing-screen.tsx'));
const WeighingReportScreen = lazy(() => import('../aircraft-weighing/report-screen.tsx'));
const LoadingScreen = lazy(() => import('../loading/loading-screen.tsx'));
const GuideScreen = lazy(() => import('../guide/guide-screen.tsx'));
const BriefScreen = lazy(() => import('../brief/brief-screen.tsx'));
const BriefPage = lazy(() => import('../brief/brief-page.tsx'));
const Projector = lazy(() => import('../brief/projector.tsx'));
const LabelsScreen = lazy(() => import('../label/labels-screen.tsx'));
const ImportScreen = lazy(() => import('../import/import-screen.tsx'));

const LAST_AIRCRAFT = 'tarebook last aircraft';

export function App() {
  useTheme();
  const [, go] = useLocation();
  const session = useSession();
  const [person, setPerson] = useState<Person>();
  const [hasEnded, setEnded] = useState(false);
  const [tablet, setTablet] = useState<{ readonly name: string; readonly idleMinutes: number }>();

  useEffect(() => onSignedOut(() => setEnded(true)), []);
  useEffect(() => {
    if (session.data === undefined) return;
    if (session.data.state === 'signed in') {
      draftsOf(session.data.person.id);
      keepAnswersOf(session.data.person.id);
      setPerson(session.data.person);
    } else setEnded(true);
    if (session.data.state !== 'first run') setTablet(session.data.tablet);
  }, [session.data]);
  const lock = () => {
    if (hasEnded) return;
    // Covered at once, whatever the server says; it ends the session by its own clock where this does not reach it.
    setEnded(true);
    // Loaded anew without a server, the tablet must not open as the person who has gone.
    void forgetSession();
    void ask('/api/sign-out', { method: 'POST', body: {}, reply: SessionReport }).catch(() => undefined);
  };
  useIdleLock(hasEnded || person === undefined ? undefined : tablet?.idleMinutes, lock);

  if (session.isPending)
    return (
      <Page>
        <Waiting what={say`who is signed in`} />
      </Page>
    );
  // An answer that has come once stays: a later question that fails must not take the screen away, and what is typed on it.
  if (session.isLoadingError)
    return (
      <Page>
        <Failed error={session.error} again={() => void session.refetch()} />
      </Page>
    );
  const again = (report?: SessionReport) => {
    if (report?.state === 'signed in') {
      const { id, role } = report.person;
      if (person !== undefined && person.id !== id) switchPerson(person.id, id);
      // The page of the one before may be none of theirs; one's own stays.
      const isOwnPage = person?.id === id && person.role === role;
      if (!isOwnPage && !isPageOf(role, location.pathname)) go('/', { replace: true });
      keepAnswersOf(report.person.id);
      queries.setQueryData(['session'], report);
      setPerson(report.person);
    }
    setEnded(false);
    window.dispatchEvent(new Event(SIGNED_IN));
    void queries.invalidateQueries();
  };
  const byPin = session.data.state === 'signed in' && session.data.byPin;
  // Once somebody is in, the screens stay up behind a new sign-in, with everything that was typed in them.
  if (person !== undefined)
    return (
      <SignedIn value={person}>
        <SharedTabletContext value={tablet === undefined ? undefined : { ...tablet, byPin, lock }}>
          {/* Of a shared tablet that is locked nothing is seen, and nothing of it goes: it is there again for its person. */}
          <div className="screens" hidden={tablet !== undefined && hasEnded}>
            <Screens key={person.id} />
          </div>
          {tablet === undefined ? (
            <Dialog title={say`Your session has ended`} isOpen={hasEnded}>
              <p>{say`Sign in again and go on: what you typed is still here.`}</p>
              <SignInForm name={person.name} onDone={again} />
            </Dialog>
          ) : null}
        </SharedTabletContext>
        {tablet !== undefined && hasEnded ? (
          <LockScreen title={TABLET_WORDS.who} words={TABLET_WORDS.kept(person.name)}>
            <PinSignIn tablet={tablet.name} onDone={again} />
          </LockScreen>
        ) : null}
      </SignedIn>
    );
  if (session.data.state === 'first run') return <FirstAccount onDone={() => again()} />;
  if (tablet !== undefined)
    return (
      <Welcome title={say`Tarebook`} words={TABLET_WORDS.who}>
        <PinSignIn tablet={tablet.name} onDone={again} />
        <QueueLine isOnWeigh={false} />
      </Welcome>
    );
  return (
    <Welcome title={say`Tarebook`} words={say`The weight-and-balance build ledger of the shop.`}>
      <SignInForm onDone={again} />
      <QueueLine isOnWeigh={false} />
    </Welcome>
  );
}

function Page({ children }: { readonly children: React.ReactNode }) {
  return (
    <main className="narrow-page stack">
      <h1 className="hidden-words">{say`Tarebook`}</h1>
      {children}
    </main>
  );
}

function Screens() {
  const list = useAircraftList();
  const [, params] = useRoute('/aircraft/:aircraftId/*?');
  const [, projected] = useRoute('/aircraft/:aircraftId/brief/:briefId/projector');
  const [at] = useLocation();
  const person = usePerson();
  const aircraft = list.data ?? [];
  const current = aircraft.find((one) => one.id === params?.['aircraftId']);
  useEffect(() => {
    if (current !== undefined) localStorage.setItem(LAST_AIRCRAFT, current.id);
  }, [current]);
  if (list.isPending)
    return (
      <Page>
        <Waiting what={say`the aircraft`} />
      </Page>
    );
  if (list.isLoadingError)
    return (
      <Page>
        <Failed error={list.error} again={() => void list.refetch()} />
      </Page>
    );
  // In front of the team there is nothing but the brief: it has its cautions itself.
  if (projected && current !== undefined)
    return (
      <main id="content">
        <Broken key={at}>
          <Suspense fallback={<Waiting what={say`the screen`} />}>
            <Projector aircraft={current} briefId={projected.briefId} />
          </Suspense>
        </Broken>
      </main>
    );
  return (
    <SignedIn value={current?.isReadOnly === true ? { ...person, role: 'viewer' } : person}>
      {/* A screen that is about no aircraft keeps the way back to the last one. */}
      <Frame aircraft={aircraft} current={current ?? lastAircraft(aircraft)}>
        <Broken key={at}>
          <Suspense
            fallback={
              <div className="page">
                <Waiting what={say`the screen`} />
              </div>
            }
          >
            <Switch>
              <Route path="/aircraft/:aircraftId/ledger">
                {current === undefined ? <Unknown /> : <LedgerScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/open">
                {current === undefined ? <Unknown /> : <OpenScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/where">
                {current === undefined ? <Unknown /> : <WhereScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/weigh">
                {current === undefined ? <Unknown /> : <WeighScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/aircraft-weighing">
                {current === undefined ? <Unknown /> : <AircraftWeighingScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/aircraft-weighing/report/:which">
                {({ which }) =>
                  current === undefined ? <Unknown /> : <WeighingReportScreen aircraft={current} which={which} />
                }
              </Route>
              <Route path="/aircraft/:aircraftId/parts">
                {current === undefined ? <Unknown /> : <PartsScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/parts/:partId">
                {({ partId }) =>
                  current === undefined ? <Unknown /> : <PartScreen key={partId} aircraft={current} partId={partId} />
                }
              </Route>
              <Route path="/aircraft/:aircraftId/parts/:partId/lay-up">
                {({ partId }) =>
                  current === undefined ? <Unknown /> : <LayUpScreen key={partId} aircraft={current} partId={partId} />
                }
              </Route>
              <Route path="/aircraft/:aircraftId/lay-up-accuracy">
                {current === undefined ? <Unknown /> : <AccuracyScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/processes">
                {current === undefined ? <Unknown /> : <ProcessesScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/set-up/:section?">
                {({ section }) =>
                  current === undefined ? (
                    <Unknown />
                  ) : (
                    <SetupScreen key={current.id} aircraft={current} section={section} />
                  )
                }
              </Route>
              <Route path="/aircraft/:aircraftId/what-if">
                {current === undefined ? <Unknown /> : <WhatIfScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/loading">
                {current === undefined ? <Unknown /> : <LoadingScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/brief">
                {current === undefined ? <Unknown /> : <BriefScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/brief/:briefId">
                {({ briefId }) =>
                  current === undefined ? <Unknown /> : <BriefPage key={briefId} aircraft={current} briefId={briefId} />
                }
              </Route>
              <Route path="/aircraft/:aircraftId/labels">
                {current === undefined ? <Unknown /> : <LabelsScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/aircraft/:aircraftId/bring">
                {current === undefined ? <Unknown /> : <ImportScreen key={current.id} aircraft={current} />}
              </Route>
              <Route path="/guide/:of">
                {({ of }) => {
                  const guide = GUIDES.find((one) => one.of === of);
                  return guide === undefined ? <Unknown /> : <GuideScreen of={guide.of} />;
                }}
              </Route>
              <Route path="/people">
                <PeopleScreen aircraft={aircraft} />
              </Route>
              <Route path="/new/list">
                <OwnAircraft key="list" then={'list'} />
              </Route>
              <Route path="/new">
                <OwnAircraft key="ledger" then={'ledger'} />
              </Route>
              <Route path="/">
                <Home aircraft={aircraft} />
              </Route>
              <Route>
                <Unknown />
              </Route>
            </Switch>
          </Suspense>
        </Broken>
      </Frame>
    </SignedIn>
  );
}

function Home({ aircraft }: { readonly aircraft: readonly AircraftReport[] }) {
  const first = lastAircraft(aircraft);
  const { role } = usePerson();
  if (first === undefined) return <BeginScreen />;
  // Who stands at the mould came to weigh.
  return (
    <Redirect
      to={`/aircraft/${first.id}/${role === 'crew' && first.isReadOnly !== true ? 'weigh' : 'ledger'}`}
      replace
    />
  );
}

/** The aircraft last looked at on this device, or the first there is. */
function lastAircraft(aircraft: readonly AircraftReport[]): AircraftReport | undefined {
  const last = localStorage.getItem(LAST_AIRCRAFT);
  return aircraft.find((one) => one.id === last) ?? aircraft[0];
}

function Unknown() {
  return (
    <div className="narrow-page">
      <Empty isPage title={say`There is nothing here`}>
        <p>{rich`The address may be mistyped, or the aircraft is not open to you. ${<a href="/">{say`Go to the start`}</a>}.`}</p>
      </Empty>
    </div>
  );
}
