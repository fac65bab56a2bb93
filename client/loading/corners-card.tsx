/** The corners of the envelope as they are typed or pasted, in a table that the keyboard works, with the envelope they make so far. */

import { type ClipboardEvent, type KeyboardEvent, useMemo } from 'react';
import type { RowDraft } from '#shared/loading/draft.ts';
import { unitsFor } from '#shared/loading/draft.ts';
import { ENVELOPE, readCorners, WHOLE } from '#shared/loading/read-draft.ts';
import { say } from '#shared/words/say.ts';
import { Button, Choice } from '../pieces/controls.tsx';
import { rich } from '../words/rich.ts';
import { EnvelopeSketch } from './envelope-sketch.tsx';
import { type Limits, placeName } from './use-limits.ts';

const BY = [
  { value: 'station', words: say`Station x` },
  { value: 'per cent MAC', words: say`Per cent MAC` },
] as const;

export function CornersCard({ of, hasChord }: { readonly of: Limits; readonly hasChord: boolean }) {
  const { draft } = of;
  const by = draft.words['envelope by'] === 'per cent MAC' ? say`per cent MAC` : 'station';
  const unitOf = unitsFor(draft, of.units);
  const envelope = useMemo(() => readCorners(draft, of.units), [draft, of.units]);
  const problem = of.problemAt(ENVELOPE, '') ?? of.problemAt(WHOLE, 'envelope by');
  return (
    <section className="card stack" aria-label={say`Envelope`}>
      <div className="stack-tight">
        <h2>{say`Envelope`}</h2>
        <p className="soft">{say`Its corners once around, each a mass and a CG; straight lines join them, and the last joins the first. Rows copied from a table can be pasted.`}</p>
      </div>
      <Choice
        label={say`The CG is given as`}
        options={BY}
        value={by}
        onChange={(next) => of.set(WHOLE, 'envelope by', next)}
        problem={
          by === 'per cent MAC' && !hasChord
            ? say`The aircraft states no MAC. Give its MAC and leading edge in Set-up, or the corners by station.`
            : undefined
        }
      />
      <div className="corners-and-sketch">
        <div className="stack-tight">
          <table className="corner-table">
            <thead>
              <tr>
                <th scope="col">{say`Corner`}</th>
                <th scope="col">{rich`Mass, ${unitOf('mass')}`}</th>
                <th scope="col">{by === 'station' ? say`Station, ${unitOf('at')}` : say`% MAC`}</th>
                <th scope="col">
                  <span className="hidden-words">{say`Remove`}</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {draft.corners.map((row, at) => (
                <CornerRow key={row.key} of={of} row={row} at={at} />
              ))}
            </tbody>
          </table>
          {problem === undefined ? null : (
            <p className="notice bad" id="envelope-problem">
              {problem}
            </p>
          )}
          <div className="row">
            <span data-place="add corner">
              <Button onPress={() => of.addCorner()}>{say`Add a corner`}</Button>
            </span>
            <span className="soft small keys">
              {rich`${<kbd>{say`Enter`}</kbd>} goes on and adds · ${<kbd>{say`Alt`}</kbd>} + ${<kbd>↑</kbd>} or ${<kbd>↓</kbd>} moves · ${<kbd>{say`Alt`}</kbd>} + ${<kbd>{say`Delete`}</kbd>} removes`}
            </span>
          </div>
        </div>
        <EnvelopeSketch envelope={envelope} />
      </div>
    </section>
  );
}

function CornerRow({ of, row, at }: { readonly of: Limits; readonly row: RowDraft; readonly at: number }) {
  const { key } = row;
  const problems = ['mass', 'at'].flatMap((field) => of.problemAt(key, field) ?? []);
  const onKeyDown = (event: KeyboardEvent, field: 'mass' | 'at') => {
    if (event.altKey && (event.key === 'ArrowUp' || event.key === 'ArrowDown')) {
      event.preventDefault();
      of.nudgeCorner(key, event.key === 'ArrowUp' ? -1 : 1);
    } else if (event.altKey && event.key === 'Delete') {
      event.preventDefault();
      of.removeCorner(key);
    } else if (event.key === 'Enter') {
      event.preventDefault();
      const { corners } = of.draft;
      const next = corners[at + 1];
      if (field === 'mass') focusPlace(placeName(key, 'at'));
      else if (next === undefined) of.addCorner();
      else focusPlace(placeName(next.key, 'mass'));
    }
  };
  const onPaste = (event: ClipboardEvent) => {
    if (of.pasteCorners(key, event.clipboardData.getData('text/plain'))) event.preventDefault();
  };
  const cell = (field: 'mass' | 'at', label: string) => {
    const problem = of.problemAt(key, field);
    return (
      <input
        aria-label={say`${label} of corner ${at + 1}`}
        data-place={placeName(key, field)}
        value={row.words[field] ?? ''}
        autoComplete="off"
        inputMode="decimal"
        aria-invalid={problem !== undefined}
        {...(problems.length === 0 ? {} : { 'aria-describedby': `${key}-problems` })}
        onChange={(event) => of.set(key, field, event.target.value)}
        onBlur={() => of.touch(key, field)}
        onKeyDown={(event) => onKeyDown(event, field)}
        onPaste={onPaste}
      />
    );
  };
  return (
    <>
      <tr>
        <th scope="row">{at + 1}</th>
        <td className="field">{cell('mass', say`Mass`)}</td>
        <td className="field">{cell('at', 'CG')}</td>
        <td>
          <Button slim kind="quiet" aria-label={say`Remove corner ${at + 1}`} onPress={() => of.removeCorner(key)}>
            ✕
          </Button>
        </td>
      </tr>
      {problems.length === 0 ? null : (
        <tr>
          <td />
          <td colSpan={3} className="field">
            <span className="problem" id={`${key}-problems`}>
              {problems.join(' ')}
            </span>
          </td>
        </tr>
      )}
    </>
  );
}

function focusPlace(place: string): void {
  document.querySelector<HTMLElement>(`[data-place="${CSS.escape(place)}"]`)?.focus();
}
