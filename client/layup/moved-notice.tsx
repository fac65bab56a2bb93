/** Materials whose figures in the list are no longer those that the schedule was computed from: which, old and new, and the way to the new ones. */

import { isSameMaterial, type Material, materialKey } from '#shared/layup/material.ts';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { percent } from '../pieces/units.ts';
import { figuresInWords } from '../setup/material-words.ts';
import { rich } from '../words/rich.ts';
import type { Schedule } from './use-schedule.ts';

export function MovedNotice(props: {
  readonly of: Schedule;
  readonly copied: readonly Material[];
  readonly list: ReadonlyMap<string, Material>;
}) {
  const { of, copied, list } = props;
  const moved = copied.flatMap((was) => {
    const is = list.get(materialKey(was.name));
    return is !== undefined && isSameMaterial(was, is) ? [] : [{ was, is }];
  });
  if (moved.length === 0) return null;
  const isListed = (name: string) => list.has(materialKey(name));
  const renewed = moved.filter(({ is }) => is !== undefined);
  return (
    <div className="notice warn stack-tight" role="status">
      <strong>{say`The list of materials has moved on since this was computed`}</strong>
      <ul className="moved">
        {moved.map(({ was, is }) => (
          <li key={was.name}>
            {rich`${was.name}: computed from ${figuresInWords(was)} (± ${percent(was.std)}), ${
              is === undefined
                ? say`no longer on the list`
                : say`the list now says ${figuresInWords(is)} (± ${percent(is.std)})`
            }.`}
          </li>
        ))}
      </ul>
      {renewed.length === 0 ? null : (
        <div className="row">
          <Button
            slim
            onPress={() =>
              of.replace({ ...of.draft, copied: of.draft.copied.filter(({ name }) => !isListed(name ?? '')) })
            }
          >{say`Compute anew with the list’s figures`}</Button>
          <span className="small">{say`Recorded as a new entry, if you then record it; the estimate before stays.`}</span>
        </div>
      )}
    </div>
  );
}
