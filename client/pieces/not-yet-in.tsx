/**
 * What is not yet in an assembly that stands on the scale (rule W7): every part below it, to be ticked off. Kept as the words that are
 * recorded, `RIB-3; TIP-1 piece 2`. An assembly that is not in it takes its parts along.
 */

import { useState } from 'react';
import type { PartReport } from '#shared/contract/reports.ts';
import { LOCALE, say } from '#shared/words/say.ts';
import { rich } from '../words/rich.ts';
import { Field } from './controls.tsx';
import { findParts } from './find-parts.ts';
import './not-yet-in.css';

/** A list of ten thousand ticks is slow, and no help. */
const MOST_SHOWN = 200;

export type Below = { readonly part: PartReport; readonly depth: number };

/** The parts below an assembly, each before its own parts. */
export function partsBelow(parts: readonly PartReport[], assembly: string): readonly Below[] {
  const children = new Map<string, PartReport[]>();
  for (const part of parts) {
    if (part.assembly === undefined) continue;
    const beside = children.get(part.assembly);
    if (beside === undefined) children.set(part.assembly, [part]);
    else beside.push(part);
  }
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
  const [search, setSearch] = useState('');
  if (below.length === 0) return null;
  const shown = shownOf(below, search, missing);
  const isGone = goneOf(below, missing);
  const inIt = below.filter(({ part }) => !isGone(part) && missing.get(part.number) !== '').length;
  return (
    <fieldset className="not-yet-in">
      <legend>
        {props.label}{' '}
        <span className="soft small">
          {inIt === below.length
            ? say`all is in it`
            : say`${inIt.toLocaleString(LOCALE)} of ${below.length.toLocaleString(LOCALE)} parts are in it`}
        </span>
      </legend>
      <p className="soft small">{say`Tick what was not on the scale. All else is taken to be in it.`}</p>
      {below.length > MOST_SHOWN ? (
        <Field label={say`Find among the parts`} value={search} onChange={setSearch} />
      ) : null}
      <ul tabIndex={0} aria-label={say`Parts below the assembly`}>
        {shown.map(({ part, depth }) => {
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
      {shown.length < below.length ? (
        <p className="soft small">{say`${shown.length.toLocaleString(LOCALE)} of ${below.length.toLocaleString(LOCALE)} are in sight, with what is ticked: type some of the number or name for others.`}</p>
      ) : null}
      {props.problem === undefined ? null : <span className="problem">{props.problem}</span>}
    </fieldset>
  );
}

/** Of many parts those that fit what is typed, in their order, and what is ticked in any case; at first the first of them. */
function shownOf(below: readonly Below[], search: string, missing: ReadonlyMap<string, string>): readonly Below[] {
  if (below.length <= MOST_SHOWN) return below;
  const found = new Set(
    findParts(
      below.map(({ part }) => part),
      search,
    ),
  );
  let left = MOST_SHOWN;
  return below.filter(({ part }) => {
    if (missing.has(part.number)) return true;
    if (left === 0 || !found.has(part)) return false;
    left -= 1;
    return true;
  });
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
