/**
 * Measures what the ledger's design promises, as ratios in one run on one machine. Nothing is asserted: read it, and compare it with
 * the last time. `npm run bench` measures all, `npm run bench -- forecast history` those that are named.
 */
import { benchBackup } from './backup.ts';
import { benchFold } from './fold.ts';
import { benchForecast } from './forecast.ts';
import { benchHistory } from './history.ts';
import { benchLoad } from './load.ts';
import { benchMemory } from './memory.ts';
import { benchMesh } from './mesh.ts';
import { benchOpenList } from './open-list.ts';
import { benchParts } from './parts.ts';
import { benchPlans } from './plans.ts';
import { benchRecording } from './recording.ts';
import { benchRunning } from './running.ts';

const BENCHES: Readonly<Record<string, () => Promise<string>>> = {
  backup: benchBackup,
  fold: benchFold,
  recording: benchRecording,
  parts: benchParts,
  mesh: benchMesh,
  running: benchRunning,
  forecast: benchForecast,
  history: benchHistory,
  load: benchLoad,
  memory: benchMemory,
  'open-list': benchOpenList,
  plans: benchPlans,
};

const asked = process.argv.slice(2);
const unknown = asked.filter((name) => BENCHES[name] === undefined);
if (unknown.length > 0) {
  process.stderr.write(`no bench ${unknown.join(', ')}: there are ${Object.keys(BENCHES).join(', ')}\n`);
  process.exit(1);
}
for (const [name, bench] of Object.entries(BENCHES))
  if (asked.length === 0 || asked.includes(name)) process.stdout.write(`${await bench()}\n`);
