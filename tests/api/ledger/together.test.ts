/** Entries that are recorded in one commit: who shares it notices nothing of the others, also where it fails. */
import { randomUUID } from 'node:crypto';
import { setTimeout as sleep } from 'node:timers/promises';
import { type Kysely, sql } from 'kysely';
import { expect, it } from 'vitest';
import type { Database } from '#db/database.ts';
import { isDatabaseAway } from '#db/engine/database-away.ts';
import { openStore } from '#db/engine/open-store.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { verifyChain } from '#db/ledger/verify.ts';
import { LiveLedgers } from '#db/record/live-ledgers.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import { recordEntries } from '#db/record/record-entries.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import type { Entry } from '#shared/ledger/entry.ts';
import { headlineReport } from '#shared/rollup/report.ts';
import { makeEntries } from '#tests/bench/make-chain.ts';
import { describeOnBothEngines, onServer } from '#tests/support/engines.ts';

function note(text: string): Entry {
  return { kind: 'note', id: randomUUID(), happenedOn: '2026-06-30', by: 'AB', text } as Entry;
}

describeOnBothEngines('recorded together', (engine) => {
  const ledgersOf = () => new LiveLedgers(engine.db(), { tell: engine.store().feed.tell });

  const recordIn = (ledgers: LiveLedgers, aircraftId: string, entry: Entry) =>
    ledgers.record(
      aircraftId,
      () => ({ ok: true, entry }),
      ({ seq, replayed, ledger }) => ({ seq, replayed, last: ledger.entries.length }),
    );

  /** While `work` goes on, the commit of an entry with this text does as `body` says. */
  async function whenCommitting(text: string, body: string, work: () => Promise<void>): Promise<void> {
    const asOwner = (...statements: readonly string[]) =>
      engine.asOwner(async (tx) => {
        for (const statement of statements) await sql.raw(statement).execute(tx);
      });
    await asOwner(
      `create function public.at_commit() returns trigger language plpgsql security definer as $body$
       begin ${body}; return null; end $body$`,
      `create constraint trigger at_commit after insert on public.entry deferrable initially deferred
       for each row when (new.content like '%${text}%') execute function public.at_commit()`,
    );
    await work().finally(() => asOwner('drop trigger at_commit on public.entry', 'drop function public.at_commit()'));
  }

  /** In how many transactions `work` recorded. */
  async function commitsOf(work: () => Promise<void>): Promise<number> {
    await engine.asOwner((tx) => sql`create table public.commit_seen (xid text)`.execute(tx));
    await whenCommitting('', 'insert into public.commit_seen values (pg_current_xact_id()::text)', work);
    return engine.asOwner(async (tx) => {
      const { rows } = await sql<{ xid: string }>`select distinct xid from public.commit_seen`.execute(tx);
      await sql`drop table public.commit_seen`.execute(tx);
      return rows.length;
    });
  }

  it('[N10] what gathers goes into one commit, in order, and each is told of the ledger right after its own', async () => {
    const aircraftId = await engine.aircraft();
    const ledgers = ledgersOf();
    const entries = makeEntries(20, 12).map((entry) => ({ ...entry, id: randomUUID() }) as Entry);
    const commits = await commitsOf(async () => {
      const answers = await Promise.all(entries.map((entry) => recordIn(ledgers, aircraftId, entry)));
      const told = entries.map((_, at) => ({ ok: true, told: { seq: at + 1, replayed: false, last: at + 1 } }));
      expect(answers).toEqual(told);
    });
    // No more than 32 entries in one.
    expect(commits).toBe(Math.ceil(entries.length / 32));
    const read = await ledgers.read(aircraftId, undefined, headlineReport);
    expect(read).toEqual({ ok: true, value: headlineReport(await loadLedger(engine.db(), aircraftId)) });
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: entries.length });
  });

  it('[N10] who is refused, whose draft breaks and who sends twice take nobody else with them', async () => {
    const aircraftId = await engine.aircraft();
    const ledgers = ledgersOf();
    const twice = note('twice');
    const other = { ...twice, text: 'other words' } as Entry;
    const answers = await Promise.allSettled([
      recordIn(ledgers, aircraftId, note('first')),
      recordIn(ledgers, aircraftId, twice),
      ledgers.record(
        aircraftId,
        () => ({ ok: false as const, refused: 'not today' }),
        () => undefined,
      ),
      ledgers.record(
        aircraftId,
        () => {
          throw new Error('a draft that breaks');
        },
        () => undefined,
      ),
      recordIn(ledgers, aircraftId, twice),
      recordIn(ledgers, aircraftId, other),
      ledgers.record(
        aircraftId,
        () => ({ ok: true, entry: note('told in vain') }),
        () => {
          throw new Error('a telling that breaks');
        },
      ),
      recordIn(ledgers, aircraftId, note('last')),
    ]);
    const told = (seq: number, last = seq, replayed = false) => ({
      status: 'fulfilled',
      value: { ok: true, told: { seq, replayed, last } },
    });
    expect(answers).toMatchObject([
      told(1),
      told(2),
      { status: 'fulfilled', value: { ok: false, refused: 'not today' } },
      { status: 'rejected', reason: { message: 'a draft that breaks' } },
      told(2, 2, true),
      { status: 'fulfilled', value: { ok: false, refusal: { code: 'entry-id-reused', seq: 2 } } },
      { status: 'rejected', reason: { message: 'a telling that breaks' } },
      told(4),
    ]);
    expect((await loadLedger(engine.db(), aircraftId)).entries.map(({ entry }) => entry)).toMatchObject(
      ['first', 'twice', 'told in vain', 'last'].map((text) => ({ text })),
    );
  });

  it('[N10] each is told when it was recorded, as it stands in the ledger; another server had added to it before', async () => {
    const aircraftId = await engine.aircraft();
    const [here, other] = [ledgersOf(), ledgersOf()];
    expect(await recordIn(here, aircraftId, note('known'))).toMatchObject({ ok: true });
    await recordIn(other, aircraftId, note('of another server'));
    const recordedAt = (ledgers: LiveLedgers, text: string) =>
      ledgers.record(
        aircraftId,
        () => ({ ok: true, entry: note(text) }),
        ({ seq, ledger }) => ({ seq, at: ledger.entries[seq - 1]?.recordedAt }),
      );
    // The first goes alone, the others together.
    const answers = await Promise.all(['a', 'b', 'c', 'd'].map((text) => recordedAt(here, text)));
    const { entries } = await loadLedger(engine.db(), aircraftId);
    const told = entries.slice(2).map(({ seq, recordedAt: at }) => ({ ok: true, told: { seq, at } }));
    expect(answers).toEqual(told);
    expect(entries.map(({ entry }) => 'text' in entry && entry.text)).toEqual([
      'known',
      'of another server',
      ...['a', 'b', 'c', 'd'],
    ]);
  });

  it('[N10] what cannot be stored and what is sent twice is seen to by itself, and the ledger is not read again for it', async () => {
    const aircraftId = await engine.aircraft();
    const ledgers = ledgersOf();
    await recordIn(ledgers, aircraftId, note('first'));
    // The first can be said as text and not be kept, the second not even that.
    const unkept = note('NUL \0');
    const unsaid = note('half a pair \ud800');
    const kept = await ledgers.read(aircraftId, undefined, (ledger) => ledger);
    const a = note('a');
    const entries = [note('alone'), a, unkept, a, unsaid, { ...a, text: 'other words' } as Entry, note('c')];
    const answers = await Promise.allSettled(entries.map((entry) => recordIn(ledgers, aircraftId, entry)));
    expect(answers).toMatchObject([
      { value: { ok: true, told: { seq: 2 } } },
      { value: { ok: true, told: { seq: 3 } } },
      { value: { ok: false, refusal: { code: 'shape-refused' } } },
      { value: { ok: true, told: { seq: 3, replayed: true } } },
      { reason: { message: 'Lone surrogate is not allowed' } },
      { value: { ok: false, refusal: { code: 'entry-id-reused', seq: 3 } } },
      { value: { ok: true, told: { seq: 4 } } },
    ]);
    const after = await ledgers.read(aircraftId, undefined, (ledger) => ledger);
    expect(after.ok && kept.ok && after.value === kept.value).toBe(true);
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 4 });
  });

  it('[S1] where the commit fails nobody was answered: each is tried by itself, and the one at fault alone is refused', async () => {
    const aircraftId = await engine.aircraft();
    const ledgers = ledgersOf();
    await whenCommitting('poison', "raise exception 'no commit for this one'", async () => {
      const texts = ['a', 'b', 'poison', 'c', 'd'];
      const answers = await Promise.allSettled(texts.map((text) => recordIn(ledgers, aircraftId, note(text))));
      expect(answers.map(({ status }) => status)).toEqual([
        'fulfilled',
        'fulfilled',
        'rejected',
        'fulfilled',
        'fulfilled',
      ]);
      expect(answers[2]).toMatchObject({ reason: { message: 'no commit for this one' } });
      const seqs = answers.map((one) => (one.status === 'fulfilled' && one.value.ok ? one.value.told.seq : undefined));
      expect(seqs).toEqual([1, 2, undefined, 3, 4]);
    });
    expect(await recordIn(ledgers, aircraftId, note('after'))).toMatchObject({ ok: true, told: { seq: 5 } });
    const texts = (await loadLedger(engine.db(), aircraftId)).entries.map(({ entry }) => 'text' in entry && entry.text);
    expect(texts).toEqual(['a', 'b', 'c', 'd', 'after']);
    const here = await ledgers.read(aircraftId, undefined, ({ entries }) => entries.map(({ seq }) => seq));
    expect(here).toEqual({ ok: true, value: [1, 2, 3, 4, 5] });
  });

  it('[N10] a reader sees everything that was recorded before it asked, by whomever', async () => {
    const aircraftId = await engine.aircraft();
    const [one, two] = [ledgersOf(), ledgersOf()];
    const lengthIn = async (ledgers: LiveLedgers) => {
      const read = await ledgers.read(aircraftId, undefined, ({ entries }) => entries.length);
      return read.ok ? read.value : Number.NaN;
    };
    let recorded = 0;
    let isWriting = true;
    const readers = [one, two].map(async (ledgers) => {
      while (isWriting) {
        const before = recorded;
        expect(await lengthIn(ledgers)).toBeGreaterThanOrEqual(before);
        await sleep(0);
      }
    });
    for (let round = 0; round < 12; round += 1) {
      const ways = [
        () => recordIn(one, aircraftId, note('one')),
        () => recordIn(two, aircraftId, note('two')),
        () => appendEntries(engine.db(), { aircraftId, contents: [entryText(note('beside'))] }),
        () => recordIn(one, aircraftId, note('one more')),
      ];
      await Promise.all(
        ways.map(async (way) => {
          expect(await way()).toMatchObject({ ok: true });
          recorded += 1;
        }),
      );
    }
    isWriting = false;
    await Promise.all(readers);
    expect([await lengthIn(one), await lengthIn(two)]).toEqual([48, 48]);
  });

  it('[N10] who records one entry comes to its turn beside a server that records on the same aircraft without a pause', async () => {
    const aircraftId = await engine.aircraft();
    const [busy, other] = [ledgersOf(), ledgersOf()];
    let isBusy = true;
    const writers = Array.from({ length: 40 }, async () => {
      while (isBusy) expect(await recordIn(busy, aircraftId, note('busy'))).toMatchObject({ ok: true });
    });
    const draftsOf: number[] = [];
    try {
      for (let round = 0; round < 5; round += 1) {
        let drafts = 0;
        const draft = () => {
          drafts += 1;
          return { ok: true as const, entry: note('one') };
        };
        expect(await other.record(aircraftId, draft, () => undefined)).toMatchObject({ ok: true });
        draftsOf.push(drafts);
      }
    } finally {
      isBusy = false;
      await Promise.all(writers);
    }
    // As known; again as it is; and, holding the aircraft, for the last time.
    expect(Math.max(...draftsOf)).toBeLessThanOrEqual(3);
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true });
  });

  if (engine.kind === 'postgres')
    it('[S7] where the database goes away while they are tried one by one, the others are told so and not tried', async () => {
      const aircraftId = await engine.aircraft();
      const ledgers = ledgersOf();
      await engine.asOwner((tx) => sql`create sequence public.tries`.execute(tx));
      const alone = `(select count(*) from public.entry where aircraft_id = new.aircraft_id) = 1`;
      const body = `perform nextval('public.tries');
        if ${alone} and new.content not like '%first%' then perform pg_terminate_backend(pg_backend_pid()); perform pg_sleep(1); end if;
        raise exception 'not these'`;
      await whenCommitting('', body, async () => {
        const texts = ['first', 'a', 'b', 'c', 'd'];
        const answers = await Promise.allSettled(texts.map((text) => recordIn(ledgers, aircraftId, note(text))));
        const away = answers.map((one) => one.status === 'rejected' && isDatabaseAway(one.reason));
        expect(away).toEqual([false, true, true, true, true]);
        // Until the pool has noticed.
        await sleep(100);
      });
      // The first alone, the others as one, and one of them alone.
      const tried = await engine.asOwner((tx) =>
        sql`select last_value::integer as tries from public.tries`.execute(tx),
      );
      expect(tried.rows).toEqual([{ tries: 3 }]);
      const next = await Promise.all(['p', 'q', 'r'].map((text) => recordIn(ledgers, aircraftId, note(text))));
      expect(next).toMatchObject([1, 2, 3].map((seq) => ({ ok: true, told: { seq } })));
    });

  if (engine.kind === 'postgres')
    it('[S5] on a database whose transactions are serializable by default, two servers record on one aircraft as on any other', async () => {
      const aircraftId = await engine.aircraft();
      const { url } = engine.place() as { url: string };
      const isolation = (value: string) =>
        onServer((client) => client.query(`alter database ${new URL(url).pathname.slice(1)} ${value}`), url);
      await isolation(`set default_transaction_isolation = 'serializable'`);
      const stores = [await openStore(engine.place()), await openStore(engine.place())];
      try {
        await Promise.all(
          stores.flatMap(({ db, feed }) => {
            const ledgers = new LiveLedgers(db, { tell: feed.tell });
            return Array.from({ length: 6 }, async (_, writer) => {
              for (let count = 0; count < 6; count += 1)
                expect(await recordIn(ledgers, aircraftId, note(`${writer}`))).toMatchObject({ ok: true });
            });
          }),
        );
      } finally {
        for (const store of stores) await store.close();
        await isolation('reset default_transaction_isolation');
      }
      expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 72 });
    });

  if (engine.kind === 'postgres')
    it.each(['in a transaction of its own', 'in one that was begun before'])(
      '[N10] whoever reads the whole ledger for a draft comes to its turn beside a writer that is quicker each time, %s',
      async (where) => {
        const aircraftId = await engine.aircraft();
        const entry = `format('{"by":"AB","happenedOn":"2026-06-30","id":"%s","kind":"note","text":"quick"}', gen_random_uuid())`;
        const append = `perform append_entries('${aircraftId}', null, array[${entry}])`;
        const url = (engine.place() as { url: string }).url;
        let isBusy = true;
        const quick = onServer(async (client) => {
          while (isBusy)
            await client.query(`do $body$ begin for count in 1..10 loop ${append}; commit; end loop; end $body$`);
        }, url);
        let drafts = 0;
        const record = (db: Kysely<Database>) =>
          recordEntries<never>(db, { aircraftId }, () => {
            drafts += 1;
            const untilMs = performance.now() + 50;
            while (performance.now() < untilMs);
            return { ok: true, entries: [note('one of two'), note('two of two')] };
          });
        try {
          const db = engine.db();
          while (drafts === 0 && (await loadLedger(db, aircraftId)).entries.length < 20) await sleep(5);
          const answer = await (where.includes('own') ? record(db) : db.transaction().execute(record));
          expect(answer).toMatchObject({ ok: true });
        } finally {
          isBusy = false;
          await quick;
        }
        expect(drafts).toBeLessThanOrEqual(2);
        expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true });
      },
    );

  it('[N10] an aircraft that nobody asks about is let go of, and read again for the next one', async () => {
    const [left, asked] = [await engine.aircraft(), await engine.aircraft()];
    const ledgers = new LiveLedgers(engine.db(), { idleMs: 60 });
    expect(await recordIn(ledgers, left, note('kept'))).toMatchObject({ ok: true });
    expect(ledgers.count).toBe(1);
    await sleep(80);
    await ledgers.read(asked, undefined, () => undefined);
    expect(ledgers.count).toBe(1);
    expect(await ledgers.read(left, undefined, ({ entries }) => entries.length)).toEqual({ ok: true, value: 1 });
    expect(ledgers.count).toBe(2);
  });

  if (engine.kind === 'postgres')
    it('[S7] a connection that breaks at the commit: all of it are told, none is recorded, and the next go on', async () => {
      const aircraftId = await engine.aircraft();
      const ledgers = ledgersOf();
      const url = engine.place().kind === 'postgres' ? (engine.place() as { url: string }).url : undefined;
      const asleep = `from pg_stat_activity where datname = current_database() and wait_event = 'PgSleep'`;
      const cutWhileCommitting = onServer(async (client) => {
        for (;;) {
          const { rowCount } = await client.query(`select pg_terminate_backend(pid) ${asleep}`);
          if (rowCount === 1) return;
          await sleep(5);
        }
      }, url);
      await whenCommitting('slow', 'perform pg_sleep(20)', async () => {
        expect(await recordIn(ledgers, aircraftId, note('before'))).toMatchObject({ ok: true });
        const texts = ['a', 'slow', 'b'];
        const answers = await Promise.allSettled(texts.map((text) => recordIn(ledgers, aircraftId, note(text))));
        await cutWhileCommitting;
        expect(answers.map(({ status }) => status)).toEqual(['rejected', 'rejected', 'rejected']);
        for (const one of answers) expect(one.status === 'rejected' && isDatabaseAway(one.reason)).toBe(true);
      });
      expect((await loadLedger(engine.db(), aircraftId)).entries).toHaveLength(1);
      const next = await Promise.all(['p', 'q', 'r'].map((text) => recordIn(ledgers, aircraftId, note(text))));
      expect(next).toMatchObject([2, 3, 4].map((seq) => ({ ok: true, told: { seq } })));
    });
});
