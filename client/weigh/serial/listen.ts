/**
 * Listens to a scale at a port that is open: bytes into lines, lines into readings. Answers when the port is closed or the scale is unplugged. An
 * error of the line (parity, a break, an overrun) drops what was under way, and listening goes on: the standard gives a new stream then.
 */
import { afterSilence, JOINED, lettersOf, withChunk } from '#shared/weighing/scale-frames.ts';
import type { ScalePort } from './port.ts';

/** Longer than any pause amid a line at the slowest speed. Common practice, no source. */
const SILENCE_MS = 400;

export type Heard = {
  readonly onLine: (line: string) => void;
  /** Signs came that have not ended a line. */
  readonly onSigns: () => void;
};

export async function listen(port: ScalePort, heard: Heard, stop: AbortSignal): Promise<void> {
  let frames = JOINED;
  const quiet = setTimeout(() => {
    frames = afterSilence(frames);
  }, SILENCE_MS);
  try {
    // A fault that cannot be outlived leaves no stream behind.
    let failed: ReadableStream<Uint8Array> | undefined;
    while (port.readable !== null && port.readable !== failed && !stop.aborted) {
      const stream = port.readable;
      const reader = stream.getReader();
      const cancel = () => void reader.cancel().catch(() => undefined);
      stop.addEventListener('abort', cancel, { once: true });
      try {
        for (;;) {
          const { value, done } = await reader.read();
          if (done) return;
          const step = withChunk(frames, lettersOf(value));
          frames = step.frames;
          if (step.lines.length === 0) heard.onSigns();
          for (const line of step.lines) heard.onLine(line);
        }
      } catch {
        frames = JOINED;
        failed = stream;
      } finally {
        stop.removeEventListener('abort', cancel);
        reader.releaseLock();
      }
    }
  } finally {
    clearTimeout(quiet);
  }
}
