/**
 * A brief in front of the team: one subject at a time, as large as the screen, moved on by keys or a clicker, with the cautions at the foot of each.
 * Nothing scrolls: where a subject has too much for the screen, its type gets smaller until it fits.
 */

import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { Brief } from '#shared/contract/brief.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { shownIn } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { Remark, titleOf } from './brief-page.tsx';
import { useBrief } from './questions.ts';
import { SUBJECTS } from './subjects.tsx';
import './brief.css';

/** So many rows of a list can be read from the other end of a room. */
const ROWS_ON_SLIDE = 7;

const NEXT = new Set(['PageDown', 'ArrowRight', 'ArrowDown', ' ', 'Enter']);
const BACK = new Set(['PageUp', 'ArrowLeft', 'ArrowUp', 'Backspace']);

type Props = { readonly aircraft: AircraftReport; readonly briefId: string };

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function Projector({ aircraft, briefId }: Props) {
  const brief = useBrief(aircraft.id, briefId);
  if (brief.data === undefined)
    return (
      <div className="page stack">
        <h1 className="hidden-words">{say`Brief`}</h1>
        {brief.isLoadingError ? (
          <Failed error={brief.error} again={() => void brief.refetch()} />
        ) : (
          <Waiting what={say`the brief`} />
        )}
      </div>
    );
  return <Slides aircraftId={aircraft.id} brief={brief.data} />;
}

function Slides({ aircraftId, brief }: { readonly aircraftId: string; readonly brief: Brief }) {
  const [, go] = useLocation();
  const [at, setAt] = useState(0);
  const last = SUBJECTS.length - 1;
  useEffect(() => {
    const listen = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
      // A button that has the keyboard is pressed by Enter and space, as everywhere.
      const isOnButton = event.target instanceof Element && event.target.closest('button, a, summary') !== null;
      const isPress = event.key === 'Enter' || event.key === ' ';
      if (event.key === 'Escape') go(`/aircraft/${aircraftId}/brief/${brief.briefId}`);
      else if (isOnButton && isPress) return;
      else if (NEXT.has(event.key)) setAt((now) => Math.min(last, now + 1));
      else if (BACK.has(event.key)) setAt((now) => Math.max(0, now - 1));
      else if (event.key === 'Home') setAt(0);
      else if (event.key === 'End') setAt(last);
      else return;
      event.preventDefault();
    };
    addEventListener('keydown', listen);
    return () => removeEventListener('keydown', listen);
  }, [aircraftId, brief.briefId, go, last]);
  const subject = SUBJECTS[at];
  if (subject === undefined) return null;
  const { content, remarks } = brief;
  const told = { content, shown: shownIn(content.aircraft), most: ROWS_ON_SLIDE };
  const remark = subject.remarks === undefined ? undefined : remarks[subject.remarks];
  return (
    <div className="projector">
      <h1 className="hidden-words">
        {titleOf(brief)}: {subject.title}
      </h1>
      <Slide key={subject.key}>
        {subject.hasTitle ? null : <h2>{subject.title}</h2>}
        <subject.Body {...told} />
        {remark === undefined ? null : <Remark words={remark} />}
      </Slide>
      <footer className="projector-foot">
        <p className="projector-cautions">{content.cautions.join(' ')}</p>
        <div className="row">
          <span aria-live="polite">
            {rich`${titleOf(brief)}, ${content.aircraft.name}, as known at entry ${content.to.seq}: ${at + 1} of ${SUBJECTS.length}`}
          </span>
          <Button slim isDisabled={at === 0} onPress={() => setAt(at - 1)}>{say`Back`}</Button>
          <Button slim isDisabled={at === last} onPress={() => setAt(at + 1)}>{say`Next`}</Button>
          <Button
            slim
            kind="quiet"
            onPress={() => go(`/aircraft/${aircraftId}/brief/${brief.briefId}`)}
          >{say`Leave (Escape)`}</Button>
        </div>
      </footer>
    </div>
  );
}

/** Tried one after the other, largest first. */
const SCALES = [1, 0.9, 0.8, 0.72, 0.65, 0.58, 0.52, 0.46, 0.4, 0.34] as const;

function Slide({ children }: { readonly children: React.ReactNode }) {
  const frame = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const element = frame.current;
    if (element === null) return undefined;
    const makeFit = () => {
      for (const scale of SCALES) {
        element.style.setProperty('--slide-scale', String(scale));
        if (element.scrollHeight <= element.clientHeight && element.scrollWidth <= element.clientWidth) return;
      }
    };
    makeFit();
    const watch = new ResizeObserver(makeFit);
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  return (
    <div ref={frame} className="slide">
      {children}
    </div>
  );
}
