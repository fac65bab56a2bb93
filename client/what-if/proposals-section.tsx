/** What is proposed for the aircraft: the list, and the forecast with all that is open or agreed (rules F8, F9). */

import { useEffect, useState } from 'react';
import { useSearchParams } from 'wouter';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ProposalReport, ProposalsReport } from '#shared/contract/proposal.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Day } from '../pieces/day.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { type Shown, shownIn } from '../pieces/units.ts';
import { changeInWords } from '../words/proposals.ts';
import { rich } from '../words/rich.ts';
import { CgPicture } from './cg-picture.tsx';
import { ProposalDialog } from './proposal-dialog.tsx';
import { ProposalList, proposalRowId } from './proposal-list.tsx';
import { useProposals } from './questions.ts';
import { SideBySide } from './side-by-side.tsx';

export function ProposalsSection(props: {
  readonly aircraft: AircraftReport;
  /** What stands above has come: before that a place on the page does not stay where it is. */
  readonly isPageThere: boolean;
  readonly onTake: (proposal: ProposalReport) => void;
  readonly onTold: (words: string) => void;
}) {
  const { aircraft, isPageThere } = props;
  const shown = shownIn(aircraft);
  const proposals = useProposals(aircraft.id);
  const mayKeep = useMay('engineer');
  const [open, setOpen] = useState<{ readonly before: ProposalReport | undefined }>();
  const [asked, setAsked] = useSearchParams();
  const [shownId, changedId] = [asked.get('proposal'), asked.get('change')];
  const { data } = proposals;
  // The address can ask for one proposal, or for the form that changes it: once, so that a reload does not ask again.
  useEffect(() => {
    const proposalId = changedId ?? shownId;
    if (data === undefined || proposalId === null || !isPageThere) return;
    document.getElementById(proposalRowId(proposalId))?.focus();
    const before = data.proposals.find((one) => one.proposalId === changedId);
    if (before !== undefined && mayKeep) setOpen({ before });
    setAsked({}, { replace: true });
  }, [data, isPageThere, shownId, changedId, mayKeep, setAsked]);
  return (
    <section className="stack" aria-labelledby="proposals">
      <div className="row between">
        <h2 id="proposals">{say`Proposals`}</h2>
        {mayKeep ? (
          <Button onPress={() => setOpen({ before: undefined })}>{say`A proposal without changes`}</Button>
        ) : null}
      </div>
      {proposals.isPending ? <Waiting what={say`the proposals`} /> : null}
      {proposals.isLoadingError ? <Failed error={proposals.error} again={() => void proposals.refetch()} /> : null}
      {proposals.data === undefined ? null : (
        <Known
          report={proposals.data}
          shown={shown}
          onChange={mayKeep ? (before) => setOpen({ before }) : undefined}
          onTake={props.onTake}
        />
      )}
      {open === undefined ? null : (
        <ProposalDialog
          aircraft={aircraft}
          before={open.before}
          changes={undefined}
          says={(open.before?.changes ?? []).map((change) => changeInWords(change, shown))}
          onKept={(_, title) => {
            setOpen(undefined);
            props.onTold(say`Kept: ${title}.`);
          }}
          onClose={() => setOpen(undefined)}
        />
      )}
    </section>
  );
}

function Known(props: {
  readonly report: ProposalsReport;
  readonly shown: Shown;
  readonly onChange: ((proposal: ProposalReport) => void) | undefined;
  readonly onTake: (proposal: ProposalReport) => void;
}) {
  const { report, shown } = props;
  if (report.proposals.length === 0)
    return (
      <p className="card soft">{say`Nothing is proposed yet. Try changes above and keep them with an owner and a day, or keep an idea with the saving it is expected to bring.`}</p>
    );
  const overdue = report.proposals.filter(({ isOverdue }) => isOverdue).length;
  return (
    <>
      {overdue === 0 ? null : (
        <p className="notice warn">{rich`▲ ${overdue === 1 ? say`One proposal is` : say`${overdue} proposals are`} overdue on ${<Day of={report.today} />}.`}</p>
      )}
      <div className="card">
        <ProposalList {...{ proposals: report.proposals, shown, onChange: props.onChange, onTake: props.onTake }} />
      </div>
      <WithProposals forecast={report.forecast} shown={shown} />
    </>
  );
}

function WithProposals({ forecast, shown }: { readonly forecast: ProposalsReport['forecast']; readonly shown: Shown }) {
  const { count, today, all, weighted } = forecast;
  if (count === 0)
    return <p className="card soft">{say`No proposal that is open or agreed fits: the forecast is as it is.`}</p>;
  return (
    <section className="card stack" aria-labelledby="with-proposals">
      <h2 id="with-proposals">{rich`Forecast with ${count === 1 ? say`the one proposal` : say`the ${count} proposals`} open or agreed`}</h2>
      <div className="beside">
        <SideBySide
          label={say`Forecast with the proposals`}
          sides={[
            { name: say`As it is`, figures: today },
            { name: say`If all come true`, figures: all },
            { name: say`By likelihood`, figures: weighted },
          ]}
          shown={shown}
        />
        <CgPicture
          marks={[
            { name: say`as it is`, figures: today },
            { name: say`if all come true`, figures: all },
            { name: say`by likelihood`, figures: weighted },
          ]}
          shown={shown}
        />
      </div>
      <p className="soft small">{rich`All of them save ${shown.massWithUnit(forecast.allSavingKg)}, by their likelihood ${shown.massWithUnit(forecast.weightedSavingKg)}. By likelihood, whether each comes true is part of what is not known, and the chances weigh every case.`}</p>
    </section>
  );
}
