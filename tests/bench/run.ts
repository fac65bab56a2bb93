/**
 * Measures what the ledger's design promises, as ratios in one run on one machine. Nothing is asserted: read it, and compare it with
 * the last time. `npm run bench`
 */
import { benchFold } from './fold.ts';
import { benchMesh } from './mesh.ts';
import { benchParts } from './parts.ts';
import { benchRecording } from './recording.ts';
import { benchRunning } from './running.ts';

for (const bench of [benchFold, benchRecording, benchParts, benchMesh, benchRunning])
  process.stdout.write(`${await bench()}\n`);
