/** Loading through its doors: what they show is what the pure rules say, in metric and in pounds and inches, and wherever the datum lies. */
import { expect, it } from 'vitest';
import { LoadingBallastReport, LoadingReport } from '#shared/contract/loading.ts';
import { bandVerdictOf, verdictOf } from '#shared/loading/say.ts';
import { aircraftIn, pointersOf, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { METRIC, POUNDS } from '#tests/shared/loading/limits-words.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

const KG_M = { mass: 'kg', length: 'm' } as const;
const LB_IN = { mass: 'lb', length: 'in' } as const;

describeOnBothEngines('loading', (engine) => {
  const shop = shopOn(engine);

  async function begun(x = '2.45 m', units?: object) {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie, units);
    const stated = (words: object) => record(shop(), lead.cookie, aircraftId, { ...words });
    await stated({ kind: 'part added', number: 'HULL', group: 'body', process: 'machined' });
    await stated({ kind: 'estimate', part: 'HULL', estimate: '300 kg', allowance: '0 %', x, y: '0 m' });
    const get = async (query = '') =>
      LoadingReport.parse(
        await (await shop().call('GET', `/api/aircraft/${aircraftId}/loading${query}`, { cookie: lead.cookie })).json(),
      );
    const ballast = (body: object) =>
      shop().call('POST', `/api/aircraft/${aircraftId}/loading/ballast`, { cookie: lead.cookie, body });
    return { lead, aircraftId, stated, get, ballast };
  }

  it('[C2] without limits there is no answer; with them every empty weight has one, the band included', async () => {
    const { stated, get } = await begun();
    const before = await get();
    expect(before).toMatchObject({ answers: [], ranges: [] });
    expect(before.stated).toBeUndefined();
    expect(before.empties.map(({ name }) => name)).toEqual([
      ...['predicted', 'forecast', 'light and forward', 'light and aft', 'heavy and forward', 'heavy and aft'],
    ]);
    await stated({ kind: 'loading', limits: METRIC });
    const after = await get();
    expect(after.stated).toMatchObject({ revision: 1, limits: { maximumKg: 650 } });
    expect(after.answers).toHaveLength(6);
    expect((await get(`?asKnownAt=${before.seq}`)).answers).toEqual([]);
    const [predicted] = after.answers;
    expect(predicted?.cases.map(({ name }) => name)).toEqual(['Solo']);
    expect(predicted?.reach.flat().length).toBeGreaterThan(10);
    // 90 L at 0.72 kg/L leave 285.2 kg, and seats and shelf hold 235 kg; full they leave 130 - 15 kg for fuel.
    expect(predicted?.payload).toMatchObject({
      withFullTanks: { massKg: 235, stoppedBy: 'stations' },
      withFullSeats: { massKg: expect.closeTo(64.8, 9), stoppedBy: 'tanks' },
    });
  });

  it('[C2] a band that is inside at its four corners and outside between them is told as outside, with where', async () => {
    const { stated, get } = await begun();
    await stated({ kind: 'estimate', part: 'HULL', estimate: '300 kg', allowance: '10 %', x: '2.45 m', y: '0 m' });
    const { empties, band: none } = await get();
    expect(none).toBeUndefined();
    const [light, heavy] = ['light and aft', 'heavy and aft'].map((name) => empties.find((one) => one.name === name));
    if (light === undefined || heavy === undefined) throw new Error('there is a band');
    // Nothing but the empty aircraft flies: the limit is a hand aft of both ends, and dented half-way between them.
    const middleKg = (light.massKg + heavy.massKg) / 2;
    const envelope = (dentM: number) => [
      { mass: '100 kg', at: `${light.xM - 1} m` },
      { mass: '100 kg', at: `${light.xM + 0.1} m` },
      { mass: `${light.massKg} kg`, at: `${light.xM + 0.1} m` },
      { mass: `${middleKg} kg`, at: `${light.xM + dentM} m` },
      { mass: `${heavy.massKg} kg`, at: `${light.xM + 0.1} m` },
      { mass: '640 kg', at: `${light.xM + 0.1} m` },
      { mass: '640 kg', at: `${light.xM - 1} m` },
    ];
    const limits = { 'maximum weight': '640 kg', stations: [], cases: [] };
    await stated({ kind: 'loading', limits: { ...limits, envelope: envelope(-0.01) } });
    const { answers, band } = await get();
    expect(heavy.massKg).toBeGreaterThan(light.massKg + 1);
    expect(answers.slice(2).map(({ state }) => state)).toEqual(['inside', 'inside', 'inside', 'inside']);
    expect(band).toMatchObject({
      state: 'outside',
      worstOfAll: { way: 'aft', outM: expect.closeTo(0.01, 9), empty: { massKg: expect.closeTo(middleKg, 6) } },
    });
    if (band === undefined) throw new Error('there is a band');
    const said = bandVerdictOf(band, KG_M);
    expect(said).toMatchObject({
      headline: 'Not all of the forecast’s band has every permitted loading inside.',
      worst: expect.stringMatching(
        /^The worst in it is 10\.0 mm aft of the limit at [\d.]+ kg, on [\d.]+ kg at [\d.]+ m empty: nothing aboard\.$/,
      ),
    });
    await stated({ kind: 'loading', limits: { ...limits, envelope: envelope(0.01) }, reason: 'less of a dent' });
    expect((await get()).band).toMatchObject({ state: 'inside', worstOfAll: { outM: expect.closeTo(-0.01, 9) } });
    // What the heavy end has no room for is not inside either.
    const less = { ...limits, 'maximum weight': `${(middleKg + heavy.massKg) / 2} kg`, envelope: envelope(0.01) };
    await stated({ kind: 'loading', limits: less, reason: 'lighter' });
    const after = await get();
    expect(after.answers.map(({ state }) => state)).toContain('nothing permitted');
    expect(after.band?.state).toBe('outside');
  });

  it('[C5] outside is said first and in words, with what is aboard; moving the datum changes no verdict', async () => {
    const { stated, get } = await begun('2.62 m');
    await stated({ kind: 'loading', limits: METRIC });
    const verdicts = async () =>
      (await get()).answers.map((answer) => ({ ...verdictOf(answer, KG_M), state: answer.state }));
    const before = await verdicts();
    expect(before[0]).toMatchObject({
      ...{ isInside: false, state: 'outside' },
      headline: 'Outside: not every permitted loading is inside the envelope.',
      worst: expect.stringMatching(
        /^The worst permitted loading is [\d.]+ mm aft of the limit at [\d.]+ kg: Left seat 55 kg/,
      ),
    });
    for (const shift of ['0.137 m', '-1.5 m', '33.3 in']) {
      await stated({ kind: 'datum moved', shift, datum: 'elsewhere', reason: 'clearer' });
      expect(await verdicts()).toEqual(before);
    }
    const moved = await get();
    expect(moved.stated?.limits.stations[0]).toMatchObject({ xM: 1.9 - 0.137 + 1.5 - 0.84582 });
  });

  it('[C1] pounds, inches and gallons are told in pounds, inches and gallons; what sits left pulls the CG left', async () => {
    const lead = await shop().person('lead');
    const body = { name: `Inch ${Date.now()} ${Math.random()}`, datum: 'the bow', massUnit: 'lb', lengthUnit: 'in' };
    const made = await shop().call('POST', '/api/aircraft', {
      cookie: lead.cookie,
      body: { ...body, mac: '50 in', lemac: '70 in' },
    });
    const { id } = (await made.json()) as { id: string };
    const stated = (words: object) => record(shop(), lead.cookie, id, { ...words });
    await stated({ kind: 'part added', number: 'HULL', group: 'body', process: 'machined' });
    await stated({ kind: 'estimate', part: 'HULL', estimate: '700 lb', allowance: '0 %', x: '83 in', y: '0 in' });
    await stated({ kind: 'loading', limits: POUNDS });
    const report = LoadingReport.parse(
      await (await shop().call('GET', `/api/aircraft/${id}/loading`, { cookie: lead.cookie })).json(),
    );
    const [answer] = report.answers;
    if (answer === undefined) throw new Error('there is an answer');
    // 700 lb at 83 in, 120 lb at 75 in: 81.83 in, 23.66 % of a chord of 50 in from 70 in.
    expect(answer.lightest).toMatchObject({
      massKg: expect.closeTo(820 * 0.45359237, 6),
      percentMac: expect.closeTo(((700 * 83 + 120 * 75) / 820 - 70) * 2, 6),
    });
    expect(answer.lightest.yM).toBeLessThan(0);
    const { lateral } = answer;
    expect(lateral?.isOutside).toBe(true);
    // 240 lb 11 in to the left of 940 lb.
    expect(lateral?.leftmost.yM).toBeCloseTo((-240 * 11 * 0.0254) / 940, 6);
    const { worst } = verdictOf(answer, LB_IN);
    expect(worst).toMatch(/ in (?:inside the|aft of the|forward of the) .* lb: Left [\d.]+ lb/);
    expect(worst).toMatch(/Across, the CG comes 0\.81 in too far left: Left 240 lb/);
  });

  it('[C4] a refusal of ballast tells stations in the unit of the aircraft', async () => {
    const { stated, ballast } = await begun('2.62 m', { massUnit: 'lb', lengthUnit: 'in' });
    await stated({ kind: 'loading', limits: METRIC });
    const wrong = await problemOf(await ballast({ places: [{ x: '5 m' }] }), 400, 'input-refused');
    expect(wrong.problems?.[0]?.words).toMatch(
      /^Ballast at 196\.85\d* in cannot bring the CG forward to \d+\.\d+ in\.$/,
    );
  });

  it('[C4] ballast is the least that brings every loading inside, checked at the ends of the band, or it is told why not', async () => {
    const { stated, get, ballast } = await begun('2.62 m');
    await problemOf(await ballast({ places: [{ x: '0.5 m' }] }), 400, 'input-refused');
    await stated({ kind: 'loading', limits: METRIC });
    const answer = LoadingBallastReport.parse(await (await ballast({ places: [{ name: 'Bow', x: '0.5 m' }] })).json());
    expect(answer.forecast).toMatchObject({
      ...{ state: 'found', before: { state: 'outside' }, after: { state: 'inside' } },
      ballast: [{ station: 'Bow', xM: 0.5 }],
    });
    const { massKg = 0 } = answer.forecast;
    // A gram less is not enough, and so much at another place neither.
    const less = await ballast({ places: [{ x: '0.5 m', most: `${massKg - 0.001} kg` }] });
    expect(LoadingBallastReport.parse(await less.json()).forecast).toMatchObject({ state: 'none', why: 'not enough' });
    expect(answer.ends.map(({ name, state }) => `${name}: ${state}`)).toContain('heavy and aft: outside');
    expect(answer.lighter).toEqual([expect.objectContaining({ part: 'HULL' })].slice(0, answer.lighter.length));
    const wrong = await problemOf(await ballast({ places: [{ x: '5 m' }] }), 400, 'input-refused');
    expect(wrong.problems).toEqual([
      expect.objectContaining({ pointer: '/places/0/x', code: 'ballast-on-wrong-side' }),
    ]);
    const typed = await problemOf(
      await ballast({ places: [{ x: 'far', most: '-1 kg' }], aim: 'Nowhere' }),
      400,
      'input-refused',
    );
    expect(pointersOf(typed)).toEqual(['/aim', '/places/0/most', '/places/0/x']);
    const one = LoadingBallastReport.parse(await (await ballast({ places: [{ x: '0.5 m' }], aim: 'solo' })).json());
    expect(one.forecast.massKg ?? 0).toBeLessThanOrEqual(massKg);
    expect((await get()).seq).toBe(answer.seq);
  });

  it('[F4] what the drift since an earlier day did is told with the limits of today', async () => {
    const { stated, get } = await begun();
    await stated({ kind: 'loading', limits: METRIC });
    await stated({ kind: 'weighing', part: 'HULL', gross: '310 kg', condition: 'finished' });
    const { earlier, answers } = await get();
    expect(earlier).toBeUndefined();
    const since = new Date().toISOString().slice(0, 10);
    const today = await get(`?since=${since}`);
    expect(today.earlier?.predicted?.empty.massKg).toBe(answers[0]?.empty.massKg);
    const response = await shop().call('GET', '/api/aircraft/none/loading', {
      cookie: (await shop().person('lead')).cookie,
    });
    expect(response.status).toBe(404);
  });

  it('[C2] the empty CG range from the envelope is told at the target and at the forecast, with what sets each end', async () => {
    const { stated, get } = await begun();
    await stated({ kind: 'targets', 'empty mass': '310 kg' });
    await stated({ kind: 'loading', limits: METRIC });
    const { ranges } = await get();
    expect(ranges.map(({ of, state }) => `${of} ${state}`)).toEqual(['target range', 'forecast range']);
    const [target] = ranges;
    expect(target?.massKg).toBe(310);
    expect(target?.aft?.loaded.loads.map(({ station }) => station)).toContain('Left seat');
    expect(target?.forward?.xM).toBeLessThan(target?.aft?.xM ?? 0);
  });
});
