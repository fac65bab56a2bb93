/**
 * Makes the fixtures of `upgrade.test.ts` that are not there yet: for each step of the schema a store of that step with a few rows, as a backup,
 * and the hash of its schema. Run once when a step is new: `npx node tests/db/migration/make-fixtures.ts`. Never made anew: what an earlier
 * version wrote does not change.
 */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeBackup } from '#db/backup/make-backup.ts';
import { asOwner } from '#db/backup/read-store.ts';
import { openStore } from '#db/engine/open-store.ts';
import { migrate, SCHEMA_STEPS } from '#db/migration/migrate.ts';
import { fillStore } from '#tests/db/backup/fill-store.ts';
import { schemaText } from '#tests/support/schema-text.ts';

const FOLDER = join(import.meta.dirname, 'fixtures');
const HASHES = join(FOLDER, 'schemas.json');

for (const [at, step] of SCHEMA_STEPS.entries()) {
  const file = join(FOLDER, `${step}.tar`);
  if (existsSync(file)) continue;
  const store = await openStore({ kind: 'memory' }, { schema: 'as it is' });
  const schema = await store.db.transaction().execute(async (tx) => {
    await asOwner(tx);
    await migrate(tx, step);
    await fillStore(tx, at + 1);
    return schemaText(tx);
  });
  await makeBackup(store.db, file, new Date());
  await store.close();
  const hashes = existsSync(HASHES) ? JSON.parse(readFileSync(HASHES, 'utf8')) : {};
  hashes[step] = createHash('sha256').update(schema).digest('hex');
  writeFileSync(HASHES, `${JSON.stringify(hashes, null, 2)}\n`);
}
