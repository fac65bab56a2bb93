/**
 * Assemblies, decisions, scales and check weights on the command: recorded, shown, corrected, sent again, and what is refused. On both engines.
 */
import { randomUUID } from 'node:crypto';
import { expect, it } from 'vitest';
import { describeInShops, given, lines, type Shop } from './shop.ts';

type Words = Readonly<Record<string, unknown>>;

const PARTS = lines(
  'number,name,group,assembly,quantity,estimate [kg],later [kg],finish [g],x [m],allowance [%],date',
  'W,Wing,wing,,,,,,,,2026-05-01',
  'A,Rib,wing,W,4,1,,,1,10,2026-05-01',
  'B,Spar,wing,W,,2,0.5,200,2,10,2026-05-01',
  'C,Fin,tail,,,3,,,4,10,2026-05-01',
);

const CALIBRATION = {
  kind: 'scale',
  scale: 'Bench',
  capacity: '15 kg',
  resolution: '5 g',
  calibrated: '2026-02-01',
  'calibration due': '2026-12-31',
  'calibration uncertainty': '0.02 %',
  coverage: 'k = 2',
};
const CHECK = { kind: 'check weight', scale: 'bench', reference: '10 kg', shown: '10.004 kg' };
const WHOLE = {
  kind: 'assembly weighing',
  part: 'W',
  gross: '6.5 kg',
  tare: '0.5 kg',
  condition: 'trimmed',
  scale: 'Bench',
  fixture: 'cradle',
  x: '1.4 m',
  'not yet in': 'A piece 4',
};
const FIN = { kind: 'weighing', part: 'C', gross: '2.7 kg', condition: 'finished', scale: 'Bench' };
const DECISION = { kind: 'disposition', part: 'C', decision: 'accepted', inspection: 'tapped\nno voids' };
const SUPPORTS = {
  kind: 'arm measured',
  part: 'C',
  'first load': '2.00 kg',
  'first station': '500 mm',
  'second load': '6.00 kg',
  'second station': '2500 mm',
  'bench zero': '2 m',
};
const EVERY_NEW_KIND: readonly Words[] = [CALIBRATION, CHECK, WHOLE, FIN, DECISION, SUPPORTS];

/** A new aircraft with the parts above: 8 entries. Answers how entries are recorded in it. */
async function begin(shop: Shop, name: string): Promise<(entries: Words | readonly Words[]) => Promise<string[]>> {
  await shop.report(['import', '--aircraft', name, '--parts', await shop.file('parts.csv', PARTS)]);
  return async (entries) => ['record', await shop.file('entries.json', JSON.stringify(entries)), '--aircraft', name];
}

async function headlineOf(shop: Shop, name: string) {
  return given((await shop.report(['show', 'headline', '--aircraft', name])).headline);
}

const squeezed = (text: string) => text.split('\n').map((line) => line.replaceAll(/ +/g, ' ').trim());

describeInShops('new kinds', (shop) => {
  it('[W7] each is recorded, and the aircraft stands where the scale says', async () => {
    const record = await begin(shop, 'Kinds');
    const { recorded } = await shop.report(await record(EVERY_NEW_KIND));
    expect(given(recorded).map(({ seq }) => seq)).toEqual([9, 10, 11, 12, 13, 14]);
    const headline = await headlineOf(shop, 'Kinds');
    // The wing as trimmed: 6.0 and the 0.5 still to come on the spar; the fourth rib 1; the fin 2.7.
    expect(headline.basicKg).toBeCloseTo(6.5 + 1 + 2.7, 12);
    // 10 % of the fourth rib and of the 0.5.
    expect(headline.allowanceKg).toBeCloseTo(0.1 + 0.05, 12);
    // 6 x 1.4 + 0.5 x 2, the rib at 1, the fin at 2 + (2 x 0.5 + 6 x 2.5)/8 = 4.
    expect(headline.cgBasic.xM).toBeCloseTo((8.4 + 1 + 1 + 2.7 * 4) / 10.2, 12);
    const { parts } = await shop.report(['show', 'parts', '--aircraft', 'Kinds']);
    const sumKg = given(parts).reduce((sum, { basicKg }) => sum + basicKg, 0);
    expect(sumKg).toBeCloseTo(headline.basicKg, 12);
  });

  it('[K1] each is shown in one line, with what was typed and with its remark', async () => {
    const record = await begin(shop, 'Shown');
    const remarked = EVERY_NEW_KIND.map((entry, at) => (at === 1 ? { ...entry, remark: 'after the\nmove' } : entry));
    await shop.report(await record(remarked));
    const said = squeezed((await shop.run(['show', 'entries', 'parts', '--aircraft', 'Shown'])).out);
    for (const words of [
      'scale Bench: capacity 15.000 kg, resolution 5 g = 0.005 kg, calibrated 2026-02-01, calibration due 2026-12-31, calibration uncertainty 0.02 %, coverage k = 2',
      'check weight on bench: 10.000 kg shown as 10.004 kg, passed (limit 0.010 kg); remark: after the move',
      'assembly weighing: W with 2 parts in it, trimmed, 6.500 kg - 0.500 kg = 6.000 kg, CG at x 1.400 m',
      'accepted: C; inspected: tapped no voids',
      'arm measured: C first load 2.00 kg, first station 500 mm, second load 6.00 kg, second station 2500 mm, bench zero 2 m = 4.000 m by two supports',
    ])
      expect(said.filter((line) => line.includes(words))).toHaveLength(1);
    expect(said.find((line) => line.startsWith('W Wing'))).toContain('as a whole');
    expect(said.find((line) => line.startsWith('A Rib'))).toContain('0 of 4');
  });

  it('[K1] an assembly that was not weighed as a whole is not said to lack a piece', async () => {
    await begin(shop, 'Parts');
    const said = squeezed((await shop.run(['show', 'parts', '--aircraft', 'Parts'])).out);
    expect(said.find((line) => line.startsWith('W Wing'))).toContain('not as a whole');
    expect(said.find((line) => line.startsWith('C Fin'))).toContain('0 of 1');
  });

  it('[L3] sent again they are answered as the first time, though parts and calibration have moved on', async () => {
    const record = await begin(shop, 'Again');
    const sent = EVERY_NEW_KIND.map((entry) => ({ id: randomUUID(), ...entry }));
    const words = await record(sent);
    const first = given((await shop.report(words)).recorded);
    const later: readonly Words[] = [
      { kind: 'part added', number: 'D', group: 'wing', assembly: 'W' },
      { ...CALIBRATION, resolution: '1 g' },
      { kind: 'piece withdrawn', part: 'C', reason: 'dropped' },
      { kind: 'part removed', part: 'A', reason: 'foam instead' },
    ];
    await shop.report(await record(later));
    const again = given((await shop.report(await record(sent), { today: '2026-06-20' })).recorded);
    expect(again).toEqual(first.map((one) => ({ ...one, replayed: true })));
    expect(await shop.entryCount('Again')).toBe(18);
  });

  it('[L2] each can be corrected, and struck out', async () => {
    const record = await begin(shop, 'Corrected');
    await shop.report(await record(EVERY_NEW_KIND));
    const reason = 'misread';
    const anew: readonly Words[] = [
      { ...CALIBRATION, resolution: '1 g' },
      { ...CHECK, shown: '10.02 kg' },
      { ...WHOLE, gross: '6.6 kg', 'not yet in': 'none' },
      { ...FIN, gross: '2.9 kg' },
      { ...DECISION, decision: 'to be reworked', inspection: undefined },
      { ...SUPPORTS, 'bench zero': '1 m' },
    ].map(({ kind: _, ...replacement }, at) => ({ kind: 'correction', entry: 9 + at, reason, replacement }));
    await shop.report(await record(anew));
    // All ribs are in it now: 6.1 + 0.5, and the fin.
    expect((await headlineOf(shop, 'Corrected')).basicKg).toBeCloseTo(6.6 + 2.9, 12);
    const same = { ...DECISION, kind: undefined, decision: 'to be reworked', inspection: undefined };
    expect(await shop.refusal(await record({ kind: 'correction', entry: 19, reason, replacement: same }))).toEqual([
      'entries.json#/replacement correction-changes-nothing',
    ]);
    const struck = anew.map((_, at) => ({ kind: 'correction', entry: 15 + at, reason, replacement: null }));
    await shop.report(await record(struck));
    expect((await headlineOf(shop, 'Corrected')).basicKg).toBeCloseTo(9, 12);
  });

  it('[I2] what cannot be taken is told at its field, and nothing is recorded', async () => {
    const record = await begin(shop, 'Refused');
    await shop.report(await record([CALIBRATION, FIN]));
    const light = { kind: 'disposition', part: 'C', decision: 'accepted' };
    const bad: readonly (readonly [Words, ...string[]])[] = [
      [{ ...WHOLE, gross: '6.5' }, 'gross unit-missing'],
      [{ ...WHOLE, gross: '6.5 m' }, 'gross unit-unknown'],
      [{ ...WHOLE, gross: '15.5 kg' }, 'gross above-capacity'],
      [{ ...WHOLE, tare: '7 kg' }, 'gross gross-not-above-tare'],
      [{ kind: 'assembly weighing' }, 'part missing'],
      [{ kind: 'assembly weighing', part: 'W' }, 'gross missing', 'condition missing'],
      [{ ...WHOLE, part: 'Q' }, 'part unknown-part'],
      [{ ...WHOLE, part: 'C', 'not yet in': 'none' }, 'part has-no-parts'],
      [{ ...WHOLE, 'not yet in': 'Q' }, 'not yet in unknown-part'],
      [{ ...WHOLE, 'not yet in': 'C' }, 'not yet in not-in-assembly'],
      [{ ...WHOLE, 'not yet in': 'A; B' }, 'not yet in nothing-in-it'],
      [{ ...WHOLE, 'not yet in': 'A piece 5' }, 'not yet in no-such-piece'],
      [{ ...WHOLE, lot: 'L7' }, 'lot field-unknown'],
      [{ ...FIN, part: 'W' }, 'part is-an-assembly'],
      [{ ...FIN, gross: '15.005 kg' }, 'gross above-capacity'],
      [{ ...FIN, temperature: '22' }, 'temperature unit-missing'],
      [{ ...FIN, humidity: '140 %' }, 'humidity out-of-range'],
      [{ ...FIN, condition: 'painted' }, 'condition not-a-choice'],
      [{ kind: 'disposition', part: 'B', decision: 'scrapped' }, 'piece not-weighed'],
      [light, 'inspection inspection-missing'],
      [{ ...light, decision: undefined }, 'decision missing'],
      [{ ...light, decision: 'kept' }, 'decision not-a-choice'],
      [{ ...light, piece: '2' }, 'piece no-such-piece'],
      [{ ...light, happenedOn: '2026-05-02' }, 'piece not-weighed'],
      [{ ...CALIBRATION, coverage: undefined }, 'coverage coverage-missing'],
      [{ ...CALIBRATION, 'calibration due': '2026-01-31' }, 'calibration due days-reversed'],
      [{ ...CALIBRATION, capacity: '15' }, 'capacity unit-missing'],
      [{ ...CALIBRATION, 'calibration uncertainty': '3 g', capacity: undefined }, 'capacity missing'],
      [{ ...CALIBRATION, maker: 'ours' }, 'maker field-unknown'],
      [{ ...CHECK, scale: 'Floor' }, 'limit missing'],
      [{ ...CHECK, shown: '10.004' }, 'shown unit-missing'],
      [{ ...CHECK, reference: undefined }, 'reference missing'],
      [{ ...CHECK, part: 'C' }, 'part field-unknown'],
      [{ ...SUPPORTS, 'second load': undefined }, 'second load missing'],
      [{ ...SUPPORTS, 'second station': '0.5 m' }, 'second station supports-at-one-place'],
      [{ ...SUPPORTS, x: '4 m' }, 'x arm-stated-twice'],
      [
        { kind: 'estimate', part: 'B', estimate: '2 kg', later: '0.1 kg', finish: '0.2 kg' },
        'finish finish-above-later',
      ],
    ];
    const expected = bad.flatMap(([, ...told], at) =>
      told.map((one) => {
        const space = one.lastIndexOf(' ');
        return `entries.json#/${at}/${one.slice(0, space)}${one.slice(space)}`;
      }),
    );
    expect(await shop.refusal(await record(bad.map(([entry]) => entry)))).toEqual(expected);
  });

  it('[I4] a list that names what is not yet in an assembly is taken once, also after the assembly has grown', async () => {
    const record = await begin(shop, 'Lists');
    await shop.report(await record(CALIBRATION));
    const heading = 'part,date,gross [kg],condition,scale,not yet in,operator,temperature [°C],humidity [%]';
    const list = async (...rows: readonly string[]) => [
      ...['import', '--aircraft', 'Lists', '--weighings'],
      await shop.file('weighings.csv', lines(heading, ...rows)),
    ];
    const rows = ['C,2026-05-10,2.9,finished,Bench,,Bo,21.5,55', 'W,2026-05-12,6.0,trimmed,Bench,A piece 4,,,'];
    await shop.report(await list(...rows));
    await shop.report(await record({ kind: 'part added', number: 'D', group: 'wing', assembly: 'W' }));
    const { imported } = await shop.report(await list(...rows));
    expect(imported).toMatchObject({ recorded: 0, files: { weighings: { knownRows: 2 } } });
    const bad = [
      'W,2026-05-12,6.0,trimmed,Bench,,,,',
      'C,2026-05-12,6.0,trimmed,Bench,none,,,',
      'W,2026-05-12,6.0,trimmed,Bench,C,,,',
      'W,2026-05-12,6.0,trimmed,Bench,none,Bo,,',
      'C,2026-05-12,16.0,trimmed,bench,,,,',
      'C,2026-05-12,3.0,trimmed,,,,warm,140',
      `C,2026-05-12,3.0,trimmed,,,${'x'.repeat(61)},,`,
    ];
    expect(await shop.refusal(await list(...rows, ...bad))).toEqual([
      'weighings.csv:4:1 is-an-assembly',
      'weighings.csv:5:1 has-no-parts',
      'weighings.csv:6:6 not-in-assembly',
      'weighings.csv:7:7 not-of-assembly',
      'weighings.csv:8:3 above-capacity',
      'weighings.csv:9:8 not-a-number',
      'weighings.csv:9:9 out-of-range',
      'weighings.csv:10:7 text-refused',
    ]);
  });
});
