/** Assemblies, decisions, scales, check weights and supports through the door: taken, refused, corrected, sent again. */

import { expect, it } from 'vitest';
import { RecordedReport } from '#shared/contract/aircraft.ts';
import { PreviewReport } from '#shared/contract/reports.ts';
import { aircraftIn, newId, partsIn, pointersOf, problemOf, record, type Shop, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

type Words = Readonly<Record<string, unknown>>;

/** W-104 (four pieces) and T-200 as ever; BOX holds a SKIN of 3 kg at 1 m and two CAPs of 1 kg at 2 m: 10 entries, then the scale. */
async function ready(shop: Shop) {
  const lead = await shop.person('lead');
  const aircraftId = await aircraftIn(shop, lead.cookie);
  await partsIn(shop, lead.cookie, aircraftId);
  for (const entry of [
    { kind: 'part added', number: 'BOX', group: 'wing' },
    { kind: 'part added', number: 'SKIN', group: 'wing', assembly: 'BOX' },
    { kind: 'part added', number: 'CAP', group: 'wing', assembly: 'BOX', quantity: '2' },
    { kind: 'estimate', part: 'SKIN', estimate: '3 kg', x: '1 m', allowance: '10 %' },
    { kind: 'estimate', part: 'CAP', estimate: '1 kg', x: '2 m', allowance: '10 %' },
    SCALE,
  ])
    await record(shop, lead.cookie, aircraftId, entry);
  const send = (body: object, cookie = lead.cookie) =>
    shop.call('POST', `/api/aircraft/${aircraftId}/entries`, { cookie, body });
  return { lead, aircraftId, send };
}

const SCALE = {
  kind: 'scale',
  scale: 'Bench',
  capacity: '15 kg',
  resolution: '5 g',
  calibrated: '2026-02-01',
  'calibration due': '2027-02-01',
};
const CHECK = { kind: 'check weight', scale: 'bench', reference: '10 kg', shown: '10.004 kg' };
const BOX = {
  kind: 'assembly weighing',
  part: 'BOX',
  gross: '4.6 kg',
  tare: '0.5 kg',
  condition: 'finished',
  scale: 'bench',
  'not yet in': 'CAP piece 2',
};
const LIGHT = { kind: 'weighing', part: 'T-200', gross: '3.5 kg', condition: 'finished' };
const DECISION = { kind: 'disposition', part: 'T-200', decision: 'accepted', inspection: 'tapped, sound' };
const SUPPORTS = {
  kind: 'arm measured',
  part: 'T-200',
  'first load': '2.00 kg',
  'first station': '500 mm',
  'second load': '6.00 kg',
  'second station': '2500 mm',
};

describeOnBothEngines('new kinds through the door', (engine) => {
  const shop = shopOn(engine);

  it('[W7] a weighed assembly answers its entry, what it changed and where the aircraft stands', async () => {
    const { send } = await ready(shop());
    const crew = await shop().person('crew');
    const answer = await send({ ...BOX, id: newId() }, crew.cookie);
    expect(answer.status).toBe(201);
    const report = RecordedReport.parse(await answer.json());
    // 4.1 on the scale where the parts in it make 3 + 1; their allowance of 0.4 goes.
    expect(report.entry).toMatchObject({ seq: 12, part: 'BOX', entry: { netKg: 4.1, by: crew.initials } });
    expect(report.entry.effects.map(({ cause, massKg }) => [cause, Number(massKg.toFixed(9))])).toEqual([
      ['assembly residual', 0.1],
      ['allowance', -0.4],
    ]);
    expect(report.headline.basicKg).toBeCloseTo(5 * 4 + 4.1 + 1, 9);
  });

  it('[E3] an estimate by lay-up takes the materials of the list, and answers what it comes to', async () => {
    const { send, aircraftId, lead } = await ready(shop());
    for (const material of [
      { name: 'Twill', is: 'fabric', areal: '200 g/m²', density: '1.8 g/cm³' },
      { name: 'Epoxy', is: 'resin', density: '1.2 g/cm³' },
    ])
      expect((await send({ kind: 'material', id: newId(), ...material })).status).toBe(201);
    const lines = [{ is: 'ply', material: 'twill', layers: 3 }];
    const layUp = { resin: 'Epoxy', 'fibre by mass': '60 %', regions: [{ name: 'Skin', area: '1.5 m²', lines }] };
    const estimate = { kind: 'estimate', part: 'T-200', layUp, x: '2 m' };
    // 1.5 m² x 3 x 0.2 kg/m² = 0.9 kg of fibre; at 60 % that is 1.5 kg.
    const answer = await send({ ...estimate, id: newId() });
    const report = RecordedReport.parse(await answer.json());
    expect(report.entry.entry).toMatchObject({ massKg: 1.5, evidence: 'calculated', laterKg: 0 });
    const { entry } = report.entry;
    const partId = entry.kind === 'estimate' ? entry.partId : '';
    const page = await shop().call('GET', `/api/aircraft/${aircraftId}/parts/${partId}`, { cookie: lead.cookie });
    expect(await page.json()).toMatchObject({ layUp: { computed: { massKg: 1.5 }, moved: [] } });
    const regions = [{ name: 'Skin', area: '1.5', lines: [{ ...lines[0], material: 'silk' }] }];
    const refused = await send({ ...estimate, id: newId(), layUp: { ...layUp, regions } });
    expect(pointersOf(await problemOf(refused, 400, 'input-refused'))).toEqual(['/layUp/regions/0/area']);
  });

  it('[N6] everything that is wrong with a weighed assembly is told at once, each at its place', async () => {
    const { send } = await ready(shop());
    const bad = { ...BOX, gross: '4.6', condition: 'dusty', x: '1 kg', 'not yet in': 'NOSE; T-200', lot: 'L7' };
    const report = await problemOf(await send({ ...bad, id: newId() }), 400, 'input-refused');
    expect(pointersOf(report)).toEqual(['/condition', '/gross', '/lot', '/not yet in', '/not yet in', '/x']);
    for (const problem of report.problems ?? []) expect(problem.remedy).not.toBe('');
  });

  const REFUSALS: readonly (readonly [Words, string, string])[] = [
    [{ ...BOX, part: undefined }, '/part', 'missing'],
    [{ ...BOX, part: 'NOSE' }, '/part', 'unknown-part'],
    [{ ...BOX, part: 'T-200' }, '/part', 'has-no-parts'],
    [{ ...BOX, gross: undefined }, '/gross', 'missing'],
    [{ ...BOX, gross: '4.6 m' }, '/gross', 'unit-unknown'],
    [{ ...BOX, gross: '15.1 kg' }, '/gross', 'above-capacity'],
    [{ ...BOX, tare: '5 kg' }, '/gross', 'gross-not-above-tare'],
    [{ ...BOX, 'not yet in': 'T-200' }, '/not yet in', 'not-in-assembly'],
    [{ ...BOX, 'not yet in': 'SKIN; CAP' }, '/not yet in', 'nothing-in-it'],
    [{ ...BOX, 'not yet in': 'CAP piece 3' }, '/not yet in', 'no-such-piece'],
    [{ ...BOX, 'not yet in': ['CAP'] }, '/not yet in', 'shape-refused'],
    [{ ...BOX, members: 'SKIN' }, '/members', 'field-unknown'],
    [{ ...BOX, piece: '1' }, '/piece', 'field-unknown'],
    [{ ...LIGHT, part: 'BOX' }, '/part', 'is-an-assembly'],
    [{ ...LIGHT, gross: '15.1 kg', scale: ' BENCH' }, '/gross', 'above-capacity'],
    [{ ...LIGHT, temperature: '22' }, '/temperature', 'unit-missing'],
    [{ ...LIGHT, temperature: '500 °C' }, '/temperature', 'out-of-range'],
    [{ ...LIGHT, humidity: '140 %' }, '/humidity', 'out-of-range'],
    [{ ...LIGHT, operator: 'x'.repeat(61) }, '/operator', 'text-refused'],
    [{ ...DECISION, part: 'W-104', piece: '1' }, '/piece', 'not-weighed'],
    [{ ...DECISION, part: 'W-104' }, '/piece', 'which-piece'],
    [{ ...DECISION, inspection: undefined }, '/inspection', 'inspection-missing'],
    [{ ...DECISION, decision: 'kept' }, '/decision', 'not-a-choice'],
    [{ ...DECISION, inspection: 'a\0b' }, '/inspection', 'text-refused'],
    [{ ...DECISION, inspection: 'x'.repeat(2001) }, '/inspection', 'text-refused'],
    [{ ...SCALE, scale: undefined }, '/scale', 'missing'],
    [{ ...SCALE, 'calibration due': '2026-01-31' }, '/calibration due', 'days-reversed'],
    [{ ...SCALE, 'calibration uncertainty': '0.02 %' }, '/coverage', 'coverage-missing'],
    [{ ...SCALE, 'calibration uncertainty': '300 %', coverage: '1' }, '/calibration uncertainty', 'out-of-range'],
    [{ ...SCALE, capacity: '0 kg' }, '/capacity', 'out-of-range'],
    [{ ...CHECK, scale: 'Floor' }, '/limit', 'missing'],
    [{ ...CHECK, shown: undefined }, '/shown', 'missing'],
    [{ ...CHECK, reference: '10' }, '/reference', 'unit-missing'],
    [{ ...CHECK, happenedOn: '2999-01-01' }, '/happenedOn', 'day-in-future'],
    [{ ...SUPPORTS, 'second load': undefined }, '/second load', 'missing'],
    [{ ...SUPPORTS, 'second station': '0.5 m' }, '/second station', 'supports-at-one-place'],
    [{ ...SUPPORTS, 'arm uncertainty': '1 mm' }, '/arm uncertainty', 'arm-stated-twice'],
    [
      { kind: 'estimate', part: 'SKIN', estimate: '3 kg', later: '1 kg', finish: '2 kg' },
      '/finish',
      'finish-above-later',
    ],
  ];

  it('[N6] every refusal of the new kinds comes with its code, its place and what to do, and nothing is recorded', async () => {
    const { aircraftId, lead, send } = await ready(shop());
    await record(shop(), lead.cookie, aircraftId, LIGHT);
    for (const [sent, pointer, code] of REFUSALS) {
      const report = await problemOf(await send({ id: newId(), ...sent }), 400, 'input-refused');
      expect({ sent, problems: report.problems }).toMatchObject({ sent, problems: [{ pointer, code }] });
    }
    const answer = await shop().call('GET', `/api/aircraft/${aircraftId}`, { cookie: lead.cookie });
    expect(await answer.json()).toMatchObject({ headline: { seq: 12 } });
  });

  it('[N5] a part of another aircraft is a part that nobody knows', async () => {
    const { send } = await ready(shop());
    const other = await shop().person('lead');
    const elsewhere = await aircraftIn(shop(), other.cookie);
    await record(shop(), other.cookie, elsewhere, { kind: 'part added', number: 'NOSE', group: 'body' });
    for (const [sent, pointer] of [
      [{ ...BOX, 'not yet in': 'NOSE' }, '/not yet in'],
      [{ ...BOX, part: 'NOSE' }, '/part'],
      [{ ...DECISION, part: 'NOSE' }, '/part'],
    ] as const) {
      const report = await problemOf(await send({ ...sent, id: newId() }), 400, 'input-refused');
      expect(report.problems).toMatchObject([{ pointer, code: 'unknown-part' }]);
    }
  });

  it('[W7] a part named twice as not yet in it is as good as named once', async () => {
    const { send } = await ready(shop());
    const answer = await send({ ...BOX, id: newId(), 'not yet in': 'CAP piece 2; cap piece 1; CAP piece 2' });
    const { entry } = RecordedReport.parse(await answer.json());
    expect(entry.entry).toMatchObject({ members: [{ partId: expect.any(String) }] });
  });

  it('[L3] sent again, each is answered as the first time, also when the ledger has moved on', async () => {
    const { aircraftId, lead, send } = await ready(shop());
    const bodies = [SCALE, CHECK, BOX, LIGHT, DECISION, SUPPORTS].map((words) => ({ ...words, id: newId() }));
    const first: RecordedReport[] = [];
    for (const body of bodies) first.push(RecordedReport.parse(await (await send(body)).json()));
    for (const entry of [
      { kind: 'part added', number: 'TIP', group: 'wing', assembly: 'BOX' },
      { kind: 'part removed', part: 'CAP', reason: 'foam instead' },
      { ...SCALE, capacity: '3 kg', resolution: '1 g' },
      { kind: 'piece withdrawn', part: 'T-200', reason: 'dropped' },
    ])
      await record(shop(), lead.cookie, aircraftId, entry);
    for (const [at, body] of bodies.entries()) {
      const again = await send(body);
      const text = await again.text();
      expect({ kind: body.kind, status: again.status, text }).toMatchObject({ kind: body.kind, status: 200 });
      expect(RecordedReport.parse(JSON.parse(text)).entry).toEqual(first[at]?.entry);
    }
    const other = await problemOf(await send({ ...bodies[2], gross: '4.7 kg' }), 409, 'ledger-conflict');
    expect(other.problems).toMatchObject([{ pointer: '/id', code: 'entry-id-reused' }]);
  });

  it('[L2] each can be corrected, and a correction is held to the same rules', async () => {
    const { aircraftId, lead, send } = await ready(shop());
    const correct = (entry: number, { kind: _, ...replacement }: Words) => ({
      kind: 'correction',
      entry,
      reason: 'misread',
      replacement,
    });
    for (const [words, changed, refused, pointer] of [
      [SCALE, { capacity: '20 kg' }, { capacity: '20' }, 'capacity'],
      [CHECK, { shown: '10.02 kg' }, { shown: 'ten' }, 'shown'],
      [BOX, { gross: '4.7 kg' }, { gross: '15.1 kg' }, 'gross'],
      [LIGHT, { temperature: '22 °C' }, { humidity: '140 %' }, 'humidity'],
      [DECISION, { decision: 'scrapped' }, { inspection: '' }, 'inspection'],
      [SUPPORTS, { 'bench zero': '1 m' }, { 'second station': '500 mm' }, 'second station'],
    ] as const) {
      const { entry } = await record(shop(), lead.cookie, aircraftId, words);
      const bad = correct(entry.seq, { ...words, ...refused });
      const report = await problemOf(await send({ ...bad, id: newId() }), 400, 'input-refused');
      expect(report.problems).toMatchObject([{ pointer: `/replacement/${pointer}` }]);
      const made = await record(shop(), lead.cookie, aircraftId, correct(entry.seq, { ...words, ...changed }));
      if (words === DECISION)
        // Scrapped by mistake: it can still be decided otherwise, though there is no piece to decide on any more.
        await record(shop(), lead.cookie, aircraftId, correct(made.entry.seq, DECISION));
      else if (words !== LIGHT)
        await record(shop(), lead.cookie, aircraftId, { ...correct(made.entry.seq, words), replacement: null });
    }
  });

  it('[L4] entries are found by their kind, by the name of a scale and by what was found', async () => {
    const { aircraftId, lead } = await ready(shop());
    for (const entry of [CHECK, BOX, LIGHT, DECISION]) await record(shop(), lead.cookie, aircraftId, entry);
    const found = async (query: string) => {
      const answer = await shop().call('GET', `/api/aircraft/${aircraftId}/entries?${query}`, { cookie: lead.cookie });
      return ((await answer.json()) as { entries: { seq: number }[] }).entries.map(({ seq }) => seq);
    };
    expect(await found('kind=assembly%20weighing')).toEqual([13]);
    expect(await found('kind=check%20weight')).toEqual([12]);
    expect(await found('search=bench')).toEqual([13, 12, 11]);
    expect(await found('search=tapped')).toEqual([15]);
    expect(await found('part=box')).toEqual([13, 6]);
  });

  it('[W4] an assembly weighed as a part is refused before it is saved as well', async () => {
    const { aircraftId, lead } = await ready(shop());
    const preview = (body: object) =>
      shop().call('POST', `/api/aircraft/${aircraftId}/weighing-preview`, { cookie: lead.cookie, body });
    const report = await problemOf(await preview({ ...LIGHT, part: 'BOX' }), 400, 'input-refused');
    expect(report.problems).toMatchObject([{ pointer: '/part', code: 'is-an-assembly' }]);
    const whole = await preview(BOX);
    expect(whole.status).toBe(200);
    const said = PreviewReport.parse(await whole.json());
    const made = await record(shop(), lead.cookie, aircraftId, BOX);
    expect(said.predictedAfterKg).toBe(made.headline.predictedKg);
    expect(said.judgement?.netKg).toBeGreaterThan(0);
    const above = await problemOf(await preview({ ...LIGHT, gross: '16 kg', scale: 'Bench' }), 400, 'input-refused');
    expect(above.problems).toMatchObject([{ pointer: '/gross', code: 'above-capacity' }]);
  });
});
