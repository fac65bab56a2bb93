/** One entry: what was stated, what it did by cause, and what it left behind. */

import type { EffectReport, EntryReport } from '#shared/contract/reports.ts';
import { showFixed } from '#shared/quantity/show.ts';
import { LENGTH_UNIT_M, MASS_UNIT_KG } from '#shared/quantity/units.ts';
import { describeEntry } from '#shared/rollup/describe-entry.ts';
import { dayWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { minus, type Shown, tied } from '../pieces/units.ts';
import { causeName } from '../words/causes.ts';
import { rich } from '../words/rich.ts';
import { marksWords } from '../words/scale-marks.ts';

export function EntryRow(props: {
  readonly row: EntryReport;
  readonly partName: string | undefined;
  readonly shown: Shown;
  readonly onAsKnownAt?: () => void;
  readonly onCorrect: (() => void) | undefined;
}) {
  const { row, shown } = props;
  const { massWithUnit, lengthWithUnit, units } = shown;
  return (
    <li className={`entry ${row.correctedBySeq === undefined ? '' : 'corrected'}`} value={row.seq}>
      <div className="entry-what">
        <p className="entry-words">{tied(describeEntry(row, units))}</p>
        <p className="soft small">
          {rich`${props.partName === undefined ? '' : `${props.partName} · `}entry ${row.seq} · ${<span className="unparted">{dayWords(row.entry.happenedOn)}</span>} · ${row.entry.by}${row.entry.remark === undefined ? '' : ` · ${row.entry.remark}`}`}
        </p>
        {row.marks.length === 0 ? null : <p className="doubt small">{marksWords(row.marks)}</p>}
      </div>
      <dl className="entry-effects">
        {row.effects.map((effect) => {
          const { name, figure } = effectWords(effect, shown);
          return (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{figure}</dd>
            </div>
          );
        })}
      </dl>
      <dl className="entry-after">
        <div>
          <dt>{say`predicted`}</dt>
          <dd>{massWithUnit(row.predictedKg)}</dd>
        </div>
        {row.marginKg === undefined ? null : (
          <div>
            <dt>{say`margin`}</dt>
            <dd>{massWithUnit(row.marginKg, { sign: true })}</dd>
          </div>
        )}
        {row.cgXM === undefined ? null : (
          <div>
            <dt>{say`CG x`}</dt>
            <dd>{lengthWithUnit(row.cgXM)}</dd>
          </div>
        )}
      </dl>
      <div className="entry-acts no-print">
        {props.onAsKnownAt === undefined ? null : (
          <Button
            slim
            kind="quiet"
            onPress={props.onAsKnownAt}
            aria-label={say`As it stood then, at entry ${row.seq}`}
          >{say`As it stood then`}</Button>
        )}
        {props.onCorrect === undefined ? null : (
          <Button
            slim
            kind="quiet"
            onPress={props.onCorrect}
            aria-label={say`Correct entry ${row.seq}`}
          >{say`Correct`}</Button>
        )}
      </div>
    </li>
  );
}

function effectWords(effect: EffectReport, { massWithUnit, units }: Shown): { name: string; figure: string } {
  const cause = causeName(effect);
  if (effect.massKg !== 0) return { name: cause, figure: massWithUnit(effect.massKg, { sign: true }) };
  if (effect.marginKg !== 0)
    return { name: say`${term(cause)}, margin`, figure: massWithUnit(effect.marginKg, { sign: true }) };
  const moment = effect.momentXKgM / MASS_UNIT_KG[units.mass] / LENGTH_UNIT_M[units.length];
  return {
    name: say`${term(cause)}, moment`,
    figure: `${minus(showFixed(moment, 2, { sign: true }))}\u00a0${units.mass}\u00a0${units.length}`,
  };
}
