/** Rows to begin the list with: common practice and no source, each an entry of its own that says so. */

import { useState } from 'react';
import { type AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { Material } from '#shared/layup/material.ts';
import { materialInWords } from '#shared/layup/material-words.ts';
import { STARTER_NOTE } from '#shared/layup/starter-materials.ts';
import { say } from '#shared/words/say.ts';
import { ask, newId, wordsOf } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';
import { Button } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { rich } from '../words/rich.ts';
import { figuresInWords, inShopUnits } from './material-words.ts';

export function StarterMaterials(props: {
  readonly aircraft: AircraftReport;
  /** Those that the list does not have. */
  readonly missing: readonly Material[];
  readonly onDone: (words: string) => void;
}) {
  const { aircraft, missing } = props;
  const [isOpen, setOpen] = useState(false);
  const [leftOut, setLeftOut] = useState<ReadonlySet<string>>(new Set());
  const [recordedCount, setRecordedCount] = useState<number>();
  const [failure, setFailure] = useState<string>();
  const taken = missing.filter(({ name }) => !leftOut.has(name));
  const take = async () => {
    setFailure(undefined);
    setRecordedCount(0);
    try {
      for (const [at, material] of taken.entries()) {
        await ask(`/api/aircraft/${aircraft.id}/entries`, {
          method: 'POST',
          body: { id: newId(), kind: 'material', ...statedIn(material) },
          reply: RecordedReport,
        });
        setRecordedCount(at + 1);
      }
      setOpen(false);
      props.onDone(
        say`${taken.length} materials are on the list. Each says “${STARTER_NOTE}” until it is stated anew.`,
      );
    } catch (error) {
      setFailure(wordsOf(error));
    } finally {
      setRecordedCount(undefined);
      ledgerMoved(aircraft.id);
    }
  };
  if (missing.length === 0) return null;
  return (
    <>
      <Button onPress={() => setOpen(true)}>{say`Take the starter rows …`}</Button>
      <Dialog
        title={say`Starter rows`}
        isOpen={isOpen}
        isWide
        isForm
        onClose={recordedCount === undefined ? () => setOpen(false) : undefined}
      >
        <p>{rich`Each of these is ${<strong>{STARTER_NOTE}</strong>}. They get a first schedule going; state them anew as the rolls and cans of the shop come to hand.`}</p>
        <ul className="starter-rows" tabIndex={0} aria-label={say`Starter rows`}>
          {missing.map((material) => (
            <li key={material.name}>
              <label className="tick">
                <input
                  type="checkbox"
                  checked={!leftOut.has(material.name)}
                  onChange={(event) =>
                    setLeftOut((before) => {
                      const after = new Set(before);
                      if (event.target.checked) after.delete(material.name);
                      else after.add(material.name);
                      return after;
                    })
                  }
                />
                <span>
                  <strong>{material.name}</strong>{' '}
                  <span className="soft small">
                    {material.is}, {figuresInWords(material)}
                  </span>
                </span>
              </label>
            </li>
          ))}
        </ul>
        {failure === undefined ? null : (
          <p className="notice bad" role="alert">
            {rich`Not all are recorded. ${failure}`}
          </p>
        )}
        <div className="acts">
          <Button
            kind="main"
            isDisabled={taken.length === 0 || recordedCount !== undefined}
            onPress={() => void take()}
          >
            {recordedCount === undefined ? say`Take ${taken.length} rows` : say`${recordedCount} of ${taken.length} …`}
          </Button>
          <Button isDisabled={recordedCount !== undefined} onPress={() => setOpen(false)}>{say`Cancel`}</Button>
        </div>
      </Dialog>
    </>
  );
}

function statedIn(material: Material): Readonly<Record<string, string>> {
  return Object.fromEntries(
    Object.entries(materialInWords(material)).map(([field, text]) => [
      field,
      field === 'name' ? text : inShopUnits(text),
    ]),
  );
}
