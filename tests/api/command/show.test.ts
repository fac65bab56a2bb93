/** `show`, `targets`, `aircraft` and `verify`, as text and as JSON, on both engines. */
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { Verified } from './report-shape.ts';
import { jsonOf, placesOf, problemsOf, run } from './run.ts';
import { describeInShops, given, lines, type Shop } from './shop.ts';

const PARTS = lines(
  'number,name,group,assembly,quantity,process,estimate [kg],x [m],allowance [%],date',
  'W,Wing,wing,,,,,,,2026-05-01',
  'A,Rib,wing,W,4,printed,1,1,10,2026-05-01',
  'B,Spar,wing,W,,prepreg,2,2,10,2026-05-01',
  'C,Fin,tail,,,prepreg,3,4,10,2026-05-01',
);
const WEIGHINGS = lines(
  'part,piece,date,gross [kg],tare [kg],condition,cause',
  'B,,2026-05-10,2.75,0.25,trimmed,resin-rich',
  'C,,2026-05-20,2.7,0,finished,',
);

async function begin(shop: Shop, name: string): Promise<void> {
  const words = ['import', '--aircraft', name, '--parts', await shop.file('parts.csv', PARTS)];
  await shop.report([...words, '--weighings', await shop.file('weighings.csv', WEIGHINGS)]);
}

const squeezed = (text: string) =>
  text
    .replaceAll(/ +/g, ' ')
    .split('\n')
    .map((line) => line.trim());

describeInShops('the ledger shown', (shop) => {
  it('[R1] what a part moves the CG by is in millimetres, and in inches on an aircraft in inches', async () => {
    const files = ['--parts', await shop.file('parts.csv', PARTS), '--weighings', await shop.file('w.csv', WEIGHINGS)];
    const effectOf = async (name: string, units: readonly string[], heading: string) => {
      await shop.report(['import', '--aircraft', name, ...units, ...files]);
      const { out } = await shop.run(['show', 'drift', '--aircraft', name]);
      const printed = out.split('\n');
      const at = printed.find((line) => line.includes(heading))?.indexOf(heading);
      if (at === undefined) throw new Error(`no ${heading} in ${out}`);
      const row = printed.find((line) => line.includes('Spar')) ?? '';
      return Number(row.slice(at, at + heading.length));
    };
    const millimetres = await effectOf('In metres', [], 'CG x mm');
    const inches = await effectOf('In inches', ['--length-unit', 'in', '--mass-unit', 'lb'], 'CG x in');
    expect(Math.abs(millimetres)).toBeGreaterThan(1);
    expect(inches * 25.4).toBeCloseTo(millimetres, 1);
  });

  it('[R1] the usual screen says where the aircraft stands, by group, and what drifts', async () => {
    await begin(shop, 'Usual');
    const targets = [
      'targets',
      '--aircraft',
      'Usual',
      '--empty-mass',
      '10 kg',
      '--reserve',
      '0.5 kg',
      '--group',
      'wing=7 kg',
    ];
    expect((await shop.run([...targets, '--cg-forward', '1 m', '--cg-aft', '2 m'])).exit).toBe(0);
    const said = await shop.run(['show', '--aircraft', 'Usual']);
    expect(said).toMatchObject({ exit: 0, err: '' });
    const screen = squeezed(said.out);
    for (const line of [
      'Usual, as of entry 11',
      'Predicted empty weight 9.60 ± 0.12 kg = basic 9.200 kg + allowance 0.400 kg',
      'Target 10.000 kg, reserve 0.500 kg (revision 1)',
      'Margin, predicted -0.10 ± 0.12 kg (-1.0 % of the target)',
      'CG, predicted x 2.104 ± 0.015 m, y not known, z not known; aft of range 1.000 to 2.000 m',
      'Weighed 56.5 % of the basic mass; installed 0.000 kg, in stock 5.200 kg',
      'Parts 4 (7 pieces); drifting 2, watch 0',
      'By group parts basic kg predicted kg ± weighed % CG x m target kg margin of predicted kg',
      'tail 1 2.700 2.700 0.029 100.0 4.000',
      'A light part can be a weak part: inspect before use.',
    ])
      expect(screen).toContain(line);
    expect(said.out).toMatch(/wing +3 +6\.500 +6\.900 +0\.\d{3} +38\.5 +1\.\d{3} +7\.000 +\+0\.100/);
    expect(said.out).toMatch(
      /drifting heavy +B +Spar +2026-05-10 trimmed +2\.000 +2\.500 +\+0\.500 +\+25\.0 .* resin-rich/,
    );
    expect(said.out).toMatch(
      /drifting light +C +Fin +2026-05-20 finished +3\.000 +2\.700 +-0\.300 +-10\.0 .* not stated/,
    );
    expect(said.out).toContain('Planning figures, not approved data');
  });

  it('[L7] the ledger as known at an entry is the ledger that was shown when that entry was the last', async () => {
    const list = ['import', '--aircraft', 'Known', '--parts', await shop.file('parts.csv', PARTS)];
    const views = ['headline,groups,processes,assemblies,parts,drift,split,pairs,scales,entries,growth,bridge'];
    const { imported: _then, ...then } = await shop.report([...list, '--show', ...views]);
    const weighings = await shop.file('weighings.csv', WEIGHINGS);
    await shop.report(['import', '--aircraft', 'Known', '--weighings', weighings]);
    const strike = { kind: 'correction', entry: 8, reason: 'never', replacement: null };
    await shop.report(['record', await shop.file('e.json', JSON.stringify(strike)), '--aircraft', 'Known']);
    const asked = ['show', ...views, '--aircraft', 'Known', '--as-known-at', '8'];
    const { entries, ...figures } = await shop.report(['show', '--show', ...asked.slice(1)]);
    expect({ ...figures, entries }).toEqual(then);
    expect(entries?.at(-1)?.seq).toBe(8);
    const today = await shop.report(['show', 'headline', '--aircraft', 'Known']);
    expect(today.headline).not.toEqual(then.headline);
    const beyond = ['show', '--aircraft', 'Known', '--as-known-at', '12'];
    expect(await shop.refusal(beyond)).toEqual([':0:0 no-such-entry']);
    expect((await shop.run(beyond)).err).toContain('There is no entry 12 yet; the last is 11.');
  });

  it('[L7] by the day things happened, the growth is a curve and its causes add up to each change', async () => {
    await begin(shop, 'Growth');
    const { growth } = await shop.report(['show', 'growth', '--aircraft', 'Growth']);
    const days = given(growth);
    expect(days.map(({ day }) => day)).toEqual(['2026-05-01', '2026-05-10', '2026-05-20']);
    expect(days.map(({ predictedKg }) => predictedKg)).toEqual([9.9, 10.2, 9.6]);
    for (const [at, { predictedKg, effects }] of days.entries()) {
      const change = effects.reduce((sumKg, { massKg }) => sumKg + massKg, 0);
      expect(change).toBeCloseTo(predictedKg - (days[at - 1]?.predictedKg ?? 0), 12);
    }
  });

  it('[R3] rows by group, process and assembly add up to the headline', async () => {
    await begin(shop, 'Sums');
    const report = await shop.report([
      'show',
      'headline',
      'groups',
      'processes',
      'assemblies',
      'parts',
      '--aircraft',
      'Sums',
    ]);
    for (const rows of [report.groups, report.processes, report.assemblies, report.parts]) {
      const sum = (key: 'basicKg' | 'predictedKg') => given(rows).reduce((sumKg, row) => sumKg + row[key], 0);
      expect(sum('basicKg')).toBeCloseTo(given(report.headline).basicKg, 12);
      expect(sum('predictedKg')).toBeCloseTo(given(report.headline).predictedKg, 12);
    }
    expect(given(report.processes).map(({ name }) => name)).toEqual(expect.arrayContaining(['printed', 'prepreg']));
  });

  it('[D3] the forecast is printed with its groups, which add up to it, and with what it takes for granted', async () => {
    await begin(shop, 'Ahead');
    expect(
      (await shop.run(['targets', '--aircraft', 'Ahead', '--empty-mass', '30 kg', '--group', 'tail=2 kg'])).exit,
    ).toBe(0);
    const said = squeezed((await shop.run(['show', '--aircraft', 'Ahead', 'forecast'])).out).join('\n');
    expect(said).toContain(
      'The listed parts make 32.0 % of the target: this is no forecast of the whole aircraft yet.',
    );
    expect(said).toContain('a process misses by 8.0 % (common practice, no source)');
    expect(said).toMatch(/tail 1 [\d. +-]+ 2\.000 -0\.\d+/);
    const json = await shop.run(['show', '--aircraft', 'Ahead', 'forecast', '--json']);
    const { forecast } = JSON.parse(json.out) as {
      forecast: { forecastKg: number; groups: { forecastKg: number }[] };
    };
    const sum = forecast.groups.reduce((all, { forecastKg }) => all + forecastKg, 0);
    expect(sum).toBeCloseTo(forecast.forecastKg, 9);
  });

  it('[L6] a bridge beyond the ledger says that nothing happened; one that ends before it begins is refused', async () => {
    await begin(shop, 'Beyond');
    const bridge = (...words: string[]) => ['show', 'bridge', '--aircraft', 'Beyond', ...words];
    for (const words of [
      ['--from-day', '2090-01-01'],
      ['--from-day', '1950-01-01', '--to-day', '1960-01-01'],
      ['--from-entry', '500', '--to-entry', '600'],
    ]) {
      const said = await shop.run(bridge(...words));
      expect(said).toMatchObject({ exit: 0, err: '' });
      expect(said.out).not.toMatch(/NaN|Infinity|undefined|null/);
    }
    for (const [words, code] of [
      [['--from-day', '2026-06-30', '--to-day', '2026-05-01'], 'period-reversed'],
      [['--from-entry', '5', '--to-entry', '2'], 'period-reversed'],
    ] as const)
      expect(problemsOf(await shop.run([...bridge(...words), '--json']))).toMatchObject([{ code }]);
    expect((await shop.run(bridge('--from-day', '31.5.2026'))).exit).toBe(2);
  });

  it('[L6] the last entries alone are printed where that is asked, each with its causes', async () => {
    await begin(shop, 'Last');
    const said = await shop.run(['show', 'entries', '--aircraft', 'Last', '--last', '2']);
    const [, ...rows] = squeezed(said.out).filter((line) => line !== '');
    expect(rows.map((row) => row.split(' ')[0])).toEqual(['9', '10']);
    expect(rows[0]).toContain('weighing: B trimmed, 2.750 kg - 0.250 kg = 2.500 kg, resin-rich');
    expect(rows[0]).toContain('weighed against estimate +0.500');
    expect(rows[0]).toContain('allowance -0.200');
  });

  it('[D2] the drift list can be ordered by the effect on the CG', async () => {
    await begin(shop, 'Order');
    const order = async (by: string) =>
      given((await shop.report(['show', 'drift', '--aircraft', 'Order', '--order', by])).drift).parts;
    expect((await order('margin')).map(({ number }) => number)).toEqual(['B', 'C']);
    expect((await order('cg')).map(({ number }) => number)).toEqual(['C', 'B']);
    for (const { marginEffectKg, differenceKg } of await order('cg'))
      expect(marginEffectKg).toBeCloseTo(-differenceKg, 12);
  });

  it('[R1] targets come from options or a file; a revision needs a reason and keeps its number', async () => {
    await begin(shop, 'Targets');
    const targets = async (...words: readonly string[]) =>
      (await shop.report(['targets', '--aircraft', 'Targets', ...words])).headline?.targets;
    expect(await targets('--empty-mass', '10 kg')).toMatchObject({ revision: 1, emptyMassKg: 10, reserveKg: 0 });
    expect(await shop.refusal(['targets', '--aircraft', 'Targets', '--empty-mass', '11 kg'])).toEqual([
      '#--reason reason-missing',
    ]);
    expect(await targets('--empty-mass', '11 kg', '--reason', 'floats')).toMatchObject({
      revision: 2,
      emptyMassKg: 11,
    });
    const file = await shop.file(
      'targets.csv',
      lines('target,value', 'empty mass,25 lb', 'reason,wheels', 'Group tail,3 kg'),
    );
    const third = await shop.report(['targets', '--aircraft', 'Targets', '--file', file]);
    expect(third.headline?.targets).toMatchObject({ revision: 3, emptyMassKg: 11.33980925 });
    expect(given(third.groups).find(({ name }) => name === 'tail')?.targetKg).toBe(3);
    expect(await targets('--file', file)).toMatchObject({ revision: 3 });
  });

  it('[I2] targets that cannot be are refused under their option, or in their cell', async () => {
    await begin(shop, 'No targets');
    const refusal = (...words: readonly string[]) => shop.refusal(['targets', '--aircraft', 'No targets', ...words]);
    expect(await refusal('--empty-mass', '10', '--reserve', '-1 kg', '--group', 'wing=3')).toEqual([
      '#--group unit-missing',
      '#--empty-mass unit-missing',
      '#--reserve out-of-range',
    ]);
    expect(await refusal('--empty-mass', '10 kg', '--cg-forward', '20 % MAC')).toEqual(['#--cg-forward chord-unknown']);
    expect(await refusal('--reason', 'none')).toEqual(['#--empty-mass missing']);
    const file = await shop.file(
      'targets.csv',
      lines('target,value', 'reserve,1', 'empty mass,NaN', 'group wing,3', 'x,1'),
    );
    expect(await refusal('--file', file)).toEqual([
      'targets.csv:2:2 unit-missing',
      'targets.csv:3:2 not-a-number',
      'targets.csv:4:2 unit-missing',
      'targets.csv:5:1 not-a-choice',
    ]);
    expect(await refusal('--file', file, '--empty-mass', '3 kg')).toEqual(['#--empty-mass shape-refused']);
  });

  it('[L5] verify answers with the number of entries and the last hash, and aircraft lists them', async () => {
    await begin(shop, 'Verified');
    const said = await shop.run(['verify', '--aircraft', 'verified']);
    const verified = jsonOf(await shop.run(['verify', '--aircraft', 'Verified', '--json']), Verified);
    if (!verified.ok) throw new Error(verified.words);
    expect(said.out).toBe(`Verified: 10 entries, the chain is whole. Last hash ${verified.headHash}\n`);
    expect((await shop.run(['aircraft'])).out).toMatch(/^Aircraft +entries\n(.*\n)*Verified +10\n/);
  });

  it('[K1] an aircraft that is not there, or not said where there are several, is refused with those that are', async () => {
    await begin(shop, 'One');
    await begin(shop, 'Two');
    expect((await shop.run(['show', '--aircraft', 'tw'])).out).toContain('Two, as of entry');
    await begin(shop, 'Two more');
    expect((await shop.run(['show', '--aircraft', 'two'])).out).toContain('Two, as of entry');
    expect(await shop.refusal(['show', '--aircraft', 'tw'])).toEqual([':0:0 aircraft-unknown']);
    for (const verb of [
      ['show'],
      ['verify'],
      ['targets', '--empty-mass', '1 kg'],
      ['record', await shop.file('n.json', '[]')],
    ]) {
      expect(await shop.refusal([...verb, '--aircraft', 'Nix'])).toEqual([':0:0 aircraft-unknown']);
      const [problem] = problemsOf(await shop.run([...verb, '--json']));
      expect(problem?.words).toBe('It is not said which aircraft is meant.');
      expect(problem?.remedy).toMatch(/One.*Two/);
    }
  });
});

it('[K1] a folder that is not there is refused to whoever only reads, and is not made', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tarebook-test-'));
  const data = join(folder, 'data');
  for (const verb of [['show'], ['verify'], ['aircraft'], ['targets', '--empty-mass', '1 kg']]) {
    expect(placesOf(await run([...verb, '--data', data, '--json']))).toEqual([':0:0 folder-missing']);
    expect(await readdir(folder)).toEqual([]);
  }
  await rm(folder, { recursive: true });
});
