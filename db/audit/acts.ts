/**
 * The list of who did what beside the ledgers: signing in, accounts, access, aircraft that come and go, backups, checkpoints. Rows are added
 * and never changed, which a trigger sees to; the moment is the database's. No secret goes into it, and no name that was typed to
 * sign in with: people type their password there by mistake.
 */
import { randomUUID } from 'node:crypto';
import { type Kysely, sql } from 'kysely';
import { z } from 'zod';
import type { SightOf } from '#db/access/sight.ts';
import type { Database } from '#db/database.ts';
import type { Act, ActKind, ActsReport } from '#shared/contract/acts.ts';

export type NewAct = {
  readonly kind: ActKind;
  /** The account it was done with. */
  readonly personId?: string | undefined;
  /** Of the command, which has no accounts: the initials given to it. */
  readonly byName?: string | undefined;
  readonly aboutPersonId?: string | undefined;
  readonly aircraftId?: string | undefined;
  readonly address?: string | undefined;
  readonly detail?: Readonly<Record<string, string>>;
};

export async function noteAct(db: Kysely<Database>, act: NewAct): Promise<void> {
  await db
    .insertInto('act')
    .values({
      id: randomUUID(),
      kind: act.kind,
      person_id: act.personId ?? null,
      by_name: act.byName ?? null,
      about_person_id: act.aboutPersonId ?? null,
      aircraft_id: act.aircraftId ?? null,
      address: act.address ?? null,
      detail: JSON.stringify(act.detail ?? {}),
    })
    .execute();
}

/** Whether the store has the list: one of an earlier schema has none. */
export async function hasActs(db: Kysely<Database>): Promise<boolean> {
  const found = await sql<{ there: boolean }>`select to_regclass('public.act') is not null as there`.execute(db);
  return found.rows[0]?.there === true;
}

const Detail = z.record(z.string(), z.string());
const PAGE = 50;

/** A page of acts, the newest first; those about an aircraft that `sight` does not show are left out. */
export async function listActs(
  db: Kysely<Database>,
  {
    before,
    most = PAGE,
    sight,
  }: { readonly before?: string | undefined; readonly most?: number; readonly sight: SightOf },
): Promise<ActsReport> {
  const acts: Act[] = [];
  let last = before;
  for (;;) {
    const rows = await pageBefore(db, last, most + 1);
    for (const row of rows) {
      if (row.aircraft_id !== null && sight(row.aircraft_id) === undefined) continue;
      if (acts.length === most) return { acts, next: acts.at(-1)?.id };
      acts.push(toAct(row));
    }
    if (rows.length <= most) return { acts };
    last = rows.at(-1)?.id;
  }
}

type Row = Awaited<ReturnType<typeof pageBefore>>[number];

function pageBefore(db: Kysely<Database>, before: string | undefined, most: number) {
  let page = db
    .selectFrom('act')
    .leftJoin('person', 'person.id', 'act.person_id')
    .leftJoin('person as about', 'about.id', 'act.about_person_id')
    .leftJoin('aircraft', 'aircraft.id', 'act.aircraft_id')
    .selectAll('act')
    .select(['person.name as person_name', 'about.name as about_name', 'aircraft.name as aircraft_name'])
    .orderBy('act.done_at', 'desc')
    .orderBy('act.id', 'desc')
    .limit(most);
  if (before !== undefined)
    page = page.where(({ eb, refTuple, selectFrom }) =>
      eb(
        refTuple('act.done_at', 'act.id'),
        '<',
        selectFrom('act as last')
          .select(['last.done_at', 'last.id'])
          .where('last.id', '=', before)
          .$asTuple('done_at', 'id'),
      ),
    );
  return page.execute();
}

function toAct(row: Row): Act {
  const by = row.person_name ?? row.by_name ?? undefined;
  return {
    id: row.id,
    doneAt: row.done_at,
    kind: row.kind,
    ...(by === undefined ? {} : { by }),
    ...(row.about_name === null ? {} : { about: row.about_name }),
    ...(row.aircraft_id === null ? {} : { aircraft: { id: row.aircraft_id, name: row.aircraft_name ?? '' } }),
    ...(row.address === null ? {} : { address: row.address }),
    detail: Detail.parse(JSON.parse(row.detail)),
  };
}
