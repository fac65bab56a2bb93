/**
 * What is not yet in an assembly that stands on the scale (rule W7): every part below it, to be ticked off. Kept as the words that are
 * recorded, `RIB-3; TIP-1 piece 2`. An assembly that is not in it takes its parts along.
 */

import type { PartReport } from '#shared/contract/reports.ts';
import { say } from '#shared/words/say.ts';
import { rich } from '../words/rich.ts';
import './not-yet-in.css';

export type Below = { readonly part: PartReport; readonly depth: number };

/** The parts below an assembly, each before its own parts. */
export function partsBelow(parts: readonly PartReport[], assembly: string): readonly Below[] {
  const children = new Map<string, PartReport[]>();
  for (const part of parts)
    if (part.assembly !== undefined) children.set(part.assembly, [...(children.get(part.assembly) ?? []), part]);
  const below: Below[] = [];
  const descend = (number: string, depth: number): void => {
    for (const part of children.get(number) ?? []) {
      below.push({ part, depth });
      descend(part.number, depth + 1);
    }
  };
  descend(assembly, 0);
  return below;
}

/** By number: the pieces that are not in it as they were typed; empty for all of them. */
export function readMissing(words: string): ReadonlyMap<string, string> {
  return new Map(
    words
      .split(';')
      .map((one) => one.trim())
      .filter((one) => one !== '' && one !== 'none')
      .map((one) => {
        const split = /^(.+?)\s+pieces?\s*([\d\s,–-]*)$/i.exec(one);
        return split?.[1] === undefined ? [one, ''] : [split[1], split[2] ?? ''];
      }),
  );
}

function writeMissing(missing: ReadonlyMap<string, string>): string {
  return [...missing]
    .map(([number, pieces]) => (pieces.trim() === '' ? number : say`${number} piece ${pieces}`))
    .join('; ');
}

export function NotYetIn(props: {
  readonly label: string;
  readonly below: readonly Below[];
  readonly value: string;
  readonly onChange: (words: string) => void;
  readonly problem?: string | undefined;
}) {
  const { below } = props;
  const missing = readMissing(props.value);
  const set = (number: string, pieces: string | undefined) => {
    const after = new Map(missing);
    if (pieces === undefined) after.delete(number);
    else after.set(number, pieces);
    props.onChange(writeMissing(after));
  };
  if (below.length === 0) return null;
  const isGone = goneOf(below, missing);
  const inIt = below.filter(({ part }) => !isGone(part) && missing.get(part.number) !== '').length;
  return (
    <fieldset className="not-yet-in">
      <legend>
        {props.label}{' '}
        <span className="soft small">
          {inIt === below.length ? say`all is in it` : say`${inIt} of ${below.length} parts are in it`}
        </span>
      </legend>
      <p className="soft small">{say`Tick what was not on the scale. All else is taken to be in it.`}</p>
      <ul tabIndex={0} aria-label={say`Parts below the assembly`}>
        {below.map(({ part, depth }) => {
          const pieces = missing.get(part.number);
          const isTaken = isGone(part);
          return (
            <li key={part.partId} style={{ paddingInlineStart: `${depth * 1.25}rem` }}>
              <label className="tick">
                <input
                  type="checkbox"
                  checked={isTaken || pieces !== undefined}
                  disabled={isTaken}
                  onChange={(event) => set(part.number, event.target.checked ? '' : undefined)}
                />
                <span>
                  <strong>{part.number}</strong> {part.name}
                </span>
              </label>
              {pieces === undefined || isTaken || part.quantity === 1 ? null : (
                <label className="field which">
                  <span className="small">{rich`Which of its ${part.quantity} pieces`}</span>
                  <input
                    value={pieces}
                    placeholder={say`all`}
                    onChange={(event) => set(part.number, event.target.value)}
                  />
                </label>
              )}
            </li>
          );
        })}
      </ul>
      {props.problem === undefined ? null : <span className="problem">{props.problem}</span>}
    </fieldset>
  );
}

/** True of a part whose assembly, or one further up, is not in it as a whole. */
function goneOf(below: readonly Below[], missing: ReadonlyMap<string, string>): (part: PartReport) => boolean {
  const gone = new Set<string>();
  for (const { part } of below) {
    const above = part.assembly;
    if (above !== undefined && (gone.has(above) || missing.get(above) === '')) gone.add(part.number);
  }
  return (part) => gone.has(part.number);
}
