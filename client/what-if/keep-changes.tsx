/** From the list of changes to a proposal: a new one, or the one that they were taken from, stated anew. */

import { useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { ProposalReport, SentChange } from '#shared/contract/proposal.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { ACT_WORDS } from '../words/proposals.ts';
import { rich } from '../words/rich.ts';
import { ProposalDialog } from './proposal-dialog.tsx';
import { useProposals } from './questions.ts';
import type { ScratchList } from './scratch.ts';

export function KeepChanges(props: {
  readonly aircraft: AircraftReport;
  readonly scratch: ScratchList;
  readonly changes: readonly SentChange[];
  /** Every change of the list is whole and can be made. */
  readonly isReady: boolean;
  readonly onKept: (title: string) => void;
}) {
  const { aircraft, scratch, changes } = props;
  const mayKeep = useMay('engineer');
  const proposals = useProposals(aircraft.id);
  const [keeping, setKeeping] = useState<{ readonly before: ProposalReport | undefined }>();
  if (!mayKeep || scratch.rows.length === 0) return null;
  const from = proposals.data?.proposals.find(({ proposalId }) => proposalId === scratch.from);
  return (
    <>
      {from === undefined ? null : (
        <Button
          kind="main"
          isDisabled={!props.isReady}
          onPress={() => setKeeping({ before: from })}
        >{rich`Keep in “${from.title}”`}</Button>
      )}
      <Button
        kind={from === undefined ? 'main' : 'plain'}
        isDisabled={!props.isReady}
        onPress={() => setKeeping({ before: undefined })}
      >{say`Keep as a proposal`}</Button>
      {props.isReady ? null : (
        <span className="soft small">{say`Not every change can be kept yet: finish it, put it right, or take it out.`}</span>
      )}
      {keeping === undefined ? null : (
        <ProposalDialog
          aircraft={aircraft}
          before={keeping.before}
          changes={changes}
          says={changes.map((change, at) => `${at + 1}. ${inShort(change)}`)}
          onKept={(_, title) => {
            setKeeping(undefined);
            props.onKept(title);
          }}
          onClose={() => setKeeping(undefined)}
        />
      )}
    </>
  );
}

/** As it was typed. */
function inShort({ act, part, name, mass, uncertainty, x, y, z }: SentChange): string {
  const words = Object.keys(ACT_WORDS).includes(act) ? ACT_WORDS[act as keyof typeof ACT_WORDS] : act;
  const at = [
    ['x', x],
    ['y', y],
    ['z', z],
  ].flatMap(([axis, text]) => (text === undefined ? [] : [`${axis} ${text}`]));
  const rest = [part ?? name, mass, uncertainty === undefined ? undefined : `± ${uncertainty}`, ...at];
  return `${words}: ${rest.filter((one) => one !== undefined).join(', ')}`;
}
