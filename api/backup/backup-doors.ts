/**
 * The doors through which a lead makes, lists and fetches backups (rule Z6). A backup holds every aircraft and every account: who may not see
 * all aircraft has no part in it. Restoring is the command's, since it goes into an empty store.
 */
import { createReadStream } from 'node:fs';
import { basename, join } from 'node:path';
import { Readable } from 'node:stream';
import { createRoute, z } from '@hono/zod-openapi';
import { noteHere } from '#api/audit/note.ts';
import { type DoorApp, type DoorContext, json, needs, personAt, REFUSED } from '#api/door.ts';
import { Problem } from '#api/problem/problem.ts';
import { isBackupName } from '#db/backup/folder.ts';
import { StoreRefusal } from '#db/engine/store-refusal.ts';
import { BackupReport, BackupState } from '#shared/contract/backup.ts';

const TAR = 'application/x-tar';

const list = createRoute({
  method: 'get',
  path: '/api/backups',
  summary: 'The backups that are kept, and how the schedule stands',
  ...needs('lead'),
  responses: { 200: json(BackupState, 'The newest first'), ...REFUSED },
});

const make = createRoute({
  method: 'post',
  path: '/api/backups',
  summary: 'Back up the whole store into the folder of backups, while others work on it',
  ...needs('lead'),
  responses: { 201: json(BackupReport, 'The backup, and what it holds'), ...REFUSED },
});

const fetchOne = createRoute({
  method: 'get',
  path: '/api/backups/{name}',
  summary: 'A backup as a file, to be kept elsewhere',
  ...needs('lead'),
  request: { params: z.object({ name: z.string() }) },
  responses: { 200: { description: 'A tar file', content: { [TAR]: { schema: z.string() } } }, ...REFUSED },
});

export function backupDoors(app: DoorApp): void {
  app.openapi(list, async (c) => {
    mustSeeAll(c);
    const { backups } = c.get('services');
    const { folder, everyHours, keep } = backups.plan;
    const { failure, isMaking } = backups;
    return c.json(
      {
        ...{ folder: basename(folder), keep, isMaking, backups: [...(await orTold(backups.list()))] },
        ...(everyHours === undefined ? {} : { everyHours }),
        ...(failure === undefined ? {} : { failure: { ...failure, at: failure.at.toISOString() } }),
      },
      200,
    );
  });

  app.openapi(make, async (c) => {
    mustSeeAll(c);
    const { path, bytes, sha256, madeAt, aircraft } = await orTold(c.get('services').backups.make('asked'));
    await noteHere(c, { kind: 'backup made', detail: { file: basename(path) } });
    const report: BackupReport = {
      ...{ name: basename(path), why: 'asked', madeAt, bytes, sha256 },
      aircraft: [...aircraft],
    };
    return c.json(BackupReport.parse(report), 201);
  });

  app.openapi(fetchOne, async (c) => {
    mustSeeAll(c);
    const { name } = c.req.valid('param');
    const { backups } = c.get('services');
    const found = isBackupName(name) ? (await orTold(backups.list())).find((one) => one.name === name) : undefined;
    if (found === undefined) throw new Problem('not-found');
    await noteHere(c, { kind: 'backup fetched', detail: { file: name } });
    const file = createReadStream(join(backups.plan.folder, name));
    const answer: Response = c.body(Readable.toWeb(file) as ReadableStream, 200, {
      'Content-Type': TAR,
      'Content-Length': String(found.bytes),
      'Content-Disposition': `attachment; filename="${name}"`,
      'Cache-Control': 'no-store, no-transform',
    });
    return answer as never;
  });
}

/** What keeps a backup from being made is told to the lead as well, and not only in the log. */
async function orTold<Answer>(work: Promise<Answer>): Promise<Answer> {
  try {
    return await work;
  } catch (error) {
    if (!(error instanceof StoreRefusal)) throw error;
    const { code, words, remedy } = error;
    throw new Problem('server-fault', { problems: [{ pointer: '', code, words, remedy }], cause: error });
  }
}

function mustSeeAll(c: DoorContext): void {
  if (personAt(c).aircraft !== 'all') throw new Problem('not-allowed');
}
