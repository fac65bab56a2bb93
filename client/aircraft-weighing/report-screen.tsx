/**
 * The report of one weighing, to be read and printed (rules A1-A5): every input, the corrections, the result with its uncertainty, the equipment
 * list, cautions and lines to sign on. One that is not signed says DRAFT on every page.
 */

import { useQuery } from '@tanstack/react-query';
import type { ReactNode } from 'react';
import { Link } from 'wouter';
import { computeWeighing, type WeighedResult } from '#shared/aircraft-weighing/compute.ts';
import { doubtsOf } from '#shared/aircraft-weighing/doubts.ts';
import { readWeighing } from '#shared/aircraft-weighing/read-draft.ts';
import type { Weighed } from '#shared/aircraft-weighing/weighing.ts';
import { type AircraftReport, PartsReport } from '#shared/contract/aircraft.ts';
import type { AircraftWeighingsReport, SignedWeighingReport } from '#shared/contract/aircraft-weighing.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import { ask } from '../door/ask.ts';
import { useLedger, useScales } from '../door/queries.ts';
import { Button } from '../pieces/controls.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { shownIn } from '../pieces/units.ts';
import { keptFor } from './kept.ts';
import { useWeighings } from './questions.ts';
import { ReportBody } from './report-body.tsx';
import { doubtContextOf, scaleAtOf } from './use-weighing.ts';
import './aircraft-weighing.css';

/** What a report is made of, signed or not. */
export type Reported = {
  readonly isSigned: boolean;
  readonly happenedOn: string;
  readonly weighed: Weighed;
  readonly result: WeighedResult;
  readonly signedBy: string | undefined;
  readonly signedOn: string | undefined;
  readonly signedAs: string | undefined;
  readonly oilIsEmptyWeight: boolean;
  readonly notAboard: string;
  readonly seq: number | undefined;
  readonly signed: SignedWeighingReport | undefined;
};

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function ReportScreen({
  aircraft,
  which,
}: {
  readonly aircraft: AircraftReport;
  readonly which: string;
}) {
  const weighings = useWeighings(aircraft.id);
  const scales = useScales(aircraft.id);
  const ledger = useLedger(aircraft.id);
  const signed = weighings.data?.signed.find(({ seq }) => String(seq) === which);
  const parts = useQuery({
    queryKey: ['aircraft', aircraft.id, 'parts', 'of weighing', signed?.latestSeq],
    queryFn: async ({ signal }) => {
      const asKnown = signed === undefined ? '' : `?asKnownAt=${signed.latestSeq}`;
      return (await ask(`/api/aircraft/${aircraft.id}/parts${asKnown}`, { reply: PartsReport, signal })).parts;
    },
    enabled: weighings.data !== undefined,
  });
  const failed = [weighings, scales, ledger, parts].find(({ isLoadingError }) => isLoadingError);
  if (failed !== undefined)
    return (
      <Page aircraft={aircraft}>
        <h1>{say`Weight and balance report`}</h1>
        <Failed error={failed.error} again={() => void failed.refetch()} />
      </Page>
    );
  if (
    weighings.data === undefined ||
    scales.data === undefined ||
    ledger.data === undefined ||
    parts.data === undefined
  )
    return (
      <Page aircraft={aircraft}>
        <h1 className="hidden-words">{say`Weight and balance report`}</h1>
        <Waiting what={say`the report`} />
      </Page>
    );
  const reported =
    signed === undefined
      ? draftReported(aircraft, weighings.data, which, scaleAtOf(scales.data))
      : signedReported(signed);
  if (reported === undefined)
    return (
      <Page aircraft={aircraft}>
        <h1>{say`Weight and balance report`}</h1>
        <p className="notice">
          {which === 'draft'
            ? say`There is nothing to print yet: give every support its station and read it once.`
            : say`There is no such weighing.`}
        </p>
      </Page>
    );
  const { headline } = ledger.data;
  const context = doubtContextOf({ scales: scales.data, headline }, reported.happenedOn, signed?.reconcile);
  // Today’s prediction says nothing of a weighing that was signed before.
  const doubts = doubtsOf(
    reported.weighed,
    reported.result,
    reported.isSigned ? { ...context, expectedKg: undefined } : context,
  );
  return (
    <Page aircraft={aircraft}>
      <ReportBody
        {...{ aircraft, reported, doubts }}
        shown={shownIn(aircraft)}
        datum={signed?.datum ?? aircraft.datum}
        levelling={weighings.data.levelling}
        parts={aboardOf(parts.data, reported.notAboard)}
        range={{ cgForwardM: headline.targets?.cgForwardM, cgAftM: headline.targets?.cgAftM }}
      />
    </Page>
  );
}

function Page({ aircraft, children }: { readonly aircraft: AircraftReport; readonly children: ReactNode }) {
  return (
    <div className="page stack weighing-report">
      <div className="row no-print">
        <Link className="way-back" href={`/aircraft/${aircraft.id}/aircraft-weighing`}>{say`Aircraft weighing`}</Link>
        <Button slim onPress={() => window.print()}>{say`Print, or save as PDF`}</Button>
      </div>
      {children}
    </div>
  );
}

function signedReported(signed: SignedWeighingReport): Reported {
  const { statement, happenedOn, notAboard, seq } = signed;
  const { weighed, signedBy, signedOn, signedAs, oilIsEmptyWeight } = statement;
  return {
    ...{ isSigned: true, happenedOn, weighed, signedBy, signedOn, signedAs, oilIsEmptyWeight, notAboard, seq, signed },
    result: computeWeighing(weighed),
  };
}

/** What this device has typed and not sent yet is on it as well. */
function draftReported(
  aircraft: AircraftReport,
  { draft, oilIsEmptyWeight }: AircraftWeighingsReport,
  which: string,
  scaleAt: ReturnType<typeof scaleAtOf>,
): Reported | undefined {
  const words = keptFor(aircraft.id)?.words ?? draft?.words;
  if (words === undefined || which !== 'draft') return undefined;
  const { weighed, result } = readWeighing(words, { mass: aircraft.massUnit, length: aircraft.lengthUnit }, scaleAt);
  if (weighed === undefined || result === undefined) return undefined;
  return {
    ...{ isSigned: false, weighed, result, oilIsEmptyWeight, notAboard: words['not aboard'] ?? '' },
    happenedOn: words['happenedOn'] || '',
    ...{ signedBy: words['signed by'], signedOn: words['signed on'], signedAs: words['signed as'] },
    ...{ seq: undefined, signed: undefined },
  };
}

/** The parts that are listed whole as not aboard are left out; of pieces it is said which. */
function aboardOf(parts: readonly PartReport[], notAboard: string): readonly PartReport[] {
  const whole = new Set(notAboard.split(';').map((one) => one.trim().toLowerCase()));
  return parts.filter(({ number }) => !whole.has(number.toLowerCase()));
}
