/**
 * Measuring a mesh of a million triangles: time against another reader that only reads and sums areas, and room against the file. Each
 * kind of mesh is measured in a process of its own, since the room that was once taken is not given back.
 */
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js';
import { measureMesh } from '#shared/geometry/measure.ts';
import { sha256Of } from '#shared/geometry/sha256.ts';
import { line, medianMs } from './median.ts';

const TRIANGLES = 1_000_000;
const RUNS = 5;

export async function benchMesh(): Promise<string> {
  const kinds = ['closed', 'loose'] as const;
  const told: string[] = [];
  for (const kind of kinds) {
    const run = promisify(execFile);
    const { stdout } = await run(process.execPath, ['--expose-gc', fileURLToPath(import.meta.url), kind]);
    told.push(stdout);
  }
  return told.join('');
}

/** Triangles that share their corners, as of a part; or such that none has a corner with another, the most that a file can hold. */
function million(kind: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(84 + 50 * TRIANGLES);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, TRIANGLES, true);
  const around = 1000;
  const along = TRIANGLES / 2 / around;
  let triangle = 0;
  const put = (corners: readonly (readonly [number, number])[]) => {
    corners.forEach(([ring, step], corner) => {
      const own = kind === 'loose' ? 1e-4 * (3 * triangle + corner) : 0;
      const turn = (2 * Math.PI * (step % around)) / around;
      // A ring that is bent once around: closed, and no two places the same.
      const bend = (2 * Math.PI * (ring % along)) / along;
      const out = 3 + Math.cos(turn);
      const at = 84 + 50 * triangle + 12 + 12 * corner;
      view.setFloat32(at, out * Math.cos(bend) + own, true);
      view.setFloat32(at + 4, out * Math.sin(bend), true);
      view.setFloat32(at + 8, Math.sin(turn), true);
    });
    triangle += 1;
  };
  for (let ring = 0; ring < along; ring += 1) {
    for (let step = 0; step < around; step += 1) {
      put([
        [ring, step],
        [ring + 1, step],
        [ring + 1, step + 1],
      ]);
      put([
        [ring, step],
        [ring + 1, step + 1],
        [ring, step + 1],
      ]);
    }
  }
  return bytes;
}

/** Runs to the end; `look` is called at every step. */
function measureAll(bytes: Uint8Array, look: () => void = () => undefined): void {
  const work = measureMesh({ name: 'a.stl', bytes }, { unit: 'mm', shape: 'shell' });
  for (let step = work.next(); ; step = work.next()) {
    look();
    if (step.done !== true) continue;
    if (!step.value.ok) throw new Error(step.value.refusal.code);
    return;
  }
}

function otherReader(bytes: Uint8Array<ArrayBuffer>): number {
  const places = new STLLoader().parse(bytes.buffer).getAttribute('position').array;
  let twice = 0;
  for (let at = 0; at < places.length; at += 9) {
    const along = (corner: number, axis: number) =>
      (places[at + 3 * corner + axis] as number) - (places[at + axis] as number);
    const nx = along(1, 1) * along(2, 2) - along(1, 2) * along(2, 1);
    const ny = along(1, 2) * along(2, 0) - along(1, 0) * along(2, 2);
    const nz = along(1, 0) * along(2, 1) - along(1, 1) * along(2, 0);
    twice += Math.sqrt(nx * nx + ny * ny + nz * nz);
  }
  return twice / 2;
}

async function benchKind(kind: string): Promise<string> {
  const before = process.memoryUsage();
  const bytes = million(kind);
  let buffers = 0;
  let resident = 0;
  measureAll(bytes, () => {
    const now = process.memoryUsage();
    buffers = Math.max(buffers, now.arrayBuffers - before.arrayBuffers);
    resident = Math.max(resident, now.rss - before.rss);
  });
  const otherMs = await medianMs(RUNS, () => otherReader(bytes));
  const other = { name: 'three’s reader and a bare sum of areas', ms: otherMs };
  const ms = await medianMs(RUNS, () => measureAll(bytes));
  const hashMs = await medianMs(RUNS, () => {
    const work = sha256Of(bytes);
    while (work.next().done !== true);
  });
  const room = (taken: number) => `${(taken / 1e6).toFixed(0)} MB, ${(taken / bytes.length).toFixed(2)} x the file`;
  return [
    `Binary STL of ${TRIANGLES.toLocaleString('en-GB')} triangles, ${kind}, ${(bytes.length / 1e6).toFixed(0)} MB\n`,
    line('measure it: figures, edges, outline', ms, other),
    line('its fingerprint', hashMs, other),
    `${'most room in buffers, the file counted'.padEnd(58)} ${room(buffers)}\n`,
    `${'most memory that the process grew by'.padEnd(58)} ${room(resident)}\n`,
  ].join('');
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  process.stdout.write(await benchKind(process.argv[2] ?? 'closed'));
}
