/**
 * Keeps the weighing of an aircraft while it is being made (rule A6): one for each aircraft. Every change names the version that was seen, so
 * that nobody writes over what another has typed in the meantime; a change sent again is answered as the first time.
 */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';

export type KeptDraft = {
  readonly id: string;
  readonly version: number;
  readonly by: string;
  readonly changedAt: string;
  /** As the screens write it, JSON. */
  readonly content: string;
};

export type DraftChange = {
  readonly aircraftId: string;
  /** Made by the screen; the entry that is signed has it too. */
  readonly id: string;
  /** The version that was seen; 0 for a new draft. */
  readonly after: number;
  readonly by: string;
  readonly content: string;
};

export type DraftAnswer =
  | { readonly ok: true; readonly draft: KeptDraft }
  /** Somebody else has changed it, or there is another one. */
  | { readonly ok: false; readonly code: 'moved-on'; readonly draft: KeptDraft }
  | { readonly ok: false; readonly code: 'gone' };

export async function draftOf(db: Kysely<Database>, aircraftId: string): Promise<KeptDraft | undefined> {
  const row = await db
    .selectFrom('aircraft_weighing_draft')
    .select(['id', 'version', 'by_name', 'changed_at', 'content'])
    .where('aircraft_id', '=', aircraftId)
    .executeTakeFirst();
  if (row === undefined) return undefined;
  return { id: row.id, version: row.version, by: row.by_name, changedAt: row.changed_at, content: row.content };
}

export async function keepDraft(db: Kysely<Database>, change: DraftChange): Promise<DraftAnswer> {
  const { aircraftId, id, after, by, content } = change;
  const isWritten = after === 0 ? await insert(db, change) : await update(db, change);
  const draft = await draftOf(db, aircraftId);
  if (draft === undefined) return { ok: false, code: 'gone' };
  const isSame = draft.id === id && draft.version === after + 1 && draft.by === by && draft.content === content;
  return isWritten || isSame ? { ok: true, draft } : { ok: false, code: 'moved-on', draft };
}

async function insert(db: Kysely<Database>, { aircraftId, id, by, content }: DraftChange): Promise<boolean> {
  const { numInsertedOrUpdatedRows } = await db
    .insertInto('aircraft_weighing_draft')
    .values({ aircraft_id: aircraftId, id, version: 1, by_name: by, content })
    .onConflict((conflict) => conflict.column('aircraft_id').doNothing())
    .executeTakeFirstOrThrow();
  return numInsertedOrUpdatedRows === 1n;
}

async function update(db: Kysely<Database>, { aircraftId, id, after, by, content }: DraftChange): Promise<boolean> {
  const { numUpdatedRows } = await db
    .updateTable('aircraft_weighing_draft')
    .set({ version: after + 1, by_name: by, content })
    .where('aircraft_id', '=', aircraftId)
    .where('id', '=', id)
    .where('version', '=', after)
    .executeTakeFirstOrThrow();
  return numUpdatedRows === 1n;
}

/** Lets a draft go: one that was signed whatever its version, one that is given up only as it was seen. True where it is gone. */
export async function dropDraft(
  db: Kysely<Database>,
  { aircraftId, id, version }: { readonly aircraftId: string; readonly id: string; readonly version?: number },
): Promise<boolean> {
  const all = db.deleteFrom('aircraft_weighing_draft').where('aircraft_id', '=', aircraftId).where('id', '=', id);
  await (version === undefined ? all : all.where('version', '=', version)).execute();
  return (await draftOf(db, aircraftId))?.id !== id;
}
