/** What stands in the ledger now, for a form that states it anew: the statement of the latest day that nobody corrected. */
import { EntriesReport } from '#shared/contract/aircraft.ts';
import type { EntryReport } from '#shared/contract/reports.ts';
import type { Statement, StatementOf } from '#shared/ledger/entry.ts';
import { ask } from '../door/ask.ts';
import { entryAt } from '../door/queries.ts';

type Stands = { readonly statement: Statement; readonly happenedOn: string; readonly seq: number };

/** Undefined where the entry was struck out, or corrected by a later one. */
function stands({ entry, seq, correctedBySeq }: EntryReport): Stands | undefined {
  if (correctedBySeq !== undefined) return undefined;
  if (entry.kind !== 'correction') return { statement: entry, happenedOn: entry.happenedOn, seq };
  const { replacement } = entry;
  return replacement === null ? undefined : { ...replacement, seq };
}

export async function statedNow<Kind extends Statement['kind']>(
  aircraftId: string,
  kind: Kind,
  is: { readonly part?: string; readonly scale?: string },
): Promise<StatementOf<Kind> | undefined> {
  const of = is.part === undefined ? '' : `&part=${encodeURIComponent(is.part)}`;
  const pages = await Promise.all(
    [kind, 'correction'].map((asked) =>
      ask(`/api/aircraft/${aircraftId}/entries?limit=200&kind=${encodeURIComponent(asked)}${of}`, {
        reply: EntriesReport,
      }),
    ),
  );
  const found = pages
    .flatMap(({ entries }) => entries.flatMap((row) => stands(row) ?? []))
    .filter(({ statement }) => statement.kind === kind)
    .filter(({ statement }) => is.scale === undefined || ('scale' in statement && statement.scale === is.scale))
    .sort((a, b) => a.happenedOn.localeCompare(b.happenedOn) || a.seq - b.seq);
  return found.at(-1)?.statement as StatementOf<Kind> | undefined;
}

/** What an entry states; of one that strikes out another, what that other stated. */
export async function statementOf(
  aircraftId: string,
  row: EntryReport,
): Promise<{ readonly statement: Statement; readonly happenedOn: string } | undefined> {
  let at: EntryReport | undefined = row;
  while (at !== undefined) {
    const { entry } = at;
    if (entry.kind !== 'correction') return { statement: entry, happenedOn: entry.happenedOn };
    if (entry.replacement !== null) return entry.replacement;
    at = at.correctsSeq === undefined ? undefined : await entryAt(aircraftId, at.correctsSeq);
  }
  return undefined;
}
