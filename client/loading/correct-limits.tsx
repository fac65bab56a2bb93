/** The limits that an entry stated, laid out as they were and put right as a whole (rule L2): the form in which they are stated. */

import { useQuery } from '@tanstack/react-query';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { LoadingReport } from '#shared/contract/loading.ts';
import { say } from '#shared/words/say.ts';
import { entryAt } from '../door/queries.ts';
import { Failed, Waiting } from '../pieces/states.tsx';
import { DatumThen } from '../record/datum-then.tsx';
import { EntrySaid } from '../record/entry-said.tsx';
import { statementOf } from '../record/standing.ts';
import { rich } from '../words/rich.ts';
import { LimitsEditor } from './limits-editor.tsx';

export function CorrectLimits(props: {
  readonly aircraft: AircraftReport;
  readonly report: LoadingReport;
  /** The entry that is put right. */
  readonly seq: number;
  readonly onRecorded: (recorded: RecordedReport) => void;
  readonly onClose: () => void;
}) {
  const { aircraft, seq } = props;
  const said = useQuery({
    queryKey: ['limits said', aircraft.id, seq],
    queryFn: async ({ signal }) => {
      const row = await entryAt(aircraft.id, seq, signal);
      const stated = row === undefined ? undefined : await statementOf(aircraft.id, row);
      if (row === undefined || stated?.statement.kind !== 'loading')
        throw new Error(`entry ${seq} states no loading limits`);
      return { row, statement: stated.statement, happenedOn: stated.happenedOn };
    },
    staleTime: Number.POSITIVE_INFINITY,
  });
  if (said.isError)
    return (
      <>
        <h1>{rich`Correct entry ${seq}`}</h1>
        <Failed error={said.error} again={() => void said.refetch()} />
      </>
    );
  if (said.data === undefined)
    return (
      <>
        <h1 className="hidden-words">{rich`Correct entry ${seq}`}</h1>
        <Waiting what={say`the limits of the entry`} />
      </>
    );
  const { row, statement, happenedOn } = said.data;
  return (
    <LimitsEditor {...props} corrects={{ seq, statement, happenedOn }}>
      <EntrySaid row={row} aircraft={aircraft} />
      <DatumThen aircraft={aircraft} kind="loading" seq={row.correctsSeq ?? seq} />
    </LimitsEditor>
  );
}
