/** Child of the kill tests: restores a file, and says `done` when that has ended. */
import { restoreBackup } from '#db/backup/restore-backup.ts';
import type { StorePlace } from '#db/engine/open-store.ts';

const [kind = '', where = '', from = ''] = process.argv.slice(2);
const place: StorePlace = kind === 'folder' ? { kind, path: where } : { kind: 'postgres', url: where };
process.stdout.write('begun\n');
await restoreBackup(place, from);
process.stdout.write('done\n');
