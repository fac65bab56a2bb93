/** `tarebook brief`: makes, lists, shows, issues and drops briefs (rules B1-B3). The ledger is only read. */
import { randomUUID } from 'node:crypto';
import canonicalize from 'canonicalize';
import { type BriefAct, type BriefAnswer, briefWith, keepBrief, listBriefs, stateBrief } from '#db/brief/briefs.ts';
import { composeBrief } from '#db/brief/compose-brief.ts';
import type { Store } from '#db/engine/open-store.ts';
import type { Aircraft } from '#db/ledger/aircraft.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { titleOf } from '#shared/brief/standing.ts';
import type { Brief, BriefLine, BriefRemarks, KeptBrief } from '#shared/contract/brief.ts';
import { pointerTo } from '#shared/words/path-problem.ts';
import { say } from '#shared/words/say.ts';
import { briefListText, briefText } from './print-brief.ts';
import { Refused } from './refused.ts';
import { personOf } from './stamp.ts';
import { EXIT, type Exit, type Surroundings, shopDay } from './surroundings.ts';
import { aircraftNamed, type PlaceOptions, withStore } from './with-store.ts';
import { type BriefFileOptions, filesAsked, refuseTaken, writeBrief } from './write-brief.ts';

export const BRIEF_ACTS = ['list', 'make', 'show', 'issue', 'drop'] as const;
export type BriefVerb = (typeof BRIEF_ACTS)[number];

export type BriefOptions = PlaceOptions &
  BriefFileOptions & {
    readonly aircraft?: string;
    readonly asKnownAt?: number;
    readonly since?: number;
    readonly remark?: string;
    readonly issue: boolean;
    readonly by?: string;
    readonly json: boolean;
  };

/** `which`: the number of an issued brief, or the beginning of an id; left out, the newest one. */
export async function briefCommand(
  verb: BriefVerb,
  which: string | undefined,
  options: BriefOptions,
  surroundings: Surroundings,
): Promise<Exit> {
  const by = personOf(options.by, surroundings);
  const files = filesAsked(options);
  refuseTaken(files);
  return withStore({ ...options, readsOnly: true }, surroundings, async (store) => {
    const aircraft = await aircraftNamed(store, options.aircraft);
    const lines = await listBriefs(store.db, aircraft.id);
    if (verb === 'list' && files.length === 0) {
      const report = { aircraft: aircraft.name, briefs: lines };
      surroundings.out.write(options.json ? jsonText(report) : briefListText(aircraft.name, lines));
      return EXIT.done;
    }
    const briefId =
      verb === 'make'
        ? await make(store, aircraft, options, { by, on: shopDay(surroundings.now()) })
        : named(lines, which);
    if (verb === 'issue' || verb === 'drop') await act(store, aircraft, { briefId, act: verb, by });
    const kept = await briefWith(store.db, { aircraftId: aircraft.id, briefId });
    if (kept === undefined) throw new Error(`brief ${briefId} is in the list and not there`);
    await writeBrief(kept.brief, files, options.paper);
    if (files.length > 0 && !options.json)
      surroundings.out.write(`${say`${titleOf(kept.brief)}: ${files.map(({ file }) => file).join(', ')} written.`}\n`);
    else print(kept.brief, options, surroundings);
    if (!kept.fitsItsHash)
      surroundings.err.write(
        `${say`This brief does not fit its hash: somebody has changed it in the database behind Tarebook.`}\n`,
      );
    return EXIT.done;
  });
}

function print(brief: Brief, { json }: BriefOptions, { out }: Surroundings): void {
  out.write(json ? jsonText(brief) : briefText(brief));
}

function jsonText(value: unknown): string {
  return `${JSON.stringify(value, null, 2)}\n`;
}

async function make(
  store: Store,
  { id, name }: Aircraft,
  { asKnownAt, since, remark, issue }: BriefOptions,
  { by, on }: { readonly by: string; readonly on: string },
): Promise<string> {
  const briefId = randomUUID();
  const content = await composeBrief(
    store.db,
    { aircraft: { id, name }, entry: asKnownAt, since, by, on },
    async (seq, work) => work(await loadLedger(store.db, id, seq)),
  );
  if (!content.ok)
    throw new Refused(
      content.refusal.map(({ path, refusal }) => ({ pointer: OPTION_OF[path[0] ?? ''] ?? pointerTo(path), refusal })),
    );
  const sent = canonicalize({ entry: asKnownAt, since }) ?? '';
  answered(await keepBrief(store.db, { aircraftId: id, briefId, by, sent, content: content.value }));
  if (remark !== undefined) await act(store, { id }, { briefId, act: 'remark', by, remarks: { all: remark } });
  if (issue) await act(store, { id }, { briefId, act: 'issue', by });
  return briefId;
}

const OPTION_OF: Readonly<Record<string, string>> = { entry: '--as-known-at', since: '--since' };

async function act(
  store: Store,
  { id: aircraftId }: Pick<Aircraft, 'id'>,
  stated: { readonly briefId: string; readonly act: BriefAct; readonly by: string; readonly remarks?: BriefRemarks },
): Promise<void> {
  const { briefId, remarks = {} } = stated;
  const now = await briefWith(store.db, { aircraftId, briefId });
  const after = now?.brief.revision ?? 0;
  answered(await stateBrief(store.db, { ...stated, aircraftId, id: randomUUID(), after, remarks }));
}

function answered(answer: BriefAnswer): KeptBrief {
  if (answer.ok) return answer.kept;
  const { refusal } = answer;
  if (refusal.code === 'no-such-brief') throw new Error('a brief that was found is not there');
  throw new Refused([{ refusal }]);
}

function named(lines: readonly BriefLine[], which: string | undefined): string {
  const [newest] = lines;
  const found =
    which === undefined
      ? (lines.find(({ issued }) => issued !== undefined) ?? newest)
      : (lines.find(({ issued }) => String(issued?.number) === which) ??
        (which.length < 6 ? undefined : lines.find(({ briefId }) => briefId.startsWith(which.toLowerCase()))));
  if (found !== undefined) return found.briefId;
  const known = lines.map(nameOf);
  throw new Refused([{ refusal: { code: 'brief-unknown', text: which ?? '', known } }]);
}

/** How a brief is named to the command: an issued one by its number, a draft by the beginning of its id. */
export function nameOf({ issued, briefId }: Pick<BriefLine, 'issued' | 'briefId'>): string {
  return issued === undefined ? briefId.slice(0, 8) : String(issued.number);
}
