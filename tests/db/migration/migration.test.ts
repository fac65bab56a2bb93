/**
 * The schema that the migrations make equals the committed snapshot on both engines (S1).
 *
 * After a new migration write the snapshot anew and review its difference:
 * `TAREBOOK_WRITE_SCHEMA_SNAPSHOT=1 npx vitest run --project real tests/db/migration`
 */
import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { sql } from 'kysely';
import { expect, it } from 'vitest';
import { openStore } from '#db/engine/open-store.ts';
import { describeOnBothEngines, makeDatabase, makeFolder, removePlace } from '#tests/support/engines.ts';
import { schemaText } from '#tests/support/schema-text.ts';

const snapshotPath = join(import.meta.dirname, '../../../db/migration/schema-snapshot.txt');

describeOnBothEngines('migrations', (engine) => {
  it('[S1] the schema is the one of the snapshot', async () => {
    const text = await schemaText(engine.db());
    const { TAREBOOK_WRITE_SCHEMA_SNAPSHOT: write } = process.env;
    if (write === '1' && engine.kind === 'folder') await writeFile(snapshotPath, text);
    expect(text).toBe(await readFile(snapshotPath, 'utf8'));
  });

  it('[S1] opening again changes nothing, and a schema of a newer program is refused', async () => {
    const place =
      engine.kind === 'folder'
        ? ({ kind: 'folder', path: await makeFolder() } as const)
        : ({ kind: 'postgres', url: await makeDatabase() } as const);
    try {
      await (await openStore(place)).close();
      const again = await openStore(place);
      expect(await schemaText(again.db)).toBe(await readFile(snapshotPath, 'utf8'));
      await again.db.transaction().execute(async (tx) => {
        await sql`set local role none`.execute(tx);
        await sql`insert into kysely_migration values ('9999-later', '2026-01-01')`.execute(tx);
      });
      await again.close();
      for (let attempt = 0; attempt < 2; attempt += 1) {
        const refused = openStore(place);
        await expect(refused).rejects.toMatchObject({ code: 'schema-newer' });
        await expect(refused).rejects.toThrow('9999-later');
      }
    } finally {
      await removePlace(place);
    }
  });
});
