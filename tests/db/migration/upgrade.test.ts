/** Data of every earlier schema come forward, after a backup of them as they were; newer data are left alone (rule Z4). */
import { createHash } from 'node:crypto';
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { asOwner, schemaOf } from '#db/backup/read-store.ts';
import { checkBackup, restoreBackup } from '#db/backup/restore-backup.ts';
import { openStore, type StorePlace } from '#db/engine/open-store.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { SCHEMA_STEPS } from '#db/migration/migrate.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { contentsOf } from '#tests/db/backup/contents.ts';
import { describeOnBothEngines, makeDatabase, makeFolder, removePlace } from '#tests/support/engines.ts';
import { schemaText } from '#tests/support/schema-text.ts';

const FIXTURES = join(import.meta.dirname, 'fixtures');
const SNAPSHOT = join(import.meta.dirname, '../../../db/migration/schema-snapshot.txt');

describeOnBothEngines('upgrade', ({ kind }) => {
  const newPlace = async (): Promise<StorePlace> =>
    kind === 'folder' ? { kind, path: await makeFolder() } : { kind, url: await makeDatabase() };
  // The embedded engine takes seconds to make a folder: there the first and the last earlier one stand for all.
  const steps =
    kind === 'folder' ? SCHEMA_STEPS.filter((_, at) => at === 0 || at === SCHEMA_STEPS.length - 2) : SCHEMA_STEPS;

  it.each(steps)(
    '[Z4] data of the step %s come forward with chain and headline, after a backup of them',
    async (step) => {
      const place = await newPlace();
      const backups = await makeFolder();
      try {
        const fixture = join(FIXTURES, `${step}.tar`);
        const { manifest } = await restoreBackup(place, fixture, 'as it was');
        const before = await openStore(place, { schema: 'as it is' });
        expect(await asRead(before, schemaOf)).toEqual(SCHEMA_STEPS.slice(0, SCHEMA_STEPS.indexOf(step) + 1));
        // A step that was changed after it was released would make another schema than that release had.
        const hashes = JSON.parse(await readFile(join(FIXTURES, 'schemas.json'), 'utf8'));
        expect(
          createHash('sha256')
            .update(await schemaText(before.db))
            .digest('hex'),
        ).toBe(hashes[step]);
        const rows = await contentsOf(before.db);
        await before.close();

        const store = await openStore(place, { backups });
        expect(await schemaText(store.db)).toBe(await readFile(SNAPSHOT, 'utf8'));
        const after = await contentsOf(store.db);
        for (const [table, was] of rows) expect(columnsOf(after.get(table) ?? [], was)).toEqual(was);
        for (const { id, entryCount, headHash, headline } of manifest.aircraft) {
          expect(await verifyChain(store.db, id)).toEqual({ ok: true, entryCount, headHash });
          const { predictedKg, cg } = headlineReport(await loadLedger(store.db, id));
          expect({ predictedKg, cgXM: cg.xM ?? null }).toEqual({
            predictedKg: headline?.predictedKg,
            cgXM: headline?.cgXM,
          });
        }
        expect(store.backedUpTo === undefined).toBe(step === SCHEMA_STEPS.at(-1));
        if (store.backedUpTo !== undefined) {
          const { madeAt: _, ...kept } = checkBackup(store.backedUpTo).manifest;
          expect(kept).toMatchObject({ schema: manifest.schema, tables: manifest.tables, aircraft: manifest.aircraft });
        }
        await store.close();
        expect(await openAndClose(place, backups)).toBeUndefined();
      } finally {
        await removePlace(place);
        await removePlace({ kind: 'folder', path: backups });
      }
    },
  );

  it('[Z4] where the backup cannot be made nothing is moved forward, and an empty store needs none', async () => {
    const place = await newPlace();
    const blocked = await makeFolder();
    try {
      await restoreBackup(place, join(FIXTURES, '0003-proposals.tar'), 'as it was');
      // A file where the folder should be: refused to root as well.
      await writeFile(blocked, '');
      await expect(openStore(place, { backups: blocked })).rejects.toMatchObject({ code: 'backup-not-written' });
      const still = await openStore(place, { schema: 'as it is' });
      expect(await asRead(still, schemaOf)).toHaveLength(3);
      await still.close();

      const empty = await newPlace();
      try {
        expect(await openAndClose(empty, blocked)).toBeUndefined();
      } finally {
        await removePlace(empty);
      }
    } finally {
      await removePlace(place);
      await removePlace({ kind: 'folder', path: blocked });
    }
  });
});

it('[Z4] the usual place of such a backup is beside the data and never in them', async () => {
  const place = { kind: 'folder', path: await makeFolder() } as const;
  try {
    await restoreBackup(place, join(FIXTURES, '0002-people.tar'), 'as it was');
    const store = await openStore(place);
    await store.close();
    expect(await readdir(`${place.path}-backups`)).toEqual([
      expect.stringMatching(/^tarebook-\d{8}T\d{9}Z-before-upgrade\.tar$/),
    ]);
  } finally {
    await removePlace(place);
  }
});

it('[Z4] there is a fixture of every step of the schema', async () => {
  expect((await readdir(FIXTURES)).filter((name) => name.endsWith('.tar')).sort()).toEqual(
    SCHEMA_STEPS.map((step) => `${step}.tar`),
  );
});

type Opened = Awaited<ReturnType<typeof openStore>>;

function asRead<Answer>({ db }: Opened, read: (tx: Parameters<typeof asOwner>[0]) => Promise<Answer>): Promise<Answer> {
  return db.transaction().execute(async (tx) => {
    await asOwner(tx);
    return read(tx as never);
  });
}

async function openAndClose(place: StorePlace, backups: string): Promise<string | undefined> {
  const store = await openStore(place, { backups });
  await store.close();
  return store.backedUpTo;
}

/** Rows with the columns alone that the earlier ones had. */
function columnsOf(rows: readonly Record<string, unknown>[], like: readonly Record<string, unknown>[]) {
  const names = Object.keys(like[0] ?? {});
  return rows.map((row) => Object.fromEntries(names.map((name) => [name, row[name]])));
}
