/** Reading through the doors: what they show is what the pure rules say of the same entries. */
import { expect, it } from 'vitest';
import { createDemonstration, DEMONSTRATION_ID } from '#db/demo/create-demonstration.ts';
import { loadLedger } from '#db/record/load-ledger.ts';
import {
  BreakdownListReport,
  DriftListReport,
  EntriesReport,
  HistoryReport,
  LedgerReport,
  PairListReport,
  PartsListReport,
  PartsReport,
  ScaleListReport,
  SplitListReport,
  VerifyReport,
} from '#shared/contract/aircraft.ts';
import { SPLITS } from '#shared/contract/drift.ts';
import { AccuracyReport } from '#shared/contract/layup.ts';
import { PartPageReport } from '#shared/contract/part.ts';
import { BridgeReport } from '#shared/contract/reports.ts';
import { SetUpReport } from '#shared/contract/set-up.ts';
import { partLimitOf } from '#shared/drift/part-drift.ts';
import { findingsReport, splitReport } from '#shared/drift/report.ts';
import { accuracyReport } from '#shared/layup/accuracy.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { bridgeReport } from '#shared/rollup/bridge.ts';
import { partPage } from '#shared/rollup/part-page.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import { breakdownReport, daysReport, entriesReport, headlineReport } from '#shared/rollup/report.ts';
import { setUpReport } from '#shared/rollup/set-up-report.ts';
import { partsText } from '#shared/table/parts-text.ts';
import { pairReport } from '#shared/weighing/pairs.ts';
import { scaleReport } from '#shared/weighing/scale-report.ts';
import { aircraftIn, newId, partsIn, pointersOf, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

/** As it comes out of JSON: without what is undefined. */
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

describeOnBothEngines('reading', (engine) => {
  const shop = shopOn(engine, { createDemonstration });
  let cookie = '';
  const get = async (path: string, id: string = DEMONSTRATION_ID) =>
    shop().call('GET', `/api/aircraft/${id}${path}`, { cookie });
  const ledgerAt = (seq?: number): Promise<Ledger> => loadLedger(engine.db(), DEMONSTRATION_ID, seq);

  it('[N5] a part that is not there, or is of another aircraft, is answered alike', async () => {
    const lead = await shop().person('lead');
    const [own, other] = [await aircraftIn(shop(), lead.cookie), await aircraftIn(shop(), lead.cookie)];
    await partsIn(shop(), lead.cookie, other);
    const [part] = PartsReport.parse(
      await (await shop().call('GET', `/api/aircraft/${other}/parts`, { cookie: lead.cookie })).json(),
    ).parts;
    for (const partId of [part?.partId, newId(), 'no-id', '%00'])
      await problemOf(
        await shop().call('GET', `/api/aircraft/${own}/parts/${partId}`, { cookie: lead.cookie }),
        404,
        'not-found',
      );
  });

  it('[N10] every report is that of the pure rules over the entries in the database, now and as known then', async () => {
    ({ cookie } = await shop().person('lead'));
    expect((await shop().call('POST', '/api/demonstration', { cookie })).status).toBe(201);
    for (const seq of [undefined, 1, 200, 350, 200]) {
      const ledger = await ledgerAt(seq);
      const at = seq === undefined ? '' : `?asKnownAt=${seq}`;
      const last = ledger.entries.length;
      const headline = LedgerReport.parse(await (await get(at)).json());
      expect(headline.headline).toEqual(plain(headlineReport(ledger)));
      expect(headline.aircraft.headSeq).toBe(last);
      const history = HistoryReport.parse(await (await get(`/history${at}`)).json());
      expect(history).toEqual({ seq: last, days: plain(daysReport(ledger)) });
      expect(PartsReport.parse(await (await get(`/parts${at}`)).json())).toEqual({
        seq: last,
        parts: plain(partsReport(ledger)),
        partLimit: plain(partLimitOf(ledger)),
      });
      const [first] = partsReport(ledger);
      if (first !== undefined) {
        const page = PartPageReport.parse(await (await get(`/parts/${first.partId}${at}`)).json());
        expect(page).toEqual(plain(partPage(ledger, first.partId)));
      }
      const list = PartsListReport.parse(await (await get(`/parts-list${at}`)).json());
      expect(list).toEqual({ seq: last, csv: partsText(ledger) });
      for (const key of ['group', 'process', 'assembly'] as const) {
        const report = BreakdownListReport.parse(await (await get(`/breakdown/${key}${at}`)).json());
        expect(report).toEqual({ seq: last, rows: plain(breakdownReport(ledger, key)) });
      }
      for (const order of ['margin', 'cg'] as const) {
        const report = DriftListReport.parse(
          await (await get(`/drift${at === '' ? '?' : `${at}&`}order=${order}`)).json(),
        );
        expect(report).toEqual({ seq: last, findings: plain(findingsReport(ledger, order)) });
      }
    }
  });

  it('[W10] splits, pairs and scales are those of the pure rules', async () => {
    const ledger = await ledgerAt();
    const seq = ledger.entries.length;
    for (const key of SPLITS) {
      const report = SplitListReport.parse(await (await get(`/split/${key}`)).json());
      expect(report).toEqual({ seq, rows: plain(splitReport(ledger, key)) });
    }
    expect(PairListReport.parse(await (await get('/pairs')).json())).toEqual({ seq, rows: plain(pairReport(ledger)) });
    const setUp = SetUpReport.parse(await (await get('/set-up')).json());
    expect(setUp).toEqual({ seq, ...(plain(setUpReport(ledger)) as object) });
    const accuracy = AccuracyReport.parse(await (await get('/lay-up-accuracy')).json());
    expect(accuracy).toEqual(plain(accuracyReport(ledger)));
    const scales = ScaleListReport.parse(await (await get('/scales')).json());
    expect(scales).toEqual({ seq, scales: plain(scaleReport(ledger)) });
    await problemOf(await get('/split/colour'), 400, 'input-refused');
  });

  it('[L6] a bridge between entries or between days is that of the pure rules; both together are refused', async () => {
    const ledger = await ledgerAt();
    const seq = ledger.entries.length;
    const bridge = async (query: string) => BridgeReport.parse(await (await get(`/bridge${query}`)).json());
    expect(await bridge('')).toEqual(plain(bridgeReport(ledger, { axis: 'day' })));
    const entries = bridgeReport(ledger, { axis: 'entry', from: 200, to: 350 });
    expect(await bridge('?fromEntry=200&toEntry=350')).toEqual(plain(entries));
    const days = bridgeReport(ledger, { axis: 'day', from: '2026-01-01', to: '2026-06-30' });
    expect(await bridge('?fromDay=2026-01-01&toDay=2026-06-30')).toEqual(plain(days));
    for (const by of ['group', 'part'] as const) {
      expect(await bridge(`?by=${by}`)).toEqual(plain(bridgeReport(ledger, { axis: 'day' }, by)));
      const period = { axis: 'entry', from: 200, to: 350 } as const;
      expect(await bridge(`?fromEntry=200&toEntry=350&by=${by}`)).toEqual(plain(bridgeReport(ledger, period, by)));
    }
    expect(await (await get('/bridge')).json()).toMatchObject({ seq });
    await problemOf(await get('/bridge?by=process'), 400, 'input-refused');
    await problemOf(await get('/bridge?fromEntry=2&toDay=2026-06-30'), 400, 'input-refused');
    await problemOf(await get('/bridge?fromDay=30.6.2026'), 400, 'input-refused');
    for (const [query, pointer] of [
      ['fromDay=2026-06-30&toDay=2026-01-01', '/toDay'],
      ['fromEntry=350&toEntry=200', '/toEntry'],
    ]) {
      const { problems } = await problemOf(await get(`/bridge?${query}`), 400, 'input-refused');
      expect(problems).toMatchObject([{ pointer, code: 'period-reversed' }]);
    }
  });

  it('[L7] the pages of entries, put together, are all of them, newest first', async () => {
    for (const seq of [undefined, 300]) {
      const all = [...entriesReport(await ledgerAt(seq))].reverse();
      const found: unknown[] = [];
      for (let before: number | undefined; ; ) {
        const query = new URLSearchParams({ limit: '77', ...(seq === undefined ? {} : { asKnownAt: String(seq) }) });
        if (before !== undefined) query.set('before', String(before));
        const page = EntriesReport.parse(await (await get(`/entries?${query}`)).json());
        expect(page.seq).toBe(all.length);
        found.push(...page.entries);
        before = page.next;
        if (before === undefined) break;
      }
      expect(found).toEqual(plain(all));
    }
  });

  it('[L7] a page is filtered by kind, by part and by what was typed', async () => {
    const all = [...entriesReport(await ledgerAt())].reverse();
    const seqs = async (query: string) =>
      EntriesReport.parse(await (await get(`/entries?limit=200&${query}`)).json()).entries.map(({ seq }) => seq);
    const seqsOf = (is: (one: (typeof all)[number]) => boolean) =>
      all
        .filter(is)
        .map(({ seq }) => seq)
        .slice(0, 200);
    expect(await seqs('kind=correction')).toEqual(seqsOf(({ entry }) => entry.kind === 'correction'));
    const part = all.find((one) => one.part !== undefined)?.part ?? '';
    expect(part).not.toBe('');
    const ofPart = seqsOf((one) => one.part === part);
    expect(await seqs(`part=${encodeURIComponent(part.toLowerCase())}`)).toEqual(ofPart);
    expect(await seqs(`search=${encodeURIComponent(part.toUpperCase())}`)).toEqual(expect.arrayContaining([...ofPart]));
    expect(await seqs('search=no+such+words+anywhere')).toEqual([]);
    expect(await (await get('/entries?kind=weighing&limit=3')).json()).toMatchObject({ entries: { length: 3 } });
  });

  it('[L7] search looks into number, name, person, remark and the words typed, all words together', async () => {
    const id = await aircraftIn(shop(), cookie);
    await partsIn(shop(), cookie, id);
    const engineer = await shop().person('engineer');
    await record(shop(), engineer.cookie, id, {
      kind: 'weighing',
      part: 'T-200',
      gross: '9.91 lb',
      condition: 'finished',
      remark: 'Crème fraîche',
    });
    const seqs = async (search: string) =>
      EntriesReport.parse(await (await get(`/entries?search=${encodeURIComponent(search)}`, id)).json()).entries.map(
        ({ seq }) => seq,
      );
    expect(await seqs('t-200')).toEqual([6, 5, 4]);
    expect(await seqs('part t-200')).toEqual([6, 5, 4]);
    expect(await seqs(engineer.initials.toLowerCase())).toEqual([6]);
    expect(await seqs('CRÈME')).toEqual([6]);
    expect(await seqs('9.91 lb')).toEqual([6]);
    expect(await seqs('9.91 w-104')).toEqual([]);
    // Ids are not what anybody typed.
    expect(await seqs(id.slice(0, 8))).toEqual([]);
  });

  it('[L5] a lead can have the chain walked', async () => {
    const report = VerifyReport.parse(await (await get('/verify')).json());
    expect(report).toMatchObject({ ok: true, entryCount: (await ledgerAt()).entries.length });
  });

  it('[L7] an entry that is not there yet is told as such, and bad questions with their places', async () => {
    const report = await problemOf(await get('?asKnownAt=99999'), 404, 'no-such-entry');
    expect(report.problems).toMatchObject([{ pointer: '/asKnownAt', code: 'no-such-entry' }]);
    const bad = await get('/entries?limit=500&before=zero&kind=wedding&colour=red&asKnownAt=0');
    expect(pointersOf(await problemOf(bad, 400, 'input-refused'))).toEqual([
      '/asKnownAt',
      '/before',
      '/colour',
      '/kind',
      '/limit',
    ]);
    await problemOf(await get('/breakdown/colour'), 400, 'input-refused');
    await problemOf(await get('/drift?order=size'), 400, 'input-refused');
    await problemOf(await get(`/entries?before=1e3`), 400, 'input-refused');
  });

  it('[N10] an aircraft without entries can be read', async () => {
    const id = await engine.aircraft();
    expect(await (await get('/entries', id)).json()).toEqual({ seq: 0, entries: [] });
    expect(await (await get('', id)).json()).toMatchObject({
      aircraft: { headSeq: 0 },
      headline: { seq: 0, partCount: 0 },
    });
    await problemOf(await get('?asKnownAt=1', id), 404, 'no-such-entry');
  });

  it('[W4] a preview says what the weighing then does, and records nothing', async () => {
    const id = await aircraftIn(shop(), cookie);
    await partsIn(shop(), cookie, id);
    const weighing = { part: 'W-104', piece: '2', gross: '4.60 kg', condition: 'finished' };
    const crew = await shop().person('crew');
    const preview = (body: object) =>
      shop().call('POST', `/api/aircraft/${id}/weighing-preview`, { cookie: crew.cookie, body });
    const answer = await preview(weighing);
    expect(answer.status).toBe(200);
    const said = (await answer.json()) as { predictedAfterKg: number };
    expect(said).toMatchObject({
      judgement: { flag: 'drifting heavy', expectedKg: 4 },
      allowanceFraction: 0.1,
      doubts: [],
    });
    expect(await (await get('/entries?limit=1', id)).json()).toMatchObject({ seq: 5 });
    const recorded = await record(shop(), crew.cookie, id, { kind: 'weighing', ...weighing });
    expect(said.predictedAfterKg).toBeCloseTo(recorded.headline.predictedKg, 9);
    expect(
      pointersOf(await problemOf(await preview({ ...weighing, gross: '4.6', piece: '7' }), 400, 'input-refused')),
    ).toEqual(['/gross', '/piece']);
    expect(pointersOf(await problemOf(await preview({ ...weighing, id: newId() }), 400, 'input-refused'))).toEqual([
      '/id',
    ]);
    expect(pointersOf(await problemOf(await preview({ ...weighing, by: 'ZZ' }), 400, 'input-refused'))).toEqual([
      '/by',
    ]);
    expect(pointersOf(await problemOf(await preview({ ...weighing, kind: 'note' }), 400, 'input-refused'))).toEqual([
      '/kind',
    ]);
    expect(
      pointersOf(await problemOf(await preview({ ...weighing, happenedOn: '2999-01-01' }), 400, 'input-refused')),
    ).toEqual(['/happenedOn']);
    expect((await preview({ ...weighing, kind: 'weighing' })).status).toBe(200);
  });

  it('[W4] a preview of a correction is of the ledger with the old weighing replaced, and records nothing', async () => {
    const id = await aircraftIn(shop(), cookie);
    await partsIn(shop(), cookie, id);
    const weighing = { part: 'W-104', piece: '2', gross: '4.60 kg', condition: 'finished' };
    const { entry } = await record(shop(), cookie, id, { kind: 'weighing', ...weighing });
    const preview = (body: object) =>
      shop().call('POST', `/api/aircraft/${id}/weighing-preview`, { cookie, body: { kind: 'correction', ...body } });
    const asked = { entry: entry.seq, replacement: { ...weighing, gross: '4.06 kg' } };
    const said = (await (await preview(asked)).json()) as { predictedAfterKg: number };
    expect(said).toMatchObject({ judgement: { flag: 'in line', expectedKg: 4, netKg: 4.06 }, doubts: [] });
    expect(await (await preview({ entry: entry.seq, replacement: weighing })).json()).toMatchObject({
      judgement: { flag: 'drifting heavy' },
      doubts: [],
    });
    expect(await (await get('/entries?limit=1', id)).json()).toMatchObject({ seq: entry.seq });
    const recorded = await record(shop(), cookie, id, { kind: 'correction', ...asked, reason: 'digits turned round' });
    expect(said.predictedAfterKg).toBeCloseTo(recorded.headline.predictedKg, 9);
    const pointers = async (body: object) => pointersOf(await problemOf(await preview(body), 400, 'input-refused'));
    expect(await pointers({ entry: recorded.entry.seq, replacement: null })).toEqual(['/replacement']);
    expect(await pointers({ entry: 999, replacement: weighing })).toEqual(['/entry']);
    expect(await pointers({ ...asked, reason: 'x' })).toEqual(['/reason']);
    expect(await pointers({ entry: recorded.entry.seq, replacement: { ...weighing, piece: '7' } })).toEqual([
      '/replacement/piece',
    ]);
    expect(await pointers({ entry: 1, replacement: { name: 'Bird', datum: 'nose' } })).toEqual(['/replacement']);
  });
});
