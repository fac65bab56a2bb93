/** Signing: the draft becomes an entry of the ledger, under the draft’s own id, so that signing twice records once (rules A2, A4, A5). */

import { useState } from 'react';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import { ROLE_OF_KIND } from '#shared/contract/kind-roles.ts';
import { say } from '#shared/words/say.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { plusMinus, type Shown } from '../pieces/units.ts';
import { useRecord } from '../record/use-record.ts';
import { rich } from '../words/rich.ts';
import { problemWords } from './field-words.ts';
import { LookAgain } from './result-panel.tsx';
import { WordField } from './supports-card.tsx';
import type { Weighing } from './use-weighing.ts';

/** Fields of a draft that stand beside what was weighed. */
export const SIGN_FIELDS = ['signed by', 'signed on', 'signed as'] as const;

/** A draft that is hardly begun has dozens. */
const MOST_TOLD = 8;

export function SignCard(props: {
  readonly of: Weighing;
  readonly aircraft: AircraftReport;
  readonly shown: Shown;
  readonly onSigned: (recorded: RecordedReport) => void;
}) {
  const { of, aircraft, shown } = props;
  const { words } = of.draft;
  const may = useMay(ROLE_OF_KIND['aircraft weighing']);
  const [isAsked, setAsked] = useState(false);
  const [told, setTold] = useState<readonly string[]>([]);
  const record = useRecord(aircraft, (recorded) => {
    setAsked(false);
    of.draft.signed();
    props.onSigned(recorded);
  });
  const corrects = words['corrects'];
  const { read } = of;
  const look = () => {
    of.tellAll();
    const open = [
      ...((words['signed by'] ?? '').trim() === ''
        ? [say`It is not signed: give the name of the person who answers for it.`]
        : []),
      ...(corrects !== undefined && (words['reason'] ?? '').trim() === '' ? [say`Say why it is corrected.`] : []),
      ...read.problems.map((problem) => problemWords(words, problem)),
    ];
    if (open.length === 0 && !of.draft.isKept)
      open.push(say`The last of what was typed is not on the server. Wait for it, or check the network.`);
    setTold(open);
    if (open.length > 0) return;
    record.reset();
    setAsked(true);
  };
  const statement = {
    weighed: read.sent.weighed,
    ...filled(words, ['not aboard', ...SIGN_FIELDS]),
  };
  const sign = () =>
    record.send(
      corrects === undefined
        ? {
            id: of.draft.id,
            kind: 'aircraft weighing',
            happenedOn: of.happenedOn,
            ...statement,
            ...filled(words, ['remark']),
          }
        : {
            ...{ id: of.draft.id, kind: 'correction', entry: corrects },
            ...filled(words, ['reason']),
            replacement: { ...statement, happenedOn: of.happenedOn },
          },
    );
  const result = read.result?.empty;
  return (
    <section className="card stack" aria-label={say`Sign off`}>
      <h2>{corrects === undefined ? say`Sign off` : say`Sign off as a correction of entry ${corrects}`}</h2>
      <div className="field-grid">
        <WordField of={of} field="happenedOn" label={say`Weighed on`} type="date" hint={say`Left empty: today.`} />
        <WordField of={of} field="signed by" label={say`Signed by`} hint={say`Who answers for it, by name.`} />
        <WordField
          of={of}
          field="signed on"
          label={say`Signed on`}
          type="date"
          hint={say`Left empty: the day it was weighed.`}
        />
        <WordField of={of} field="signed as" label={say`Licence or authority`} />
        {corrects === undefined ? null : <WordField of={of} field="reason" label={say`Why it is corrected`} isWide />}
        <WordField
          of={of}
          field="mass limit"
          label={say`Runs may differ by`}
          hint={say`Left empty: 0.2 % of the weight (common practice, no source).`}
        />
        <WordField
          of={of}
          field="cg limit"
          label={say`And their CG by`}
          hint={say`Left empty: 5 mm (common practice, no source).`}
        />
        <WordField of={of} field="remark" label={say`Remark`} isLong isWide />
      </div>
      {may ? (
        <div className="row">
          <Button kind="main" onPress={look}>{say`Sign off …`}</Button>
        </div>
      ) : (
        <p className="notice">{say`A lead signs it off. What you type is kept, and stands on the lead’s screen as well.`}</p>
      )}
      {told.length === 0 ? null : (
        <div className="notice bad stack-tight" role="alert">
          <strong>{say`Not signed yet. Put this right first; most of it is told at its place as well:`}</strong>
          <ul className="plain-list">
            {told.slice(0, MOST_TOLD).map((one) => (
              <li key={one}>{one}</li>
            ))}
          </ul>
          {told.length > MOST_TOLD ? <p>{rich`And ${told.length - MOST_TOLD} more.`}</p> : null}
        </div>
      )}
      {isAsked && result !== undefined ? (
        <Dialog title={say`Sign off this weighing?`} isOpen onClose={() => setAsked(false)}>
          <div className="stack">
            <p>
              {rich`${words['signed by']} signs: empty weight ${plusMinus(shown.massWithStd(result.massKg, result.massStdKg), shown.units.mass)}, CG x ${plusMinus(shown.lengthWithStd(result.xM, result.xStdM), shown.units.length)}.`}
            </p>
            <LookAgain doubts={of.doubts} />
            <p className="soft">{say`It becomes an entry of the ledger, with everything that was typed. It can be corrected, and is never changed.`}</p>
            {record.refusal([]) === undefined ? null : (
              <p className="notice bad" role="alert">
                {record.refusal([])}
              </p>
            )}
            <div className="row">
              <Button kind="main" onPress={sign} isDisabled={record.isSending}>{say`Sign off`}</Button>
              <Button onPress={() => setAsked(false)}>{say`Not yet`}</Button>
            </div>
          </div>
        </Dialog>
      ) : null}
    </section>
  );
}

function filled(words: Readonly<Record<string, string>>, fields: readonly string[]): Readonly<Record<string, string>> {
  return Object.fromEntries(
    fields.flatMap((field) => {
      const text = (words[field] ?? '').trim();
      return text === '' ? [] : [[field, text]];
    }),
  );
}
