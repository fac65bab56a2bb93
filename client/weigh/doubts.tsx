/**
 * What the figure looks like, asked before it is sent (rule W4), with an answer for each slip that has one: it is not enough to be able to say
 * that the reading is right.
 */

import { Fragment, type ReactNode } from 'react';
import type { PreviewReport } from '#shared/contract/reports.ts';
import type { Condition } from '#shared/ledger/entry.ts';
import type { MassUnit } from '#shared/quantity/units.ts';
import { say, term } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { tied } from '../pieces/units.ts';
import { rich } from '../words/rich.ts';
import { UNIT_MEANT } from '../words/slips.ts';

/** What a press can put right on the screen that asks. */
export type Ways = {
  readonly onUnit: (unit: MassUnit) => void;
  readonly onNoTare: () => void;
  readonly quantity: number;
  readonly pieces: readonly number[];
  readonly onPieces: (pieces: readonly number[]) => void;
  readonly onWeighAs: (condition: Condition) => void;
  /** The same reading, of another part. */
  readonly onPart: (number: string) => void;
  readonly onDrop: () => void;
  /** The button that puts an entry right, for who may. */
  readonly correct: (seq: number) => ReactNode;
};

type Doubt = PreviewReport['doubts'][number];

export function Doubts(props: {
  readonly preview: PreviewReport | undefined;
  readonly isSure: boolean;
  readonly onSure: () => void;
  readonly ways?: Ways;
  /** Where nothing else can be put right: the unit that was on the display. */
  readonly onUnit?: (unit: MassUnit) => void;
}) {
  const { ways, onUnit } = props;
  const doubts = props.preview?.doubts ?? [];
  if (doubts.length === 0) return null;
  return (
    <div className="notice warn stack-tight" role="alert">
      <strong>{say`Sure?`}</strong>
      {doubts.map((doubt) => (
        <p key={doubt.words}>{tied(doubt.words)}</p>
      ))}
      {props.isSure ? (
        <p>{say`Taken as it is.`}</p>
      ) : (
        <div className="row">
          {ways === undefined
            ? doubts.map((doubt) => <Fragment key={doubt.words}>{unitOut(doubt, onUnit)}</Fragment>)
            : doubts.map((doubt) => <Fragment key={doubt.words}>{waysOut(doubt, ways)}</Fragment>)}
          <Button onPress={props.onSure}>{sureWords(doubts)}</Button>
        </div>
      )}
    </div>
  );
}

function unitOut({ slip }: Doubt, onUnit: Ways['onUnit'] | undefined): ReactNode {
  const unit = UNIT_MEANT[slip];
  if (unit === undefined || onUnit === undefined) return null;
  return <Button onPress={() => onUnit(unit)}>{rich`The scale showed ${unit}`}</Button>;
}

function waysOut(doubt: Doubt, ways: Ways): ReactNode {
  const { slip } = doubt;
  if (UNIT_MEANT[slip] !== undefined) return unitOut(doubt, ways.onUnit);
  if (slip === 'tare taken twice') return <Button onPress={ways.onNoTare}>{say`Take no tare off`}</Button>;
  if (slip === 'whole lot for one piece') {
    const all = Array.from({ length: ways.quantity }, (_, at) => at + 1);
    return <Button onPress={() => ways.onPieces(all)}>{rich`All ${ways.quantity} pieces stood on the scale`}</Button>;
  }
  if (slip === 'one piece for the lot') {
    const first = ways.pieces[0] ?? 1;
    return <Button onPress={() => ways.onPieces([first])}>{rich`Only piece ${first} stood on the scale`}</Button>;
  }
  return (
    <>
      {slip === 'entered before' ? (
        <Button onPress={ways.onDrop}>{say`It is entered twice: do not save`}</Button>
      ) : null}
      {(doubt.weighAs ?? []).map((condition) => (
        <Button key={condition} onPress={() => ways.onWeighAs(condition)}>
          {rich`It was weighed ${term(condition)}`}
        </Button>
      ))}
      {(doubt.parts ?? []).map((number) => (
        <Button key={number} onPress={() => ways.onPart(number)}>
          {rich`It was ${number}`}
        </Button>
      ))}
      {doubt.correctSeq === undefined ? null : ways.correct(doubt.correctSeq)}
    </>
  );
}

/** What is said by letting it stand. */
function sureWords(doubts: readonly Doubt[]): string {
  if (doubts.some(({ slip }) => slip === 'does not count')) return say`Keep it, although it does not count`;
  if (doubts.some(({ slip }) => slip === 'entered before')) return say`It is a reading of its own`;
  return say`The reading is right`;
}
