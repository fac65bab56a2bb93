/** One brief, to be read, printed and shown; while it is a draft, also to be remarked on, issued or dropped. */

import { type ReactNode, useMemo } from 'react';
import { Link } from 'wouter';
import { stampOf } from '#shared/brief/standing.ts';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { Brief } from '#shared/contract/brief.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { withDays } from '../pieces/day.tsx';
import { useHeadOfPages } from '../pieces/head-of-pages.ts';
import { Failed, Waiting } from '../pieces/states.tsx';
import { shownIn } from '../pieces/units.ts';
import { periodWords } from '../words/brief.ts';
import { DraftCard } from './draft-card.tsx';
import { briefPath, useBrief } from './questions.ts';
import { SUBJECTS } from './subjects.tsx';
import './brief.css';

/** So many rows of a list stand on a page; what a brief keeps of one is never more. */
const ROWS_ON_PAGE = 40;

/** The files of a brief, and how each is asked for. */
const FILES = [
  ['PDF, A4', 'as=pdf&paper=a4'],
  ['PDF, Letter', 'as=pdf&paper=letter'],
  ['XLSX', 'as=xlsx'],
  ['CSV', 'as=csv'],
  ['JSON', 'as=json'],
] as const;

type Props = { readonly aircraft: AircraftReport; readonly briefId: string };

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function BriefPage({ aircraft, briefId }: Props) {
  const brief = useBrief(aircraft.id, briefId);
  const mayWrite = useMay('engineer');
  if (brief.data === undefined)
    return (
      <Page aircraft={aircraft}>
        {brief.isLoadingError ? (
          <>
            <h1>{say`Brief`}</h1>
            <Failed error={brief.error} again={() => void brief.refetch()} />
          </>
        ) : (
          <>
            <h1 className="hidden-words">{say`Brief`}</h1>
            <Waiting what={say`the brief`} />
          </>
        )}
      </Page>
    );
  return (
    <Page
      aircraft={aircraft}
      acts={
        <>
          <Link
            className="button slim"
            href={`/aircraft/${aircraft.id}/brief/${briefId}/projector`}
          >{say`Show on a projector`}</Link>
          <Button slim onPress={() => window.print()}>{say`Print, or save as PDF`}</Button>
          <div className="row" role="group" aria-label={say`Take it along`}>
            {FILES.map(([words, asked]) => (
              <a key={words} className="button slim" download href={`${briefPath(aircraft.id, briefId)}/file?${asked}`}>
                {words}
              </a>
            ))}
          </div>
        </>
      }
    >
      <BriefBody brief={brief.data}>
        {mayWrite && brief.data.state === 'draft' ? (
          <div className="no-print">
            <DraftCard key={briefId} aircraftId={aircraft.id} brief={brief.data} />
          </div>
        ) : null}
      </BriefBody>
    </Page>
  );
}

function Page(props: { readonly aircraft: AircraftReport; readonly acts?: ReactNode; readonly children: ReactNode }) {
  return (
    <div className="page stack brief-page">
      <div className="row no-print">
        <Link className="way-back" href={`/aircraft/${props.aircraft.id}/brief`}>{say`All briefs`}</Link>
        {props.acts}
      </div>
      {props.children}
    </div>
  );
}

export function titleOf({ state, issued }: Brief): string {
  return issued === undefined
    ? state === 'dropped'
      ? say`Dropped brief`
      : say`Draft brief`
    : say`Brief ${issued.number}`;
}

function BriefBody({ brief, children }: { readonly brief: Brief; readonly children: ReactNode }) {
  const { content, remarks } = brief;
  // Kept while the brief is the same: its pictures are drawn anew where it changes.
  const shown = useMemo(() => shownIn(content.aircraft), [content.aircraft]);
  useHeadOfPages(say`${titleOf(brief)}: ${content.aircraft.name}, as known at entry ${content.to.seq}`);
  const told = { content, shown, most: ROWS_ON_PAGE };
  return (
    <>
      {brief.state === 'issued' ? null : (
        <p className="draft-mark" aria-hidden="true">
          {stampOf(brief)}
        </p>
      )}
      <header>
        <h1>
          {titleOf(brief)}: {content.aircraft.name}
        </h1>
        <p className="soft">
          {withDays(
            say`${periodWords({ fromSeq: content.from.seq, toSeq: content.to.seq })}${content.to.lastDay === undefined ? '' : say`, up to ${dayWords(content.to.lastDay)}`}; made by ${content.made.by} on ${dayWords(content.made.on)}${brief.issued === undefined ? '' : say`, issued by ${brief.issued.by} on ${dayWords(brief.issued.at)}`}`,
          )}
        </p>
        {brief.state === 'dropped' ? (
          <p className="notice">{say`This draft was dropped. It counts for nothing.`}</p>
        ) : null}
      </header>
      {children}
      {SUBJECTS.map(({ key, title, hasTitle, remarks: about, Body, More }) => (
        <div key={key} className="stack-tight brief-subject">
          {hasTitle ? (
            <Body {...told} />
          ) : (
            <div className="card stack-tight">
              <h2>{title}</h2>
              <Body {...told} />
            </div>
          )}
          {More === undefined ? null : (
            <div className="brief-more">
              <More {...told} />
            </div>
          )}
          {about === undefined || remarks[about] === undefined ? null : <Remark words={remarks[about]} />}
        </div>
      ))}
      <Sources brief={brief} />
    </>
  );
}

export function Remark({ words }: { readonly words: string }) {
  return (
    <p className="notice brief-remark">
      <strong>{say`Remark:`}</strong> {words}
    </p>
  );
}

/** What it rests on, so that it can be held against the ledger. */
function Sources({ brief }: { readonly brief: Brief }) {
  const { content, issued } = brief;
  const { aircraft, from, to } = content;
  const end = ({ seq, hash, recordedAt }: typeof to) =>
    seq === 0 ? say`the beginning` : say`entry ${seq} of ${dayWords(recordedAt) ?? ''}, ${hash ?? ''}`;
  const rows: readonly (readonly [string, string])[] = [
    [say`From`, end(from)],
    [say`To`, end(to)],
    [say`Datum`, aircraft.datum],
    [say`Units`, say`mass ${aircraft.massUnit}, stations ${aircraft.lengthUnit} from the datum`],
    [say`Oil`, aircraft.oilIsEmptyWeight ? say`counts as empty weight` : say`does not count as empty weight`],
    ...(issued === undefined ? [] : [['Issued as', issued.hash] as const]),
  ];
  return (
    <section className="card stack-tight brief-sources" aria-label={say`Sources`}>
      <h2>{say`Sources`}</h2>
      <dl className="facts">
        {rows.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}
