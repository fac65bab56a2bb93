/**
 * The scale on a cable, beside the field that is highlighted: its live figure with whether it is at rest, and "take it". What is taken goes the way
 * of every line: a figure without a unit, or of a scale that moves, is asked about.
 */
import { useRef, useState } from 'react';
import type { ScaleReading } from '#shared/weighing/scale-line.ts';
import { Button, Choice, Picker } from '../../pieces/controls.tsx';
import { saidOf } from '../../words/scale-lines.ts';
import { PORT_WORDS } from '../../words/scale-port.ts';
import { type ScalePorts, scalePorts } from './port.ts';
import { BAUD_RATES, recallSettings, rememberSettings, type Settings } from './settings.ts';
import { usePort } from './use-port.ts';

type Given = {
  readonly field: string;
  /** Nothing stands in the field. */
  readonly isEmpty: boolean;
  readonly onTake: (line: string, decimalComma: boolean) => void;
};

export function ScalePortPanel(props: Given) {
  const ports = scalePorts();
  return ports === undefined ? null : <Panel {...props} ports={ports} />;
}

function Panel({ ports, field, isEmpty, onTake }: Given & { readonly ports: ScalePorts }) {
  const [settings, setSettings] = useState(recallSettings);
  const isTaken = useRef(false);
  const set = (changed: Partial<Settings>) => {
    const next = { ...settings, ...changed };
    rememberSettings(next);
    setSettings(next);
  };
  const takeByItself = (reading: ScaleReading, line: string) => {
    const isLoaded = reading.isStable === true && reading.value > 0 && reading.unit !== undefined;
    // One load is taken once: the scale moves, or is empty, before the next.
    if (!isLoaded) isTaken.current = false;
    else if (settings.byItself && isEmpty && !isTaken.current) {
      isTaken.current = true;
      onTake(line, settings.decimalComma);
    }
  };
  const { state, connect, disconnect } = usePort(ports, settings, takeByItself);
  const isOpen = state.at !== 'closed' && state.at !== 'opening';
  return (
    <details className="more scale-port">
      <summary>{PORT_WORDS.title}</summary>
      <div className="stack-tight">
        {state.at === 'saying' ? (
          <>
            <output className={`live-figure ${state.reading.isStable === false ? 'moving' : ''}`}>
              {saidOf(state.reading)}
            </output>
            <Button onPress={() => onTake(state.line, settings.decimalComma)}>
              {PORT_WORDS.take}: {field}
            </Button>
          </>
        ) : (
          <p role="status" className={state.at === 'refused' ? 'problem' : 'soft'}>
            {state.at === 'opening' ? PORT_WORDS.opening : state.words}
          </p>
        )}
        <div className="row">
          {isOpen ? (
            <Button onPress={disconnect}>{PORT_WORDS.disconnect}</Button>
          ) : (
            <Button onPress={connect} isDisabled={state.at === 'opening'}>
              {PORT_WORDS.connect}
            </Button>
          )}
        </div>
        <label className="tick">
          <input
            type="checkbox"
            checked={settings.byItself}
            onChange={(event) => set({ byItself: event.target.checked })}
          />
          {PORT_WORDS.byItself}
        </label>
        <label className="tick">
          <input
            type="checkbox"
            checked={settings.decimalComma}
            onChange={(event) => set({ decimalComma: event.target.checked })}
          />
          {PORT_WORDS.comma}
        </label>
        {isOpen ? null : (
          <>
            <Picker
              label={PORT_WORDS.baud}
              options={BAUD_RATES.map((rate) => ({ value: String(rate), words: String(rate) }))}
              value={String(settings.baudRate)}
              onChange={(rate) =>
                set({ baudRate: BAUD_RATES.find((one) => String(one) === rate) ?? settings.baudRate })
              }
            />
            <Choice
              label={PORT_WORDS.parity}
              options={PORT_WORDS.parities}
              value={settings.parity}
              onChange={(parity) => set({ parity })}
            />
            <Choice
              label={PORT_WORDS.dataBits}
              options={[
                { value: '7', words: '7' },
                { value: '8', words: '8' },
              ]}
              value={settings.dataBits === 7 ? '7' : '8'}
              onChange={(bits) => set({ dataBits: bits === '7' ? 7 : 8 })}
            />
          </>
        )}
      </div>
    </details>
  );
}
