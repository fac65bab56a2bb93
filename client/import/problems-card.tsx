/** How many problems there are, the way to the next, and the answers that put many right at once. */

import { Checkbox } from 'react-aria-components';
import { allowanceSentence } from '#shared/table/added-allowances.ts';
import type { DayOrder } from '#shared/table/grid.ts';
import type { ImportKind } from '#shared/table/lists.ts';
import { counted, LOCALE, say } from '#shared/words/say.ts';
import { Button, Choice } from '../pieces/controls.tsx';
import { Failed } from '../pieces/states.tsx';
import { rich } from '../words/rich.ts';
import { AllowanceNotice } from './allowance-notice.tsx';
import type { Problems } from './problems-in.ts';
import type { Look } from './use-look.ts';

const COMMAS = [
  { value: 'sign', words: say`decimal signs: 1,234 is 1.234` },
  { value: 'each', words: say`told cell by cell` },
] as const;

const ORDERS = [
  { value: 'day first', words: say`day, month, year` },
  { value: 'month first', words: say`month, day, year` },
] as const;

export function ProblemsCard(props: {
  readonly aircraftId: string;
  readonly kind: ImportKind;
  readonly problems: Problems;
  readonly look: Look;
  readonly isReady: boolean;
  readonly hasDoubts: boolean;
  /** A column says of each estimate what it rests on. */
  readonly hasEvidence: boolean;
  readonly onlyWrong: boolean;
  readonly onOnlyWrong: (only: boolean) => void;
  readonly onNext: () => void;
  readonly revise: boolean;
  readonly onRevise: (revise: boolean) => void;
  /** Lines that somebody left out. */
  readonly leftOut: ReadonlySet<number>;
  readonly onBringBack: () => void;
  readonly decimalComma: boolean | undefined;
  readonly dayOrder: DayOrder | undefined;
  readonly onDayOrder: (dayOrder: DayOrder) => void;
  readonly onDecimalComma: (decimalComma: boolean | undefined) => void;
}) {
  const { problems, look } = props;
  const warnings = look.preview?.lists[props.kind]?.warnings ?? [];
  const allowances = look.isCurrent
    ? allowanceSentence(look.preview?.lists[props.kind]?.allowances ?? [], 'is')
    : undefined;
  const asksComma = problems.codes.has('ambiguous-comma') || props.decimalComma !== undefined;
  const asksRevise = problems.codes.has('number-taken') || props.revise;
  return (
    <section className="stack-tight" aria-label={say`Problems`}>
      <div className="row problems-head">
        <h2>{say`Rows`}</h2>
        <p role="status" className={problems.count > 0 ? 'problem-count' : 'soft'}>
          {wordsOf(props)}
        </p>
        {problems.byLine.size === 0 ? null : <Button slim onPress={props.onNext}>{say`Next problem`}</Button>}
        {problems.byLine.size === 0 && !props.hasDoubts ? null : (
          <Check
            isOn={props.onlyWrong}
            onChange={props.onOnlyWrong}
            words={say`only lines with problems${props.hasDoubts ? say` or doubts` : ''}`}
          />
        )}
        {props.leftOut.size === 0 ? null : (
          <>
            <p className="soft">{rich`${outWords(props.leftOut)} left out`}</p>
            <Button slim onPress={props.onBringBack}>{say`Bring back`}</Button>
          </>
        )}
      </div>
      {look.error === undefined ? null : <Failed error={look.error} again={look.again} />}
      {problems.whole.map(({ words, remedy }) => (
        <p key={words} className="notice bad" role="alert">
          {words} {remedy}
        </p>
      ))}
      {asksComma ? (
        <Choice
          label={say`Commas in the numbers of this list are`}
          options={COMMAS}
          value={props.decimalComma === true ? 'sign' : 'each'}
          onChange={(value) => props.onDecimalComma(value === 'sign' ? true : undefined)}
        />
      ) : null}
      {problems.codes.has('not-a-day') || props.dayOrder !== undefined ? (
        <Choice
          label={say`Days in this list are written as`}
          options={ORDERS}
          value={props.dayOrder}
          onChange={props.onDayOrder}
        />
      ) : null}
      {asksRevise ? (
        <Check
          isOn={props.revise}
          onChange={props.onRevise}
          words={say`changed estimates of known parts are revisions`}
        />
      ) : null}
      {allowances === undefined ? null : (
        <AllowanceNotice
          words={
            props.hasEvidence
              ? allowances
              : say`${allowances} A column “evidence” that says “calculated” takes the smaller defaults, and one “allowance” states your own.`
          }
          aircraftId={props.aircraftId}
        />
      )}
      {warnings.length === 0 ? null : (
        <ul className="notice warn warnings">
          {warnings.map((warning) => (
            <li key={warning}>{warning}</li>
          ))}
        </ul>
      )}
    </section>
  );
}

function wordsOf({ isReady, look, problems }: Parameters<typeof ProblemsCard>[0]): string {
  if (!isReady) return say`The columns come first.`;
  if (look.preview === undefined) return look.error === undefined ? say`Looking at the list …` : '';
  const told =
    problems.count === 0
      ? say`no problems`
      : say`${counted(problems.count, 'problem', 'problems')} in ${linesOf(problems)}`;
  return look.isCurrent ? `${told}.` : say`${told}; looking again …`;
}

function outWords(lines: ReadonlySet<number>): string {
  const [only] = lines;
  return lines.size === 1 ? say`line ${only}` : say`${lines.size} lines`;
}

function linesOf({ byLine, whole, count }: Problems): string {
  const shown = [...byLine.values()].reduce((sum, list) => sum + list.length, whole.length);
  const lines = byLine.size === 0 ? say`the headings` : counted(byLine.size, 'line', 'lines');
  return shown < count ? say`many lines; the first ${shown.toLocaleString(LOCALE)} are shown` : lines;
}

function Check(props: { readonly isOn: boolean; readonly onChange: (isOn: boolean) => void; readonly words: string }) {
  return (
    <Checkbox className="check" isSelected={props.isOn} onChange={props.onChange}>
      <span className="check-box" aria-hidden="true">
        {props.isOn ? '✓' : ''}
      </span>
      {props.words}
    </Checkbox>
  );
}
