/** Beside the field: what was read from the scale, what has to be answered before it is taken, or why it is not. */
import { MASS_UNITS } from '#shared/quantity/units.ts';
import { Button } from '../../pieces/controls.tsx';
import { LINE_WORDS, saidOf } from '../../words/scale-lines.ts';
import type { ScaleLine } from './use-scale-line.ts';

export function LineQuestion<Name extends string>({ of }: { readonly of: ScaleLine<Name> }) {
  return (
    <div className="line-question" role="status">
      <Said of={of} />
    </div>
  );
}

function Said<Name extends string>({ of }: { readonly of: ScaleLine<Name> }) {
  const { state } = of;
  if (state === undefined) return null;
  if (state.kind === 'taken')
    return (
      <p className="soft small">
        {LINE_WORDS.read} {saidOf(state.reading)}
      </p>
    );
  const { name, text } = state;
  if (state.kind === 'refused')
    return (
      <div className="notice bad stack-tight">
        <p>{state.words}</p>
        <div className="acts">
          {state.asComma === undefined ? null : (
            <Button onPress={() => of.offer(name, text, true)}>{LINE_WORDS.comma(state.asComma)}</Button>
          )}
          <Button onPress={of.leave}>{LINE_WORDS.leave}</Button>
        </div>
      </div>
    );
  const { reading, doubts } = state;
  return (
    <div className="notice warn stack-tight">
      <p>
        {LINE_WORDS.read} <strong>{saidOf(reading)}</strong>
      </p>
      {doubts.map((words) => (
        <p key={words}>{words}</p>
      ))}
      {reading.unit === undefined ? <p>{LINE_WORDS.noUnit}</p> : null}
      <div className="acts">
        {reading.unit === undefined ? (
          MASS_UNITS.map((unit) => (
            <Button key={unit} onPress={() => of.take(unit)}>
              {LINE_WORDS.take(`${reading.digits}\u00a0${unit}`)}
            </Button>
          ))
        ) : (
          <Button onPress={() => of.take(undefined)}>
            {LINE_WORDS.take(`${reading.digits}\u00a0${reading.unit}`)}
          </Button>
        )}
        <Button onPress={of.leave}>{LINE_WORDS.leave}</Button>
      </div>
    </div>
  );
}
