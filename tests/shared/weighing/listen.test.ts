/** A scale at a port, as the browser's standard has one: real streams of bytes, broken ones and ended ones (rule W13). */
import { setTimeout as sleep } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { listen } from '../../../client/weigh/serial/listen.ts';
import type { ScalePort } from '../../../client/weigh/serial/port.ts';

/** A port whose scale is played by the test. */
function playedPort() {
  let sender: ReadableStreamDefaultController<Uint8Array> | undefined;
  let readable: ReadableStream<Uint8Array> | null = null;
  const fresh = () => {
    readable = new ReadableStream<Uint8Array>({
      start: (controller) => {
        sender = controller;
      },
    });
  };
  fresh();
  const port: ScalePort = {
    get readable() {
      return readable;
    },
    open: async () => undefined,
    close: async () => undefined,
  };
  return {
    port,
    send: (text: string) => sender?.enqueue(new TextEncoder().encode(text)),
    /** An error of the line: the standard gives a new stream. */
    parityError: () => {
      const broken = sender;
      fresh();
      broken?.error(new Error('parity'));
    },
    unplug: () => {
      readable = null;
      sender?.error(new Error('the device has been lost'));
    },
    stick: () => sender?.error(new Error('the same stream, for ever')),
  };
}

function heardOf(port: ScalePort) {
  const lines: string[] = [];
  const stop = new AbortController();
  let signs = 0;
  const heard = { onLine: (line: string) => lines.push(line), onSigns: () => (signs += 1) };
  const ended = listen(port, { ...heard, onSigns: () => void heard.onSigns() }, stop.signal);
  return { lines, stop, ended, signs: () => signs };
}

describe('listening', () => {
  it('[W13] lines come out of bytes in pieces, once the scale was silent before its first sign', async () => {
    const { port, send, unplug } = playedPort();
    const { lines, ended, signs } = heardOf(port);
    await sleep(450);
    send('ST,GS,+  12.3');
    await sleep(500);
    expect([lines, signs()]).toEqual([[], 1]);
    send('45kg\r\nST,GS,+  12.346kg\r\n');
    await sleep(20);
    expect(lines).toEqual(['ST,GS,+  12.345kg', 'ST,GS,+  12.346kg']);
    unplug();
    await ended;
  });

  it('[W13] who begins to listen amid a line takes none of it', async () => {
    const { port, send, unplug } = playedPort();
    const { lines, ended } = heardOf(port);
    send('345 kg\r\n');
    send('12.345 kg\r\n');
    await sleep(20);
    expect(lines).toEqual(['12.345 kg']);
    unplug();
    await ended;
  });

  it('[W13] an error of the line drops what was under way, and listening goes on', async () => {
    const { port, send, parityError, unplug } = playedPort();
    const { lines, ended } = heardOf(port);
    await sleep(450);
    send('12.3');
    await sleep(20);
    parityError();
    await sleep(20);
    send('45 kg\r\n12.345 kg\r\n');
    await sleep(20);
    expect(lines).toEqual(['12.345 kg']);
    unplug();
    await ended;
  });

  it('[W13] it ends where the scale is unplugged, where it is told to, and where the port stays broken', async () => {
    const unplugged = playedPort();
    const first = heardOf(unplugged.port);
    unplugged.unplug();
    await first.ended;
    const told = playedPort();
    const second = heardOf(told.port);
    second.stop.abort();
    await second.ended;
    const stuck = playedPort();
    const third = heardOf(stuck.port);
    stuck.stick();
    await third.ended;
    expect([...first.lines, ...second.lines, ...third.lines]).toEqual([]);
  });
});
