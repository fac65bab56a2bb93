/** What the labels are printed on and for which condition. Sizes are offered and can be typed. */

import { useMemo } from 'react';
import { type PaperProblem, problemsOfRoll, problemsOfSheet, ROLLS, SHEETS, type Sheet } from '#shared/label/sheet.ts';
import { say } from '#shared/words/say.ts';
import { Choice, Field, Picker } from '../pieces/controls.tsx';
import { Folded } from '../record/entry-fields.tsx';
import { CONDITIONS } from '../words/choices.ts';
import { paperProblemWords, rollWords, SHEET_FIELDS, sheetWords } from '../words/labels.ts';
import { asTyped, type LabelSettings } from './kept.ts';
import type { Paper } from './paper.tsx';

const PAPERS = [
  { value: 'sheet', words: say`A4 sheets` },
  { value: 'roll', words: say`Label roll` },
] as const;
const OWN = 'own';

/** The paper as it is typed; undefined while something is wrong with it. */
export function usePaper(settings: LabelSettings): {
  readonly paper: Paper | undefined;
  readonly problems: readonly PaperProblem[];
} {
  return useMemo(() => {
    if (settings.paper === 'roll') {
      const roll = figuresOf(settings.roll);
      const problems = problemsOfRoll(roll);
      return { problems, paper: problems.length > 0 ? undefined : { is: 'roll', roll } };
    }
    const sheet = figuresOf(settings.sheet);
    const problems = problemsOfSheet(sheet);
    return {
      problems,
      paper: problems.length > 0 ? undefined : { is: 'sheet', sheet, first: firstOf(settings, sheet) },
    };
  }, [settings]);
}

function firstOf({ first }: LabelSettings, sheet: Sheet): number {
  return Math.min(Math.max(1, Math.trunc(figureOf(first)) || 1), sheet.columns * sheet.rows);
}

function figuresOf<Name extends string>(typed: Readonly<Record<Name, string>>): Record<Name, number> {
  return Object.fromEntries(Object.entries<string>(typed).map(([name, text]) => [name, figureOf(text)])) as Record<
    Name,
    number
  >;
}

function figureOf(text: string): number {
  return text.trim() === '' ? Number.NaN : Number(text.trim().replace(',', '.'));
}

export function PaperCard(props: {
  readonly settings: LabelSettings;
  readonly change: (changed: Partial<LabelSettings>) => void;
  readonly problems: readonly PaperProblem[];
  readonly hasPieces: boolean;
}) {
  const { settings, change, problems } = props;
  const isRoll = settings.paper === 'roll';
  return (
    <section className="card stack" aria-label={say`Paper`}>
      <Choice label={say`Printed on`} options={PAPERS} value={settings.paper} onChange={(paper) => change({ paper })} />
      {isRoll ? (
        <Sizes
          key="roll"
          label={say`Size of a label`}
          sizes={ROLLS}
          words={rollWords}
          typed={settings.roll}
          fields={SHEET_FIELDS.filter(({ name }) => name === 'widthMm' || name === 'heightMm')}
          problems={problems}
          onChange={(roll) => change({ roll: { ...settings.roll, ...roll } })}
        />
      ) : (
        <Sizes
          key="sheet"
          label={say`Sheet`}
          sizes={SHEETS}
          words={sheetWords}
          typed={settings.sheet}
          fields={SHEET_FIELDS}
          problems={problems}
          onChange={(sheet) => change({ sheet: { ...settings.sheet, ...sheet } })}
        />
      )}
      {isRoll ? null : (
        <Field
          label={say`Begin at label`}
          value={settings.first}
          onChange={(first) => change({ first })}
          hint={say`Counted row by row: the labels before it are gone from the sheet.`}
        />
      )}
      <Choice
        label={say`Expected mass and limits`}
        options={CONDITIONS}
        value={settings.condition}
        onChange={(condition) => change({ condition })}
      />
      {props.hasPieces ? (
        <Choice
          label={say`Parts of several pieces`}
          options={[
            { value: 'each', words: say`one label each` },
            { value: 'all', words: say`one for all` },
          ]}
          value={settings.eachPiece ? 'each' : 'all'}
          onChange={(which) => change({ eachPiece: which === 'each' })}
        />
      ) : null}
    </section>
  );
}

/** Offered sizes, and each figure of them. */
function Sizes<Size extends Partial<Sheet>>(props: {
  readonly label: string;
  readonly sizes: readonly Size[];
  readonly words: (size: Size) => string;
  readonly typed: Readonly<Partial<Record<keyof Sheet, string>>>;
  readonly fields: typeof SHEET_FIELDS;
  readonly problems: readonly PaperProblem[];
  readonly onChange: (changed: Partial<Record<keyof Sheet, string>>) => void;
}) {
  const { sizes, typed, fields, problems } = props;
  const known = sizes.findIndex((size) => fields.every(({ name }) => String(size[name]) === typed[name]));
  const noLength = (name: string) => problems.find((one) => one.is === 'no length' && one.field === name);
  const others = problems.filter(({ is }) => is !== 'no length');
  return (
    <div className="stack-tight">
      <Picker
        label={props.label}
        options={[
          ...sizes.map((size, at) => ({ value: String(at), words: props.words(size) })),
          ...(known < 0 ? [{ value: OWN, words: say`A size of your own` }] : []),
        ]}
        value={known < 0 ? OWN : String(known)}
        onChange={(which) => {
          const size = sizes[Number(which)];
          if (size !== undefined) props.onChange(asTyped(size));
        }}
      />
      <Folded words={say`Other sizes and margins`} isFilled={known < 0} isRefused={problems.length > 0}>
        {fields.map(({ name, label, unit }) => {
          const problem = noLength(name);
          return (
            <Field
              key={name}
              label={label}
              value={typed[name] ?? ''}
              onChange={(text) => props.onChange({ [name]: text })}
              unit={unit}
              problem={problem === undefined ? undefined : paperProblemWords(problem)}
            />
          );
        })}
      </Folded>
      {others.map((problem) => (
        <p key={JSON.stringify(problem)} className="notice bad" role="alert">
          {paperProblemWords(problem)}
        </p>
      ))}
    </div>
  );
}
