/**
 * Finds the part by the tablet's camera (rule H2). What reads the code is the browser's own detector where it has one, else a library that is
 * loaded only now. Pictures stay in this page.
 */

import { useEffect, useRef, useState } from 'react';
import { say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import { CAMERA_TROUBLE, type CameraTrouble } from '../words/scanning.ts';

/** What the browser's own detector and the library have in common (Shape Detection API). */
type Detector = { readonly detect: (image: HTMLVideoElement) => Promise<readonly { readonly rawValue: string }[]> };

/** Between two looks: a code is held for longer. */
const LOOK_EVERY_MS = 120;
/** The same code is not told again while it is held up. */
const SAME_FOR_MS = 2500;

// biome-ignore lint/style/noDefaultExport: React's lazy loads a screen by its default export.
export default function CameraPanel(props: { readonly onCode: (text: string) => void; readonly onClose: () => void }) {
  const video = useRef<HTMLVideoElement>(null);
  const [state, setState] = useState<'starting' | 'looking' | CameraTrouble>('starting');
  const [attempt, setAttempt] = useState(0);
  const tell = useRef(props.onCode);
  tell.current = props.onCode;
  // biome-ignore lint/correctness/useExhaustiveDependencies: another attempt asks for the camera again.
  useEffect(() => {
    const ended = new AbortController();
    setState('starting');
    look(video.current, ended.signal, {
      onLooking: () => setState('looking'),
      onCode: (text) => tell.current(text),
    }).catch((error: unknown) => {
      if (!ended.signal.aborted) setState(troubleOf(error));
    });
    return () => ended.abort();
  }, [attempt]);
  const trouble = state === 'starting' || state === 'looking' ? undefined : CAMERA_TROUBLE[state];
  return (
    <section className="card stack camera" aria-label={say`Scan a label`}>
      {trouble === undefined ? (
        <p role="status">
          {state === 'starting' ? say`Waiting for the camera …` : say`Hold the label’s code in the picture.`}
        </p>
      ) : (
        <div className="notice warn stack-tight" role="alert">
          <strong>{trouble.words}</strong>
          <p>{trouble.remedy}</p>
        </div>
      )}
      <video
        ref={video}
        className={trouble === undefined ? '' : 'hidden'}
        muted
        playsInline
        aria-label={say`What the camera sees`}
      />
      <div className="row">
        {trouble === undefined || state === 'insecure' ? null : (
          <Button onPress={() => setAttempt(attempt + 1)}>{say`Try again`}</Button>
        )}
        <Button onPress={props.onClose}>{say`Close the camera`}</Button>
      </div>
    </section>
  );
}

/** Shows the camera in the video and tells every code that comes into sight, until it is ended. Rejects with what stands in the way. */
async function look(
  video: HTMLVideoElement | null,
  ended: AbortSignal,
  on: { readonly onLooking: () => void; readonly onCode: (text: string) => void },
): Promise<void> {
  if (video === null) return;
  if (!isSecureContext || navigator.mediaDevices === undefined) throw new DOMException('', 'SecurityError');
  const [stream, detector] = await Promise.all([
    navigator.mediaDevices.getUserMedia({
      video: { facingMode: { ideal: 'environment' }, width: { ideal: 1280 }, height: { ideal: 720 } },
      audio: false,
    }),
    detectorOfCodes(),
  ]);
  const stop = () => {
    for (const track of stream.getTracks()) track.stop();
  };
  if (ended.aborted) return stop();
  ended.addEventListener('abort', stop);
  const isLost = new Promise<never>((_, reject) => {
    for (const track of stream.getTracks())
      track.addEventListener('ended', () => reject(new DOMException('', 'NotReadableError')));
  });
  video.srcObject = stream;
  await video.play();
  on.onLooking();
  await Promise.race([isLost, watch(video, detector, ended, on.onCode)]);
}

async function watch(
  video: HTMLVideoElement,
  detector: Detector,
  ended: AbortSignal,
  onCode: (text: string) => void,
): Promise<void> {
  let last = { text: '', atMs: Number.NEGATIVE_INFINITY };
  while (!ended.aborted) {
    const codes = video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA ? [] : await detector.detect(video);
    const text = codes.map(({ rawValue }) => rawValue).find((raw) => raw !== '');
    if (ended.aborted) return;
    if (text !== undefined) {
      const nowMs = performance.now();
      if (text !== last.text || nowMs - last.atMs > SAME_FOR_MS) onCode(text);
      last = { text, atMs: nowMs };
    }
    await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS));
  }
}

type OwnDetector = {
  new (options: { readonly formats: readonly string[] }): Detector;
  getSupportedFormats(): Promise<readonly string[]>;
};

async function detectorOfCodes(): Promise<Detector> {
  const { BarcodeDetector: own } = globalThis as { readonly BarcodeDetector?: OwnDetector };
  if (own !== undefined && (await own.getSupportedFormats()).includes('qr_code'))
    return new own({ formats: ['qr_code'] });
  const { BarcodeDetector } = await import('qr/decode.js');
  return new BarcodeDetector({ formats: ['qr_code'] });
}

/** By the names that browsers give to what stands in the way (Media Capture and Streams). */
function troubleOf(error: unknown): CameraTrouble {
  const name = error instanceof DOMException ? error.name : '';
  if (name === 'SecurityError') return 'insecure';
  if (name === 'NotAllowedError') return 'refused';
  if (name === 'NotFoundError' || name === 'OverconstrainedError') return 'none';
  if (name === 'NotReadableError' || name === 'AbortError') return 'busy';
  return 'broken';
}
