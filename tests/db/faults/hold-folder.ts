/** Child of the lock tests: opens the folder given as argument, says so, and holds it until it is killed. */
import { openStore } from '#db/engine/open-store.ts';

const [path = ''] = process.argv.slice(2);
await openStore({ kind: 'folder', path });
process.stdout.write('open\n');
setInterval(() => undefined, 1_000);
