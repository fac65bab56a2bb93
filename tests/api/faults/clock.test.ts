/** Clocks that are set back: the server's and, where it can be had, the database's (S10). */
import { expect, it, vi } from 'vitest';
import { Throttle } from '#api/people/throttle.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { aircraftIn, partsIn, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

const hourMs = 60 * 60 * 1000;
const yearMs = 365 * 24 * hourMs;

describeOnBothEngines('a clock that is set back', (engine) => {
  const shop = shopOn(engine);

  it('[S10] leaves the ledger in its order, whole and with the headline of one read anew', async () => {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    const weigh = (cookie: string, gross: string) =>
      record(shop(), cookie, aircraftId, { kind: 'weighing', part: 'T-200', gross, condition: 'finished' });
    await weigh(lead.cookie, '4.2 kg');
    shop().later(-yearMs);
    const again = await shop().person('lead');
    // The clock of PostgreSQL cannot be had from here; the embedded engine asks this process for the time.
    const realNow = Date.now;
    const clock = vi.spyOn(Date, 'now').mockImplementation(() => realNow() - yearMs);
    try {
      await weigh(again.cookie, '4.3 kg');
    } finally {
      clock.mockRestore();
    }
    shop().later(yearMs);
    const third = await shop().person('lead');
    await weigh(third.cookie, '4.1 kg');

    const ledger = await loadLedger(engine.db(), aircraftId);
    const last = ledger.entries.slice(-3);
    expect(last.map(({ seq }) => seq)).toEqual([6, 7, 8]);
    const [before, meanwhile, after] = last.map(({ entry }) => entry.happenedOn);
    expect(meanwhile?.slice(0, 4)).toBe(String(Number(before?.slice(0, 4)) - 1));
    expect(after).toBe(before);
    if (engine.kind === 'folder')
      expect(Date.parse(last[1]?.recordedAt ?? '')).toBeLessThan(Date.parse(last[0]?.recordedAt ?? '') - yearMs / 2);
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 8 });
    const answer = await shop().call('GET', `/api/aircraft/${aircraftId}`, { cookie: third.cookie });
    expect(await answer.json()).toMatchObject({ headline: JSON.parse(JSON.stringify(headlineReport(ledger))) });
  });

  it('[S10] ends the sessions that were begun while it was ahead, and lets a few minutes pass', async () => {
    const ask = (cookie: string) => shop().call('GET', '/api/aircraft', { cookie });
    const lead = await shop().person('lead');
    shop().later(-hourMs / 2);
    expect((await ask(lead.cookie)).status).toBe(200);
    shop().later(-hourMs);
    await problemOf(await ask(lead.cookie), 401, 'not-signed-in');
    shop().later(yearMs);
    const ahead = await shop().person('lead');
    expect((await ask(ahead.cookie)).status).toBe(200);
    shop().later(-yearMs);
    await problemOf(await ask(ahead.cookie), 401, 'not-signed-in');
    // The next who comes in sweeps it away, so that it is not back when that time comes.
    await shop().person('lead');
    shop().later(yearMs);
    await problemOf(await ask(ahead.cookie), 401, 'not-signed-in');
    shop().later(-yearMs);
  });
});

it('[S10] a clock that is set back makes nobody wait longer than they would have', () => {
  const throttle = new Throttle();
  const now = new Date('2026-06-01T12:00:00Z');
  const tries = (at: Date) => Array.from({ length: 8 }, () => throttle.take([{ key: 'name x', free: 2 }], at));
  expect(tries(now).some((waitS) => waitS !== undefined)).toBe(true);
  expect(tries(new Date(now.getTime() - yearMs))[0]).toBeUndefined();
});
