/** Child of the kill tests: makes backups of the database at `url` into `folder` until it is killed, and says `done` after each. */
import { join } from 'node:path';
import { backupName } from '#db/backup/folder.ts';
import { makeBackup } from '#db/backup/make-backup.ts';
import { openStore } from '#db/engine/open-store.ts';

const [url = '', folder = ''] = process.argv.slice(2);
const store = await openStore({ kind: 'postgres', url });
process.stdout.write('open\n');
for (;;) {
  const at = new Date();
  await makeBackup(store.db, join(folder, backupName(at, 'scheduled')), at);
  process.stdout.write('done\n');
}
