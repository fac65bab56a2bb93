/** A scale at a serial port: connecting, what it says now, and what went wrong. */
import { useEffect, useRef, useState } from 'react';
import { readScaleLine, type ScaleReading } from '#shared/weighing/scale-line.ts';
import { lineRefusalInWords } from '#shared/weighing/scale-line-refusal.ts';
import { PORT_WORDS } from '../../words/scale-port.ts';
import { listen } from './listen.ts';
import type { ScalePort, ScalePorts } from './port.ts';
import type { Settings } from './settings.ts';

/** Signs without the end of a line for so long: speed or parity is another. */
const NO_LINE_MS = 3000;

export type PortState =
  | { readonly at: 'closed'; readonly words: string }
  | { readonly at: 'opening' }
  | { readonly at: 'open'; readonly words: string }
  | { readonly at: 'saying'; readonly line: string; readonly reading: ScaleReading }
  | { readonly at: 'refused'; readonly line: string; readonly words: string };

export function usePort(
  ports: ScalePorts,
  settings: Settings,
  onReading: (reading: ScaleReading, line: string) => void,
) {
  const [state, setState] = useState<PortState>({ at: 'closed', words: PORT_WORDS.none });
  const stop = useRef<AbortController>(undefined);
  const latest = useRef({ settings, onReading });
  latest.current = { settings, onReading };
  // Leaving the screen gives the port back.
  useEffect(() => () => stop.current?.abort(), []);

  const hearLine = (line: string) => {
    const { decimalComma } = latest.current.settings;
    const read = readScaleLine(line, { decimalComma });
    if (read.ok) {
      setState({ at: 'saying', line, reading: read.value });
      latest.current.onReading(read.value, line);
    } else {
      setState({ at: 'refused', line, words: lineRefusalInWords(read.refusal) });
    }
  };
  const connect = async () => {
    stop.current?.abort();
    const mine = new AbortController();
    stop.current = mine;
    const port = await chosen(ports);
    if (port === undefined) return setState({ at: 'closed', words: PORT_WORDS.noPermission });
    setState({ at: 'opening' });
    try {
      const { baudRate, dataBits, parity } = latest.current.settings;
      await port.open({ baudRate, dataBits, parity });
    } catch {
      return setState({ at: 'closed', words: PORT_WORDS.busy });
    }
    setState({ at: 'open', words: PORT_WORDS.listening });
    let since: number | undefined;
    const heard = {
      onLine: (line: string) => {
        since = undefined;
        hearLine(line);
      },
      onSigns: () => {
        since ??= Date.now();
        if (Date.now() - since > NO_LINE_MS) setState({ at: 'open', words: PORT_WORDS.noLine });
      },
    };
    await listen(port, heard, mine.signal);
    await port.close().catch(() => undefined);
    // Another connection may have begun meanwhile.
    if (stop.current === mine)
      setState({ at: 'closed', words: mine.signal.aborted ? PORT_WORDS.none : PORT_WORDS.gone });
  };
  return { state, connect: () => void connect(), disconnect: () => stop.current?.abort() };
}

/** The one that was allowed before where there is one alone; else the browser asks. */
async function chosen(ports: ScalePorts): Promise<ScalePort | undefined> {
  try {
    const allowed = await ports.getPorts();
    const [only] = allowed;
    return allowed.length === 1 ? only : await ports.requestPort();
  } catch {
    return undefined;
  }
}
