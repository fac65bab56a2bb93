/** Recording through the door: every kind, every manner of refusal, and repeats. */
import { expect, it } from 'vitest';
import { RecordedReport } from '#shared/contract/aircraft.ts';
import { aircraftIn, newId, partsIn, pointersOf, problemOf, record, type Shop, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

async function ready(shop: Shop) {
  const lead = await shop.person('lead');
  const aircraftId = await aircraftIn(shop, lead.cookie);
  await partsIn(shop, lead.cookie, aircraftId);
  const send = (body: object, cookie = lead.cookie) =>
    shop.call('POST', `/api/aircraft/${aircraftId}/entries`, { cookie, body });
  return { lead, aircraftId, send };
}

const weighing = {
  kind: 'weighing',
  part: 'W-104',
  piece: '2',
  gross: '4.30 kg',
  tare: '0.10 kg',
  condition: 'finished',
};

describeOnBothEngines('recording', (engine) => {
  const shop = shopOn(engine);

  it('[W3] a weighing answers its entry, what it changed and where the aircraft stands', async () => {
    const { send, lead } = await ready(shop());
    const answer = await send({ ...weighing, id: newId() });
    expect(answer.status).toBe(201);
    const report = RecordedReport.parse(await answer.json());
    expect(report).toMatchObject({
      replayed: false,
      entry: { seq: 6, part: 'W-104', entry: { by: lead.initials, netKg: 4.2 } },
      headline: { seq: 6, partCount: 2, pieceCount: 5, weighedKg: 4.2 },
    });
    expect(report.entry.effects.map(({ cause }) => cause)).toEqual(['weighed against estimate', 'allowance']);
    expect(report.headline.predictedKg).toBeCloseTo(4 * 4.4 + 4.2, 9);
  });

  it('[N13] the person is who is signed in; another one’s initials are refused', async () => {
    const { aircraftId, send } = await ready(shop());
    const crew = await shop().person('crew');
    const report = await problemOf(
      await send({ ...weighing, id: newId(), by: 'ZZ' }, crew.cookie),
      400,
      'input-refused',
    );
    expect(report.problems).toMatchObject([{ pointer: '/by', code: 'field-unknown' }]);
    const { entry } = await record(shop(), crew.cookie, aircraftId, weighing);
    expect(entry.entry).toMatchObject({ by: crew.initials });
  });

  it('[N6] everything that is wrong with an entry is told at once, each with its place', async () => {
    const { send } = await ready(shop());
    const report = await problemOf(
      await send({ ...weighing, piece: '9', gross: '4.3', condition: 'dusty', colour: 'red', happenedOn: '3.5.2026' }),
      400,
      'input-refused',
    );
    expect(pointersOf(report)).toEqual(['/colour', '/condition', '/gross', '/happenedOn', '/id', '/piece']);
    for (const problem of report.problems ?? []) expect(problem.remedy).not.toBe('');
  });

  const REFUSALS: readonly { what: string; sent: Record<string, unknown>; code: string; pointer: string }[] = [
    { what: 'no kind', sent: {}, code: 'not-a-choice', pointer: '/kind' },
    { what: 'an unknown kind', sent: { kind: 'wedding' }, code: 'not-a-choice', pointer: '/kind' },
    {
      what: 'an id that is none',
      sent: { kind: 'note', text: 'x', id: 'seven' },
      code: 'shape-refused',
      pointer: '/id',
    },
    { what: 'a list as a field', sent: { kind: 'note', text: ['x'] }, code: 'shape-refused', pointer: '/text' },
    { what: 'a note without text', sent: { kind: 'note' }, code: 'missing', pointer: '/text' },
    { what: 'a NUL', sent: { kind: 'note', text: 'a\0b' }, code: 'text-refused', pointer: '/text' },
    { what: 'half a character', sent: { kind: 'note', text: 'a\ud800b' }, code: 'text-refused', pointer: '/text' },
    {
      what: 'a geometry that is none',
      sent: { kind: 'estimate', part: 'W-104', estimate: '4 kg', geometry: { fileName: 'x.stl' } },
      code: 'shape-refused',
      pointer: '/geometry',
    },
    {
      what: 'a geometry within a field',
      sent: { kind: 'note', text: 'x', groups: { geometry: {} } },
      code: 'shape-refused',
      pointer: '/groups/geometry',
    },
    { what: 'a text too long', sent: { kind: 'note', text: 'x'.repeat(2001) }, code: 'text-refused', pointer: '/text' },
    { what: 'an unknown part', sent: { ...weighing, part: 'X' }, code: 'unknown-part', pointer: '/part' },
    { what: 'no unit', sent: { ...weighing, gross: '4.3' }, code: 'unit-missing', pointer: '/gross' },
    { what: 'an unknown unit', sent: { ...weighing, gross: '4.3 stone' }, code: 'unit-unknown', pointer: '/gross' },
    { what: 'no number', sent: { ...weighing, gross: 'heavy' }, code: 'not-a-number', pointer: '/gross' },
    { what: 'NaN', sent: { ...weighing, gross: 'NaN kg' }, code: 'not-a-number', pointer: '/gross' },
    {
      what: 'a comma that reads two ways',
      sent: { ...weighing, gross: '1,234 kg' },
      code: 'ambiguous-comma',
      pointer: '/gross',
    },
    {
      what: 'a mass beyond all aircraft',
      sent: { ...weighing, gross: '1e30 kg' },
      code: 'out-of-range',
      pointer: '/gross',
    },
    { what: 'tare above gross', sent: { ...weighing, tare: '9 kg' }, code: 'gross-not-above-tare', pointer: '/gross' },
    {
      what: 'readings that differ',
      sent: { ...weighing, gross: '4 kg / 4 kg / 4 kg', tare: '1 kg / 1 kg' },
      code: 'readings-differ',
      pointer: '/tare',
    },
    { what: 'no piece', sent: { ...weighing, piece: '' }, code: 'which-piece', pointer: '/piece' },
    {
      what: 'pieces that disagree',
      sent: { ...weighing, piece: '1-2', pieces: '3' },
      code: 'pieces-disagree',
      pointer: '/pieces',
    },
    { what: 'no such piece', sent: { ...weighing, piece: '5' }, code: 'no-such-piece', pointer: '/piece' },
    {
      what: 'no piece numbers',
      sent: { ...weighing, piece: 'left one' },
      code: 'not-piece-numbers',
      pointer: '/piece',
    },
    { what: 'a cause that is none', sent: { ...weighing, cause: 'gremlins' }, code: 'not-a-choice', pointer: '/cause' },
    {
      what: 'a day to come',
      sent: { ...weighing, happenedOn: '2999-01-01' },
      code: 'day-in-future',
      pointer: '/happenedOn',
    },
    {
      what: 'a day that is none',
      sent: { ...weighing, happenedOn: '2026-02-30' },
      code: 'not-a-day',
      pointer: '/happenedOn',
    },
    {
      what: 'an estimate without a mass',
      sent: { kind: 'estimate', part: 'T-200' },
      code: 'missing',
      pointer: '/estimate',
    },
    {
      what: 'more later than there is',
      sent: { kind: 'estimate', part: 'T-200', estimate: '1 kg', later: '2 kg' },
      code: 'later-above-estimate',
      pointer: '/later',
    },
    {
      what: 'a fraction for a per cent',
      sent: { kind: 'estimate', part: 'T-200', estimate: '1 kg', allowance: '0.24' },
      code: 'ambiguous-share',
      pointer: '/allowance',
    },
    { what: 'no arm', sent: { kind: 'arm measured', part: 'T-200' }, code: 'arm-missing', pointer: '/x' },
    {
      what: 'a quantity of none',
      sent: { kind: 'part added', number: 'N', group: 'g', quantity: '0' },
      code: 'not-a-count',
      pointer: '/quantity',
    },
    {
      what: 'an assembly that is none',
      sent: { kind: 'part added', number: 'N', group: 'g', assembly: 'A' },
      code: 'unknown-part',
      pointer: '/assembly',
    },
    {
      what: 'a chord by half',
      sent: { kind: 'aircraft', name: 'A', datum: 'd', mac: '1 m' },
      code: 'chord-half',
      pointer: '/mac',
    },
    {
      what: 'a target of nothing',
      sent: { kind: 'targets', 'empty mass': '0 kg' },
      code: 'target-zero',
      pointer: '/empty mass',
    },
    {
      what: 'a range reversed',
      sent: { kind: 'targets', 'empty mass': '9 kg', 'cg forward': '3 m', 'cg aft': '2 m' },
      code: 'range-reversed',
      pointer: '/cg aft',
    },
    {
      what: 'a reserve too large',
      sent: { kind: 'targets', 'empty mass': '9 kg', reserve: '9 kg' },
      code: 'reserve-too-large',
      pointer: '/reserve',
    },
    {
      what: 'a correction of nothing',
      sent: { kind: 'correction', entry: 99, reason: 'x', replacement: null },
      code: 'nothing-to-correct',
      pointer: '/entry',
    },
    {
      what: 'a correction without a reason',
      sent: { kind: 'correction', entry: 3, replacement: null },
      code: 'missing',
      pointer: '/reason',
    },
    {
      what: 'a correction that says the same',
      sent: {
        kind: 'correction',
        entry: 3,
        reason: 'x',
        replacement: { part: 'W-104', estimate: '4.00 kg', x: '2.5 m', allowance: '10 %' },
      },
      code: 'correction-changes-nothing',
      pointer: '/replacement',
    },
    {
      what: 'a bad field in a correction',
      sent: { kind: 'correction', entry: 3, reason: 'x', replacement: { part: 'W-104', estimate: 'light' } },
      code: 'not-a-number',
      pointer: '/replacement/estimate',
    },
  ];

  it('[N6] every refusal of the words comes through with its code and its place, and nothing is recorded', async () => {
    const { aircraftId, lead, send } = await ready(shop());
    for (const { what, sent, code, pointer } of REFUSALS) {
      const report = await problemOf(await send({ id: newId(), ...sent }), 400, 'input-refused');
      expect({ what, problems: report.problems }).toMatchObject({
        what,
        problems: expect.arrayContaining([expect.objectContaining({ pointer, code })]),
      });
    }
    const answer = await shop().call('GET', `/api/aircraft/${aircraftId}`, { cookie: lead.cookie });
    expect(await answer.json()).toMatchObject({ headline: { seq: 5 } });
  });

  it('[N6] what stands in the ledger and is in the way is a conflict', async () => {
    const { aircraftId, lead, send } = await ready(shop());
    const number = await problemOf(
      await send({ id: newId(), kind: 'part added', number: 'w-104', group: 'g' }),
      409,
      'ledger-conflict',
    );
    expect(number.problems).toMatchObject([{ pointer: '/number', code: 'number-taken' }]);
    const used = await problemOf(
      await send({ id: newId(), kind: 'correction', entry: 2, reason: 'x', replacement: null }),
      409,
      'ledger-conflict',
    );
    expect(used.problems).toMatchObject([{ pointer: '/replacement', code: 'part-has-entries' }]);
    const correction = { kind: 'correction', entry: 3, reason: 'x', replacement: null };
    await record(shop(), lead.cookie, aircraftId, correction);
    const twice = await problemOf(await send({ ...correction, id: newId() }), 409, 'ledger-conflict');
    expect(twice.problems).toMatchObject([{ pointer: '/entry', code: 'already-corrected' }]);
    await record(shop(), lead.cookie, aircraftId, { kind: 'targets', 'empty mass': '50 kg' });
    const reason = await problemOf(
      await send({ id: newId(), kind: 'targets', 'empty mass': '51 kg' }),
      400,
      'input-refused',
    );
    expect(reason.problems).toMatchObject([{ pointer: '/reason', code: 'reason-missing' }]);
  });

  it('[L3] the same entry again is answered as the first time and adds nothing', async () => {
    const { send } = await ready(shop());
    const bodies = [
      { ...weighing, id: newId() },
      { kind: 'part added', id: newId(), number: 'N-1', group: 'tail' },
      { kind: 'estimate', id: newId(), part: 'T-200', estimate: '3 kg' },
      {
        kind: 'correction',
        id: newId(),
        entry: 3,
        reason: 'misread',
        replacement: { part: 'W-104', estimate: '5 kg' },
      },
      { kind: 'targets', id: newId(), 'empty mass': '50 kg', 'cg forward': '20 % MAC' },
    ];
    const first: RecordedReport[] = [];
    for (const body of bodies) first.push(RecordedReport.parse(await (await send(body)).json()));
    for (const [at, body] of bodies.entries()) {
      const again = await send({ ...body, id: body.id.toUpperCase() });
      expect(again.status).toBe(200);
      const report = RecordedReport.parse(await again.json());
      expect(report.replayed).toBe(true);
      expect(report.entry).toEqual(first[at]?.entry);
      expect(report.headline.seq).toBe(10);
    }
  });

  it('[L3] a repeat that comes late is known for one, though the ledger has moved on and the day has changed', async () => {
    const { aircraftId, lead, send } = await ready(shop());
    const estimate = { kind: 'estimate', id: newId(), part: 'T-200', estimate: '3 kg' };
    const crew = { ...weighing, id: newId(), part: 'T-200', piece: '1' };
    expect((await send(estimate)).status).toBe(201);
    expect((await send(crew)).status).toBe(201);
    await record(shop(), lead.cookie, aircraftId, {
      kind: 'correction',
      entry: 4,
      reason: 'another process',
      replacement: { number: 'T-200b', group: 'wing', quantity: '1', process: 'bought' },
    });
    for (const body of [estimate, crew]) {
      const again = await send(body);
      expect({ status: again.status, text: await again.text() }).toMatchObject({ status: 200 });
    }
    await record(shop(), lead.cookie, aircraftId, { kind: 'part removed', part: 'T-200b', reason: 'left out' });
    for (const body of [estimate, crew]) expect((await send(body)).status).toBe(200);
  });

  it('[L3] the same id with other content is refused and the fields are named', async () => {
    const { send } = await ready(shop());
    const id = newId();
    await send({ ...weighing, id });
    const report = await problemOf(
      await send({ ...weighing, id, gross: '4.31 kg', remark: 'again' }),
      409,
      'ledger-conflict',
    );
    expect(report.problems).toMatchObject([{ pointer: '/id', code: 'entry-id-reused' }]);
    expect(report.detail).toContain('entry 6');
    for (const field of ['netKg', 'readings', 'remark']) expect(report.detail).toContain(field);
    const crew = await shop().person('crew');
    const other = await problemOf(await send({ ...weighing, id }, crew.cookie), 409, 'ledger-conflict');
    expect(other.detail).toContain('by');
    await problemOf(await send({ kind: 'note', text: 'other', id }), 409, 'ledger-conflict');
  });

  it('[L2] a correction is shown at both entries', async () => {
    const { aircraftId, lead } = await ready(shop());
    const { entry } = await record(shop(), lead.cookie, aircraftId, weighing);
    const first = await record(shop(), lead.cookie, aircraftId, {
      kind: 'correction',
      entry: entry.seq,
      reason: 'misread',
      replacement: { ...weighing, kind: undefined, gross: '4.40 kg' },
    });
    await record(shop(), lead.cookie, aircraftId, {
      kind: 'correction',
      entry: first.entry.seq,
      reason: 'misread again',
      replacement: null,
    });
    const answer = await shop().call('GET', `/api/aircraft/${aircraftId}/entries?limit=3`, { cookie: lead.cookie });
    expect(await answer.json()).toMatchObject({
      entries: [
        { seq: 8, correctsSeq: 7 },
        { seq: 7, correctsSeq: 6, correctedBySeq: 8 },
        { seq: 6, correctedBySeq: 7 },
      ],
    });
  });
});
