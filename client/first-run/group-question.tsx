/** The fifth question: the groups in which parts are counted, from one of two sets, each with a target if there is one. */

import { Input, TextField } from 'react-aria-components';
import { type GroupSet, STARTER_GROUPS } from '#shared/target/groups.ts';
import { say } from '#shared/words/say.ts';
import { Button, Choice } from '../pieces/controls.tsx';
import { rich } from '../words/rich.ts';

/** `key` stays with a row while its words change. */
export type GroupRow = { readonly key: number; readonly group: string; readonly target: string };

const SETS = [
  { value: 'functional', words: say`by function` },
  { value: 'ata', words: say`ATA chapters` },
  { value: 'none', words: say`none for now` },
] as const;
export type SetChoice = GroupSet | 'none';

export function rowsOf(choice: SetChoice): readonly GroupRow[] {
  return choice === 'none' ? [] : STARTER_GROUPS[choice].map((group, key) => ({ key, group, target: '' }));
}

export function GroupQuestion(props: {
  readonly choice: SetChoice;
  readonly rows: readonly GroupRow[];
  readonly massUnit: string;
  readonly problem: string | undefined;
  readonly onChoice: (choice: SetChoice) => void;
  readonly onRows: (rows: readonly GroupRow[]) => void;
}) {
  const { rows, onRows } = props;
  const change = (key: number, next: Partial<GroupRow>) =>
    onRows(rows.map((row) => (row.key === key ? { ...row, ...next } : row)));
  const add = () => onRows([...rows, { key: Math.max(-1, ...rows.map(({ key }) => key)) + 1, group: '', target: '' }]);
  return (
    <>
      <Choice label={say`Parts are counted in groups`} options={SETS} value={props.choice} onChange={props.onChoice} />
      {rows.length === 0 ? null : (
        <>
          <p className="soft small">{rich`Change, remove and add as you like. A group may have a target of its own (${props.massUnit}); most have none on the first day. They are offered wherever a group is typed.`}</p>
          <ul className="group-rows">
            {rows.map(({ key, group, target }) => (
              <li key={key}>
                <TextField
                  className="field"
                  aria-label={say`Group`}
                  value={group}
                  onChange={(value) => change(key, { group: value })}
                >
                  <Input />
                </TextField>
                <TextField
                  className="field"
                  aria-label={say`Target of ${group || say`the group`} (${props.massUnit})`}
                  value={target}
                  onChange={(value) => change(key, { target: value })}
                >
                  <Input placeholder={props.massUnit} inputMode="decimal" />
                </TextField>
                <Button
                  kind="quiet"
                  slim
                  aria-label={say`Remove ${group || say`the group`}`}
                  onPress={() => onRows(rows.filter((row) => row.key !== key))}
                >
                  ✕
                </Button>
              </li>
            ))}
          </ul>
        </>
      )}
      <div>
        <Button slim onPress={add}>{say`Add a group`}</Button>
      </div>
      {props.problem === undefined ? null : (
        <p className="notice bad" role="alert">
          {props.problem}
        </p>
      )}
    </>
  );
}
