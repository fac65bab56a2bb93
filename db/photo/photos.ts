/** Keeps photos beside the ledger (rule X6): bytes that never change, and marks of those that were taken away. */
import type { Kysely } from 'kysely';
import type { Database } from '#db/database.ts';
import { sqlState } from '#db/engine/sql-state.ts';
import type { PhotoReport } from '#shared/contract/photo.ts';

export type KeepPhoto = {
  readonly aircraftId: string;
  readonly partId: string;
  readonly id: string;
  readonly entryId: string | undefined;
  readonly by: string;
  readonly remark: string | undefined;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly sha256: string;
  readonly bytes: Uint8Array;
  readonly smallBytes: Uint8Array;
};

/** The photos of a part, oldest first; those that were removed with the mark that says so. */
export async function photosOfPart(
  db: Kysely<Database>,
  { aircraftId, partId }: { readonly aircraftId: string; readonly partId: string },
): Promise<readonly PhotoReport[]> {
  const rows = await db
    .selectFrom('photo')
    .leftJoin('photo_removal as removal', (join) =>
      join.onRef('removal.aircraft_id', '=', 'photo.aircraft_id').onRef('removal.photo_id', '=', 'photo.id'),
    )
    .select(['photo.id', 'entry_id', 'photo.by_name', 'photo.recorded_at', 'remark', 'width_px', 'height_px', 'sha256'])
    .select(['removal.by_name as removed_by', 'removal.recorded_at as removed_at', 'reason'])
    .where('photo.aircraft_id', '=', aircraftId)
    .where('part_id', '=', partId)
    .orderBy('photo.recorded_at')
    .orderBy('photo.id')
    .execute();
  return rows.map((row) => ({
    ...{ id: row.id, partId, by: row.by_name, recordedAt: row.recorded_at, sha256: row.sha256 },
    ...{ widthPx: row.width_px, heightPx: row.height_px },
    ...(row.entry_id === null ? {} : { entryId: row.entry_id }),
    ...(row.remark === null ? {} : { remark: row.remark }),
    ...(row.removed_by === null || row.removed_at === null || row.reason === null
      ? {}
      : { removal: { by: row.removed_by, recordedAt: row.removed_at, reason: row.reason } }),
  }));
}

/** The bytes of a photo that was not removed. */
export async function photoBytes(
  db: Kysely<Database>,
  { aircraftId, id, isSmall }: { readonly aircraftId: string; readonly id: string; readonly isSmall: boolean },
): Promise<Uint8Array | undefined> {
  const row = await db
    .selectFrom('photo')
    .select(isSmall ? 'small_bytes as bytes' : 'bytes')
    .where('aircraft_id', '=', aircraftId)
    .where('id', '=', id)
    .where((where) =>
      where.not(
        where.exists(
          where
            .selectFrom('photo_removal')
            .select('photo_id')
            .whereRef('photo_removal.aircraft_id', '=', 'photo.aircraft_id')
            .whereRef('photo_removal.photo_id', '=', 'photo.id'),
        ),
      ),
    )
    .executeTakeFirst();
  return row?.bytes;
}

/** False where the id is taken already. */
export async function keepPhoto(db: Kysely<Database>, photo: KeepPhoto): Promise<boolean> {
  const { numInsertedOrUpdatedRows } = await db
    .insertInto('photo')
    .values({
      ...{ aircraft_id: photo.aircraftId, id: photo.id, part_id: photo.partId, entry_id: photo.entryId ?? null },
      ...{ by_name: photo.by, remark: photo.remark ?? null, width_px: photo.widthPx, height_px: photo.heightPx },
      ...{ sha256: photo.sha256, bytes: Buffer.from(photo.bytes), small_bytes: Buffer.from(photo.smallBytes) },
    })
    .onConflict((conflict) => conflict.doNothing())
    .executeTakeFirstOrThrow();
  return numInsertedOrUpdatedRows === 1n;
}

/** False where there is no such photo. One that was removed already stays so, with its first reason. */
export async function removePhoto(
  db: Kysely<Database>,
  mark: { readonly aircraftId: string; readonly id: string; readonly by: string; readonly reason: string },
): Promise<boolean> {
  try {
    await db
      .insertInto('photo_removal')
      .values({ aircraft_id: mark.aircraftId, photo_id: mark.id, by_name: mark.by, reason: mark.reason })
      .onConflict((conflict) => conflict.doNothing())
      .execute();
    return true;
  } catch (error) {
    if (sqlState(error) === '23503') return false;
    throw error;
  }
}
