/**
 * Labels to print for chosen parts (rule H1): those that the table of parts is filtered to, or one. The browser prints them; what is on the screen
 * beside them is not printed.
 */

import { useMemo, useState } from 'react';
import { Link, useSearch } from 'wouter';
import type { AircraftReport, PartsReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { firstLeft } from '#shared/label/sheet.ts';
import { LOCALE, say } from '#shared/words/say.ts';
import { useParts } from '../door/queries.ts';
import { useView } from '../parts/remembered.ts';
import { isAskedBy } from '../parts/tools.tsx';
import { Button } from '../pieces/controls.tsx';
import { Empty, Failed, Waiting } from '../pieces/states.tsx';
import { rich } from '../words/rich.ts';
import { useLabelSettings } from './kept.ts';
import { PrintedLabels } from './paper.tsx';
import { PaperCard, usePaper } from './paper-card.tsx';
import type { Label } from './part-label.tsx';
import { PartTicks } from './part-ticks.tsx';
import './label.css';

/** More at once would take a browser long to lay out. */
const MOST_LABELS = 500;

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function LabelsScreen({ aircraft }: { readonly aircraft: AircraftReport }) {
  const parts = useParts(aircraft.id);
  const number = new URLSearchParams(useSearch()).get('part');
  if (parts.isPending)
    return (
      <div className="page">
        <h1 className="hidden-words">{say`Labels`}</h1>
        <Waiting what={say`the parts`} />
      </div>
    );
  if (parts.isLoadingError)
    return (
      <div className="page stack">
        <h1>{say`Labels`}</h1>
        <Failed error={parts.error} again={() => void parts.refetch()} />
      </div>
    );
  return <Labels key={number} aircraft={aircraft} known={parts.data} number={number} />;
}

function Labels(props: {
  readonly aircraft: AircraftReport;
  readonly known: PartsReport;
  /** Of this part alone. */
  readonly number: string | null;
}) {
  const { aircraft, known, number } = props;
  const [view] = useView(aircraft.id);
  const [settings, change] = useLabelSettings();
  const offered = useMemo(
    () => known.parts.filter(number === null ? isAskedBy(view) : (part) => part.number === number),
    [known.parts, number, view],
  );
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const chosen = offered.filter(({ partId }) => !left.has(partId));
  const all = chosen.flatMap((part) => labelsOf(part, settings.eachPiece));
  const labels = all.slice(0, MOST_LABELS);
  const { paper, problems } = usePaper(settings);
  const back = number === null ? '' : `/${offered[0]?.partId ?? ''}`;
  return (
    <div className="page labels-page">
      <div className="no-print">
        <div className="stack">
          <Link href={`/aircraft/${aircraft.id}/parts${back}`} className="way-back">
            {number === null ? say`All parts` : number}
          </Link>
          <h1>{say`Labels`}</h1>
          {offered.length === 0 ? (
            <Empty title={say`There is no part to print a label for`}>
              <p>
                {known.parts.length === 0
                  ? say`Bring a parts list, or add parts one by one; then their labels are printed here.`
                  : say`Choose others with the filters of the table of parts.`}
              </p>
            </Empty>
          ) : (
            <>
              <div className="labels-cards">
                <PaperCard
                  {...{ settings, change, problems }}
                  hasPieces={chosen.some(({ quantity }) => quantity > 1)}
                />
                {number === null ? <PartTicks parts={offered} left={left} onChange={setLeft} /> : null}
              </div>
              <div className="row">
                <Button
                  kind="main"
                  isDisabled={paper === undefined || labels.length === 0}
                  onPress={() => window.print()}
                >{rich`Print ${labels.length} ${labels.length === 1 ? say`label` : say`labels`}, or save as PDF`}</Button>
                <p className="soft" role="status">
                  {rich`${
                    all.length > MOST_LABELS
                      ? say`The first ${MOST_LABELS} of ${all.length.toLocaleString(LOCALE)}: choose fewer parts for the others. `
                      : ''
                  }${
                    paper?.is === 'sheet' && labels.length > 0
                      ? say`After this the sheet goes on at label ${firstLeft(labels.length, paper.sheet, paper.first)}. `
                      : ''
                  }In the browser’s print window choose 100 % and no margins.`}
                </p>
              </div>
            </>
          )}
        </div>
      </div>
      {paper === undefined ? null : (
        <section className="label-pages" aria-label={say`Labels as they are printed`} tabIndex={0}>
          <PrintedLabels
            {...{ labels, paper }}
            printed={{ aircraft, condition: settings.condition, limit: known.partLimit, seq: known.seq }}
          />
        </section>
      )}
    </div>
  );
}

/** A part of several pieces has a label for each, or one for all. */
function labelsOf(part: PartReport, eachPiece: boolean): readonly Label[] {
  if (part.quantity === 1 || !eachPiece) return [{ part, piece: undefined }];
  return Array.from({ length: part.quantity }, (_, at) => ({ part, piece: at + 1 }));
}
