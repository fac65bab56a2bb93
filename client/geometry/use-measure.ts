/** One mesh at a time, measured in a worker: how far it is, what came of it, and a way to stop it. */
import { useEffect, useRef, useState } from 'react';
import type { FileEvidence } from '#shared/geometry/geometry.ts';
import type { Measured } from '#shared/geometry/measure.ts';
import { tooLargeToRead } from '#shared/geometry/read-mesh.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import type { Answer, Asked } from './measure-worker.ts';

export type Outcome =
  | { readonly is: 'nothing' }
  | { readonly is: 'working'; readonly share: number }
  | { readonly is: 'stopped' }
  | { readonly is: 'refused'; readonly refusal: Refusal }
  | { readonly is: 'measured'; readonly measured: Measured; readonly evidence: FileEvidence };

export type Measuring = {
  readonly outcome: Outcome;
  readonly start: (asked: Asked) => void;
  readonly stop: () => void;
  /** Another file, or another question: what was found does not count for it. */
  readonly forget: () => void;
};

export function useMeasure(): Measuring {
  const [outcome, setOutcome] = useState<Outcome>({ is: 'nothing' });
  const worker = useRef<Worker>(undefined);
  const end = () => {
    worker.current?.terminate();
    worker.current = undefined;
  };
  // Who leaves the page needs no answer.
  useEffect(() => () => worker.current?.terminate(), []);
  const endWith = (last: Outcome) => {
    end();
    setOutcome(last);
  };
  return {
    outcome,
    start: (asked) => {
      end();
      const refusal = tooLargeToRead(asked.file.size);
      if (refusal !== undefined) return setOutcome({ is: 'refused', refusal });
      setOutcome({ is: 'working', share: 0 });
      const begun = new Worker(new URL('./measure-worker.ts', import.meta.url), { type: 'module', name: 'measure' });
      worker.current = begun;
      begun.onmessage = ({ data }: MessageEvent<Answer>) => {
        if ('share' in data) setOutcome({ is: 'working', share: data.share });
        else if ('refusal' in data) endWith({ is: 'refused', refusal: data.refusal });
        else endWith({ is: 'measured', ...data });
      };
      begun.onerror = () =>
        endWith({ is: 'refused', refusal: { code: 'file-unreadable', why: 'the browser gave up on it' } });
      begun.postMessage(asked);
    },
    stop: () => endWith({ is: 'stopped' }),
    forget: () => endWith({ is: 'nothing' }),
  };
}
