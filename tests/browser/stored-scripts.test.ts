/** Scripts in every text that somebody can store: the screens show them as the text they are, and none runs (rule N19). */
import { randomUUID } from 'node:crypto';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openStore } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { createAircraft } from '#db/ledger/create-aircraft.ts';
import { begunWith } from '#shared/aircraft-weighing/draft.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import { pngOf } from '#tests/api/photo/make-pictures.ts';
import { settled, watch } from '#tests/pictures/settled.ts';
import { everyKind } from '#tests/shared/archive/every-kind.ts';
import { makeDatabase, removePlace } from '#tests/support/engines.ts';
import { POISON, poisoned } from '#tests/support/poison.ts';
import { makeFirstAccount, openBrowser, type RunningServer, startServer } from './shop-floor.ts';

const OF_AIRCRAFT = [
  ...['ledger', 'open', 'where', 'weigh', 'aircraft-weighing', 'parts', 'lay-up-accuracy', 'processes', 'what-if'],
  ...['loading', 'brief', 'labels', 'bring', 'aircraft-weighing/report/draft'],
  ...['aircraft', 'targets', 'groups', 'allowances', 'materials', 'scales', 'people', 'access', 'verify', 'carry'].map(
    (section) => `set-up/${section}`,
  ),
  ...['backup', 'acts'].map((section) => `set-up/${section}`),
];

/** What a script that ran, or one that the policy stopped, leaves behind. */
const WATCH = `
  window.trouble = [];
  window.ran = () => window.trouble.push('a script ran');
  addEventListener('securitypolicyviolation', (event) =>
    window.trouble.push('stopped: ' + event.violatedDirective + ' ' + event.blockedURI + ' ' + event.sample));
`;
const MADE_OF_TEXT = 'img[src="x"], svg[onload], [onerror], a[href^="javascript:" i], main script';

describe('scripts in stored texts', () => {
  let browser: Browser;
  let server: RunningServer;
  let page: Page;
  let url: string;
  const aircraftId = randomUUID();
  beforeAll(async () => {
    url = await makeDatabase();
    const store = await openStore({ kind: 'postgres', url });
    await createAircraft(store.db, { id: aircraftId, name: `${POISON} Teal` });
    const all = everyKind().entries.map(({ entry }) => poisoned(entry));
    expect(all.reduce((sum, { count }) => sum + count, 0)).toBeGreaterThan(80);
    const contents = all.map(({ entry }) => entryText(entry));
    expect(await appendEntries(store.db, { aircraftId, contents })).toMatchObject({ ok: true });
    await store.close();
    [browser, server] = await Promise.all([openBrowser(), startServer({ url, wantsCode: true })]);
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, reducedMotion: 'reduce' });
    await context.addInitScript(WATCH);
    page = await context.newPage();
    page.setDefaultTimeout(30_000);
    page.on('dialog', (dialog) => void dialog.dismiss().then(() => page.evaluate('ran()')));
    await makeFirstAccount(page, server);
    await page.getByRole('button', { name: 'your account' }).waitFor();
  });
  afterAll(async () => {
    await Promise.all([browser?.close(), server?.stop()]);
    await removePlace({ kind: 'postgres', url });
  });

  const post = async (path: string, data: unknown, type?: string) => {
    const headers = type === undefined ? {} : { 'Content-Type': type };
    const answer = await page.request.post(`${server.address}/api${path}`, { data, headers });
    if (!answer.ok()) throw new Error(`${path}: ${await answer.text()}`);
    return answer.json();
  };

  it('[N19] none runs on any screen, and none is stopped by the policy alone', { timeout: 400_000 }, async () => {
    const at = `/aircraft/${aircraftId}`;
    const { parts } = (await (await page.request.get(`${server.address}/api${at}/parts`)).json()) as {
      parts: { partId: string; number: string }[];
    };
    const [part] = parts;
    if (part === undefined) throw new Error('the aircraft has parts');
    const account = { initials: '<b>x', role: 'crew', aircraft: 'all', password: 'a long enough password' };
    await post('/people', { ...account, name: POISON });
    await post('/tablets', { name: `${POISON} bench`, idleMinutes: 60 });
    await post(`${at}/proposals`, {
      ...{ id: randomUUID(), title: POISON, likelihood: '50 %', owner: POISON, due: '2026-12-31' },
      changes: [{ act: 'add mass', part: part.number, mass: '0.1 kg' }],
    });
    const photo = new URLSearchParams({ id: randomUUID(), remark: POISON });
    await post(`${at}/parts/${part.partId}/photos?${photo}`, Buffer.from(pngOf(20, 20)), 'image/png');
    const { briefId } = (await post(`${at}/briefs`, { id: randomUUID() })) as { briefId: string };
    const remarks = { id: randomUUID(), act: 'remark', remarks: { all: POISON } };
    await post(`${at}/briefs/${briefId}/statements`, { after: 0, ...remarks });
    const words = begunWith('nosewheel and two mains');
    const typed = Object.fromEntries(
      Object.entries(words).map(([field, text]) => [field, text === '' ? POISON : text]),
    );
    await post(`${at}/aircraft-weighings/draft`, { id: randomUUID(), after: 0, words: typed });

    watch(page);
    const pages = [
      ...OF_AIRCRAFT.map((screen) => `${at}/${screen}`),
      ...parts.flatMap(({ partId }) => [`${at}/parts/${partId}`, `${at}/parts/${partId}/lay-up`]),
      ...[`${at}/brief/${briefId}`, `${at}/brief/${briefId}/projector`, '/people', '/'],
    ];
    let shown = 0;
    for (const address of pages) {
      await page.goto(`${server.address}${address}`);
      await page.locator('main h1').first().waitFor();
      await settled(page);
      for (const fold of await page.locator('main summary').all())
        await fold.click({ timeout: 2_000 }).catch(() => undefined);
      const found = await page.evaluate<{ trouble: string[]; made: number; text: boolean }>(`({
        trouble: window.trouble,
        made: document.querySelectorAll(${JSON.stringify(MADE_OF_TEXT)}).length,
        text: document.body.innerText.includes('onerror=ran()'),
      })`);
      expect({ address, ...found }).toMatchObject({ trouble: [], made: 0 });
      if (found.text) shown += 1;
    }
    // They are there to be seen: the test has looked at what it is about.
    expect(shown).toBeGreaterThan(15);
  });
});
