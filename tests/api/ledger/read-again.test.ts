/** A server that has started again: how it reads a long ledger, and what it reads of the database afterwards. */
import { randomUUID } from 'node:crypto';
import type { Kysely } from 'kysely';
import { expect, it } from 'vitest';
import type { Database } from '#db/database.ts';
import { createDemonstration, DEMONSTRATION_ID } from '#db/demo/create-demonstration.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { LiveLedgers } from '#db/record/live-ledgers.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { Entry, EntryId } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { openList } from '#shared/rollup/open-list.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { aircraftIn, openShop, partsIn, problemOf, shopOn } from '#tests/api/door-shop.ts';
import { makeEntries } from '#tests/bench/make-chain.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

const MANY = 2_600;
const TODAY = '2026-06-30';
/** Nobody is told how far the reading has come, however slow the machine is. */
const PATIENT = { patienceMs: 60_000 };

function note(text: string): Entry {
  return { kind: 'note', id: randomUUID(), happenedOn: TODAY, by: 'AB', text } as Entry;
}

async function manyNotes(db: Kysely<Database>, aircraftId: string): Promise<void> {
  const contents = Array.from({ length: MANY }, (_, at) => entryText(note(`note ${at}`)));
  expect(await appendEntries(db, { aircraftId, contents })).toMatchObject({ ok: true });
}

/** Half as many parts, each estimated. */
const PARTS = 1_600;
async function manyParts(db: Kysely<Database>, aircraftId: string): Promise<void> {
  const contents = makeEntries(PARTS / 2, 0).map((entry) => entryText({ ...entry, id: randomUUID() as EntryId }));
  expect(await appendEntries(db, { aircraftId, contents })).toMatchObject({ ok: true });
}

/** Everything that the screens begin with. */
function reportsOf(ledger: Ledger) {
  return {
    headline: headlineReport(ledger),
    forecast: forecastReport(ledger),
    open: openList(ledger, { today: TODAY }),
  };
}

describeOnBothEngines('a server that has started again', (engine) => {
  const shop = shopOn(engine);

  it('[N10] tells a reader of a long ledger how far it has come, answers for others meanwhile, and then whole', async () => {
    const lead = await shop().person('lead');
    const [long, short] = [await aircraftIn(shop(), lead.cookie), await aircraftIn(shop(), lead.cookie)];
    await partsIn(shop(), lead.cookie, long);
    await manyNotes(engine.db(), long);
    const again = openShop(engine.store(), { patienceMs: 1 });
    const ask = (path: string) => again.call('GET', path, { cookie: lead.cookie });
    const report = await problemOf(await ask(`/api/aircraft/${long}`), 503, 'reading-ledger');
    const { progress } = report;
    expect(progress).toMatchObject({ of: MANY + 5 });
    expect(progress?.done).toBeGreaterThan(0);
    expect(progress?.done).toBeLessThan(MANY + 5);
    expect(report.detail).toBe(`Reading the ledger: ${progress?.done.toLocaleString('en')} of 2,605 entries.`);
    expect((await ask(`/api/aircraft/${short}`)).status).toBe(200);
    const wholeOf = async (askOne: () => Promise<Response>) => {
      let answer = await askOne();
      while (answer.status === 503) {
        expect(answer.headers.get('retry-after')).toBe('1');
        answer = await askOne();
      }
      return answer.json();
    };
    const carriedOn = () => shop().call('GET', `/api/aircraft/${long}`, { cookie: lead.cookie });
    expect(await wholeOf(() => ask(`/api/aircraft/${long}`))).toEqual(await wholeOf(carriedOn));
    again.close();
  });

  it('[N10] no list of aircraft leaves one out because it is still being read', async () => {
    const lead = await shop().person('lead');
    const long = await aircraftIn(shop(), lead.cookie);
    await manyNotes(engine.db(), long);
    const again = openShop(engine.store(), { patienceMs: 1 });
    let answer = await again.call('GET', '/api/aircraft', { cookie: lead.cookie });
    await problemOf(answer.clone(), 503, 'reading-ledger');
    while (answer.status === 503) answer = await again.call('GET', '/api/aircraft', { cookie: lead.cookie });
    const { aircraft } = (await answer.json()) as { aircraft: { id: string }[] };
    expect(aircraft.map(({ id }) => id)).toContain(long);
    again.close();
  });

  it('[N10] gives the others a turn between the steps of a long ledger, also of one as it was known before', async () => {
    const aircraftId = await engine.aircraft();
    await manyNotes(engine.db(), aircraftId);
    const ledgers = new LiveLedgers(engine.db(), PATIENT);
    for (const asKnownAt of [undefined, MANY - 1]) {
      let [turns, isDone] = [0, false];
      const count = () => {
        turns += 1;
        if (!isDone) setImmediate(count);
      };
      setImmediate(count);
      const answer = await ledgers.read(aircraftId, asKnownAt, ({ entries }) => entries.length);
      isDone = true;
      expect(answer).toEqual({ ok: true, value: asKnownAt ?? MANY });
      expect(turns).toBeGreaterThanOrEqual(Math.floor(MANY / 500));
    }
  });

  it('[N10] has the headline of a long ledger before the ledger is folded, as it stands and as it was known, and takes entries meanwhile', async () => {
    const aircraftId = await engine.aircraft();
    await manyParts(engine.db(), aircraftId);
    const ledgers = new LiveLedgers(engine.db(), PATIENT);
    const told: string[] = [];
    const noting =
      <Answer>(what: string) =>
      (answer: Answer): Answer => {
        told.push(what);
        return answer;
      };
    const headline = (asKnownAt?: number) => ledgers.headline(aircraftId, asKnownAt, (overview) => overview.headline());
    const record = () =>
      ledgers.record(
        aircraftId,
        () => ({ ok: true, entry: note('meanwhile') }),
        ({ seq }) => seq,
      );
    const [whole, first, past, recorded] = await Promise.all([
      ledgers.read(aircraftId, undefined, headlineReport).then(noting('whole')),
      headline().then(noting('headline')),
      headline(PARTS).then(noting('headline')),
      record().then(noting('recorded')),
    ]);
    expect(told.slice(0, 2)).toEqual(['headline', 'headline']);
    expect(whole).toMatchObject({ ok: true, value: { partCount: PARTS / 2 } });
    const known = await ledgers.read(aircraftId, PARTS, headlineReport);
    expect([first, past]).toEqual([known, known]);
    expect(recorded).toEqual({ ok: true, told: PARTS + 1 });
    expect(await headline()).toMatchObject({ ok: true, value: { seq: PARTS + 1, partCount: PARTS / 2 } });
    expect(await headline(PARTS + 2)).toMatchObject({ ok: false, refusal: { code: 'no-such-entry', last: PARTS + 1 } });
  });

  it('[N10] reads no entry again when one more is recorded, and no more than that one when another server recorded it', async () => {
    const aircraftId = await engine.aircraft();
    await manyNotes(engine.db(), aircraftId);
    const rows = { read: 0 };
    const counted = engine.db().withPlugin({
      transformQuery: ({ node }) => node,
      transformResult: async ({ result }) => {
        rows.read += result.rows.length;
        return result;
      },
    });
    const ledgers = new LiveLedgers(counted, PATIENT);
    const read = async () =>
      (await ledgers.read(aircraftId, undefined, ({ entries }) => entries.length)) as { value: number };
    expect((await read()).value).toBe(MANY);
    expect(rows.read).toBeGreaterThanOrEqual(MANY);
    rows.read = 0;
    const recorded = await ledgers.record(
      aircraftId,
      () => ({ ok: true, entry: note('one more') }),
      ({ seq }) => seq,
    );
    expect(recorded).toEqual({ ok: true, told: MANY + 1 });
    expect(rows.read).toBe(1);
    expect((await read()).value).toBe(MANY + 1);
    expect(rows.read).toBe(1);
    await appendEntries(engine.db(), { aircraftId, contents: [entryText(note('from elsewhere'))] });
    expect((await read()).value).toBe(MANY + 2);
    expect(rows.read).toBe(2);
  });

  it('[N10] has the headline, the forecast and the open list of the one that was carried on', async () => {
    expect(await createDemonstration(engine.db(), { by: 'AB', today: TODAY })).toMatchObject({ ok: true });
    const carriedOn = new LiveLedgers(engine.db(), PATIENT);
    const all = await carriedOn.read(DEMONSTRATION_ID, undefined, (ledger) => {
      reportsOf(ledger);
      return ledger.entries.map(({ entry }) => entry);
    });
    if (!all.ok) throw new Error('it is read');
    const weighings = all.value.flatMap((entry) => (entry.kind === 'weighing' ? [entry] : [])).slice(-12);
    for (const [at, { cause: _, ...weighing }] of weighings.entries()) {
      // The same pieces weighed once more, a little heavier each time.
      const times = 1 + at / 100;
      const entry = {
        ...weighing,
        id: randomUUID(),
        happenedOn: TODAY,
        netKg: weighing.netKg * times,
      } as Entry;
      const recorded = await carriedOn.record(
        DEMONSTRATION_ID,
        () => ({ ok: true, entry }),
        ({ ledger }) => headlineReport(ledger).seq,
      );
      expect(recorded).toMatchObject({ ok: true });
    }
    const fresh = new LiveLedgers(engine.db(), PATIENT);
    const [before, after] = await Promise.all(
      [carriedOn, fresh].map((ledgers) => ledgers.read(DEMONSTRATION_ID, undefined, reportsOf)),
    );
    expect(after).toMatchObject({ ok: true });
    expect(after).toEqual(before);
  });
});
