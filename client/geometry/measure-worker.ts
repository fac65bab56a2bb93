/**
 * Reads, fingerprints and measures one mesh off the interface's thread (rule E5), and tells how far it is. Whoever does not want it any
 * more ends this worker; nothing is left behind.
 */
import type { FileEvidence } from '#shared/geometry/geometry.ts';
import { type Measured, type MeshQuestion, measureMesh } from '#shared/geometry/measure.ts';
import type { Stepwise } from '#shared/geometry/mesh.ts';
import { sha256Of } from '#shared/geometry/sha256.ts';
import type { Refusal } from '#shared/problem/registry.ts';

export type Asked = MeshQuestion & { readonly file: File };

export type Answer =
  | { readonly share: number }
  | { readonly refusal: Refusal }
  | { readonly measured: Measured; readonly evidence: FileEvidence };

/** What of the whole work the fingerprint is. */
const FINGERPRINT = 0.35;
const TELL_EVERY_MS = 80;

// The page's types know no worker's global; these are the two things needed of it.
const scope = globalThis as unknown as {
  onmessage: (event: MessageEvent<Asked>) => void;
  postMessage: (answer: Answer) => void;
};

scope.onmessage = ({ data }) => {
  void answerTo(data).then((answer) => scope.postMessage(answer));
};

async function answerTo({ file, unit, shape }: Asked): Promise<Answer> {
  let bytes: Uint8Array;
  try {
    bytes = new Uint8Array(await file.arrayBuffer());
  } catch {
    return { refusal: { code: 'file-unreadable', why: 'the browser was not given it' } };
  }
  const sha256 = carriedOut(sha256Of(bytes), 0, FINGERPRINT);
  const measured = carriedOut(measureMesh({ name: file.name, bytes }, { unit, shape }), FINGERPRINT, 1);
  if (!measured.ok) return { refusal: measured.refusal };
  return { measured: measured.value, evidence: { fileName: file.name, byteLength: bytes.length, sha256 } };
}

function carriedOut<Value>(work: Stepwise<Value>, from: number, to: number): Value {
  let toldAt = 0;
  for (;;) {
    const step = work.next();
    if (step.done === true) return step.value;
    const now = performance.now();
    if (now - toldAt < TELL_EVERY_MS) continue;
    toldAt = now;
    scope.postMessage({ share: from + (to - from) * step.value });
  }
}
