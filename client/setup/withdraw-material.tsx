/** Takes a material off the list, for schedules that are yet to be made. It can be put back by stating it anew. */

import { useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { MaterialReport } from '#shared/contract/set-up.ts';
import { materialInWords } from '#shared/layup/material-words.ts';
import { say } from '#shared/words/say.ts';
import { newId } from '../door/ask.ts';
import { Button } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { useRecord } from '../record/use-record.ts';

export function WithdrawDialog(props: {
  readonly aircraft: AircraftReport;
  readonly of: MaterialReport;
  readonly onClose: (words?: string) => void;
}) {
  const { material } = props.of;
  const [id] = useState(newId);
  const record = useRecord(props.aircraft, ({ entry }) =>
    props.onClose(say`${material.name} is withdrawn: entry ${entry.seq}. Estimates made of it keep their figures.`),
  );
  const refusal = record.refusal([]);
  return (
    <Dialog title={say`Withdraw ${material.name}?`} isOpen onClose={() => props.onClose()}>
      <p>{say`New schedules are no longer offered it. Estimates that were computed of it keep their figures, and their lay-up says that the list has it no more.`}</p>
      {refusal === undefined ? null : (
        <p className="notice bad" role="alert">
          {refusal}
        </p>
      )}
      <div className="acts">
        <Button
          kind="main"
          isDisabled={record.isSending}
          onPress={() => record.send({ id, kind: 'material', ...materialInWords(material), withdrawn: 'yes' })}
        >{say`Withdraw it`}</Button>
        <Button onPress={() => props.onClose()}>{say`Keep it`}</Button>
      </div>
    </Dialog>
  );
}
