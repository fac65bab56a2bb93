/** A shop to be looked at: four aircraft, people, a shared tablet, and what a build leaves behind beside its ledger. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, BrowserContext } from 'playwright-core';
import { beginAircraft } from '#api/aircraft/begin-aircraft.ts';
import { createDemonstration, DEMONSTRATION_ID } from '#db/demo/create-demonstration.ts';
import { openStore } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import { makeBuild } from '#tests/bench/make-build.ts';
import { makeFirstAccount, type RunningServer, startServer } from '#tests/browser/shop-floor.ts';
import { Doors } from './doors.ts';
import { LONG_AIRCRAFT, tellLongNames } from './long-names.ts';
import { addPeople } from './people.ts';
import { leaveTraces, type Traces } from './traces.ts';

export const AIRCRAFT = ['demonstration', 'empty', 'large', 'long'] as const;
export type AircraftKind = (typeof AIRCRAFT)[number];

export type Shop = {
  readonly server: RunningServer;
  readonly stranger: () => Promise<BrowserContext>;
  /** As the lead. */
  readonly signedIn: () => Promise<BrowserContext>;
  readonly idOf: Readonly<Record<AircraftKind, string>>;
  readonly tracesOf: Readonly<Partial<Record<AircraftKind, Traces>>>;
};

const IDS = {
  demonstration: DEMONSTRATION_ID as string,
  empty: '00000000-0000-4000-8000-0000000000e0',
  large: '00000000-0000-4000-8000-0000000000a0',
  long: '00000000-0000-4000-8000-0000000000b0',
};
const UNITS = { massUnit: 'kg', lengthUnit: 'm' } as const;
const LARGE = { partCount: 10_000, weighingCount: 6000, dayCount: 400 };

/** Made anew each time; nothing of it is left when `use` is done, however it ends. */
export async function withShop(
  browser: Browser,
  kinds: readonly AircraftKind[],
  use: (shop: Shop) => Promise<void>,
): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), 'tarebook-pictures-'));
  const data = join(folder, 'data');
  try {
    await fill(data, kinds);
    const server = await startServer({ wantsCode: true, data });
    try {
      await use(await furnish(browser, server, kinds));
    } finally {
      await server.stop();
    }
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function furnish(browser: Browser, server: RunningServer, kinds: readonly AircraftKind[]): Promise<Shop> {
  const open = { reducedMotion: 'reduce', serviceWorkers: 'block' } as const;
  const lead = await browser.newContext(open);
  const page = await lead.newPage();
  await makeFirstAccount(page, server);
  await page.locator('.top-bar').waitFor();
  await page.close();
  const doors = new Doors(lead.request, server.address);
  await addPeople(browser, doors);
  if (kinds.includes('long')) await tellLongNames(doors.of(IDS.long));
  const tracesOf: Partial<Record<AircraftKind, Traces>> = {};
  for (const kind of kinds) if (kind !== 'empty') tracesOf[kind] = await leaveTraces(doors.of(IDS[kind]), kind);
  const storageState = await lead.storageState();
  await lead.close();
  return {
    ...{ server, idOf: IDS, tracesOf },
    stranger: () => browser.newContext(open),
    signedIn: () => browser.newContext({ ...open, storageState }),
  };
}

/** What would take long through the doors is written straight into the store. */
async function fill(path: string, kinds: readonly AircraftKind[]): Promise<void> {
  const store = await openStore({ kind: 'folder', path });
  const day = new Date().toISOString().slice(0, 10);
  const begin = (aircraftId: string, words: { name: string; datum: string }) =>
    beginAircraft(store.db, { ...words, ...UNITS, mac: '1.25 m', lemac: '3.3 m' }, { aircraftId, by: 'RL', day });
  try {
    if (kinds.includes('demonstration')) await createDemonstration(store.db, { by: 'RL', today: day });
    if (kinds.includes('empty')) await begin(IDS.empty, { name: 'Curlew', datum: 'the bow' });
    if (kinds.includes('long')) await begin(IDS.long, LONG_AIRCRAFT);
    if (kinds.includes('large')) {
      await begin(IDS.large, { name: 'Bittern', datum: 'the bow' });
      const answer = await appendEntries(store.db, {
        aircraftId: IDS.large,
        contents: makeBuild(LARGE).map(entryText),
      });
      if (!answer.ok) throw new Error(`the large aircraft is refused: ${answer.refusal.code}`);
    }
  } finally {
    await store.close();
  }
}
