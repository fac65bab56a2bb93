/** `tarebook show`: the ledger, or a part of it, as it stands or as it was known at an entry. */
import { headSeqOf, loadLedger } from '#db/record/load-ledger.ts';
import type { SplitKey } from '#shared/contract/drift.ts';
import type { DriftOrder } from '#shared/drift/report.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { type Period, reversalOf } from '#shared/rollup/bridge.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { VIEWS, type View, viewsData, viewsText } from './print.ts';
import { Refused } from './refused.ts';
import { EXIT, type Exit, type Surroundings } from './surroundings.ts';
import { aircraftNamed, type PlaceOptions, withStore } from './with-store.ts';

export type ViewFlags = {
  readonly json: boolean;
  readonly show?: string;
  readonly order: DriftOrder;
  readonly last?: number;
  readonly failOnDrift: boolean;
  readonly splitBy?: SplitKey;
  readonly fromEntry?: number;
  readonly toEntry?: number;
  readonly fromDay?: string;
  readonly toDay?: string;
};

type Options = PlaceOptions & ViewFlags & { readonly aircraft?: string; readonly asKnownAt?: number };

const USUAL_VIEWS: readonly View[] = ['headline', 'groups', 'drift'];

export async function showCommand(
  words: readonly string[],
  options: Options,
  surroundings: Surroundings,
): Promise<Exit> {
  const views = viewsOf(words, options);
  const refusal = reversalOf(periodOf(options));
  if (refusal !== undefined) throw new Refused([{ refusal }]);
  return withStore({ ...options, readsOnly: true }, surroundings, async (store) => {
    const aircraft = await aircraftNamed(store, options.aircraft);
    const ledger = await loadLedger(store.db, aircraft.id, options.asKnownAt);
    if (options.asKnownAt !== undefined && headSeqOf(ledger) < options.asKnownAt)
      throw new Refused([{ refusal: { code: 'no-such-entry', seq: options.asKnownAt, last: headSeqOf(ledger) } }]);
    return printLedger(ledger, views, options, surroundings);
  });
}

/** The views asked for by words and by `--show`; the usual ones where none is. */
export function viewsOf(words: readonly string[], options: { readonly show?: string }): readonly View[] {
  const asked = [...words, ...(options.show?.split(',') ?? [])]
    .map((word) => word.trim())
    .filter((word) => word !== '');
  const unknown = asked.filter((word) => !isView(word));
  if (unknown.length > 0)
    throw new Refused(unknown.map((text) => ({ refusal: { code: 'not-a-choice', text, choices: VIEWS } })));
  return asked.length === 0 ? USUAL_VIEWS : asked.filter(isView);
}

/** Prints the views of a ledger, beside `extra` in JSON, and answers the exit status. */
export function printLedger(
  ledger: Ledger,
  views: readonly View[],
  options: ViewFlags,
  surroundings: Surroundings,
  extra: Readonly<Record<string, unknown>> = {},
): Exit {
  const viewOptions = {
    order: options.order,
    last: options.last,
    splitBy: options.splitBy ?? 'process',
    period: periodOf(options),
  };
  surroundings.out.write(
    options.json
      ? `${JSON.stringify({ ...extra, ...viewsData(ledger, views, viewOptions) }, null, 2)}\n`
      : viewsText(ledger, views, viewOptions),
  );
  return options.failOnDrift && headlineReport(ledger).driftingCount > 0 ? EXIT.drift : EXIT.done;
}

/** Entries where an entry is named, else days: by the day things happened, with what is known today (rule L7). */
function periodOf({ fromEntry, toEntry, fromDay, toDay }: ViewFlags): Period {
  if (fromEntry !== undefined || toEntry !== undefined) return { axis: 'entry', from: fromEntry, to: toEntry };
  return { axis: 'day', from: fromDay, to: toDay };
}

function isView(word: string): word is View {
  return (VIEWS as readonly string[]).includes(word);
}
