/** `record`: entries of every kind from a JSON file, corrections, and what is refused. On both engines. */
import { randomUUID } from 'node:crypto';
import { expect, it } from 'vitest';
import { Verified } from './report-shape.ts';
import { jsonOf, problemsOf } from './run.ts';
import { describeInShops, given, lines, type Shop } from './shop.ts';

type Words = Readonly<Record<string, unknown>>;

const PARTS = lines(
  'number,name,group,assembly,quantity,estimate [kg],x [m],allowance [%]',
  'W,Wing,wing,,,,,',
  'A,Rib,wing,W,4,1,1,10',
  'B,Spar,wing,W,,2,2,10',
  'C,Fin,tail,,,3,4,10',
);

/** A new aircraft of this name with the parts above: 8 entries. */
async function begin(shop: Shop, name: string): Promise<(entries: Words | readonly Words[]) => Promise<string[]>> {
  await shop.report(['import', '--aircraft', name, '--parts', await shop.file('parts.csv', PARTS)]);
  return async (entries) => ['record', await shop.file('entries.json', JSON.stringify(entries)), '--aircraft', name];
}

async function entriesOf(shop: Shop, name: string) {
  return given((await shop.report(['show', 'entries', '--aircraft', name])).entries);
}

async function basicKgOf(shop: Shop, name: string): Promise<number> {
  return given((await shop.report(['show', 'headline', '--aircraft', name])).headline).basicKg;
}

const EVERY_KIND: readonly Words[] = [
  { kind: 'aircraft', name: 'Every kind', datum: 'firewall', levelling: 'longeron', mac: '1.2 m', lemac: '2 m' },
  { kind: 'part added', number: 'D', name: 'Tank', group: 'propulsion', process: 'bought', side: 'left' },
  { kind: 'estimate', part: 'd', estimate: '10 lb', x: '3 ft', allowance: '5 %', evidence: 'calculated' },
  {
    kind: 'weighing',
    part: 'A',
    piece: '1-2',
    gross: '2.5 kg / 2.6 kg',
    tare: '0.5 kg',
    condition: 'trimmed',
    lot: 'L7',
  },
  { kind: 'arm measured', part: 'B', x: '2050 mm', y: '-1 in' },
  { kind: 'piece installed', part: 'A', piece: 1 },
  { kind: 'piece withdrawn', part: 'A', piece: 2, reason: 'dropped' },
  { kind: 'part removed', part: 'C', reason: 'no fin after all' },
  { kind: 'datum moved', shift: '0.5 m', datum: 'spinner tip', reason: 'drawing' },
  { kind: 'targets', 'empty mass': '12 kg', reserve: '1 kg', 'cg forward': '0.5 m', groups: { wing: '6 kg' } },
  { kind: 'allowances', 'machined estimated': '9 %' },
  { kind: 'material', name: 'Slow epoxy', is: 'resin', density: '1.15 g/cm³' },
  { kind: 'note', text: 'resin changed', happenedOn: '2026-05-01', by: 'Bo', remark: 'from the board' },
  { kind: 'correction', entry: 4, reason: 'drawing says so', replacement: { part: 'A', estimate: '1.5 kg', x: '1 m' } },
];

describeInShops('record', (shop) => {
  it('[L1] entries of every kind are recorded in the order given, each read against those before it', async () => {
    const words = await (await begin(shop, 'Every kind'))(EVERY_KIND);
    const { recorded } = await shop.report(words);
    expect(given(recorded).map((one) => one.seq)).toEqual(EVERY_KIND.map((_, at) => 9 + at));
    const entries = await entriesOf(shop, 'Every kind');
    expect(entries.slice(8).map(({ entry }) => entry.kind)).toEqual(EVERY_KIND.map(({ kind }) => kind));
    expect(entries[20]?.entry).toMatchObject({ by: 'Bo', happenedOn: '2026-05-01', remark: 'from the board' });
    expect(entries[9]?.entry).toMatchObject({ by: 'tess', happenedOn: '2026-06-15' });
    expect(entries[11]?.entry).toMatchObject({
      pieces: [1, 2],
      lot: 'L7',
      readings: [{ grossKg: 2.5 }, { grossKg: 2.6 }],
    });
    // Rib piece 1 weighed 1.025, pieces 2-4 estimated 1.5 each; spar 2; tank 10 lb; the fin is removed.
    expect(await basicKgOf(shop, 'Every kind')).toBeCloseTo(1.025 + 3 * 1.5 + 2 + 10 * 0.45359237, 12);
    const { headline } = await shop.report(['show', 'headline', '--aircraft', 'Every kind']);
    expect(headline).toMatchObject({ installedKg: 1.025, targets: { emptyMassKg: 12, cgStanding: 'in range' } });
    expect(headline?.cg.percentMac).toBeDefined();
  });

  it('[L3] the same ids with the same content again are answered as the first time and add nothing', async () => {
    const record = await begin(shop, 'Replay');
    const note = { id: randomUUID(), kind: 'note', text: 'first', happenedOn: '2026-06-01', by: 'Bo' };
    const weighing = { id: randomUUID(), kind: 'weighing', part: 'C', gross: '3.1 kg', condition: 'trimmed' };
    const words = await record([note, weighing]);
    const [first, again] = [await shop.report(words), await shop.report(words)];
    expect(given(again.recorded)).toEqual(given(first.recorded).map((one) => ({ ...one, replayed: true })));
    expect(await shop.entryCount('Replay')).toBe(10);
    expect((await shop.run(words)).out).toContain('0 of 2 entries recorded; the others were in the ledger already.');
    const { recorded } = await shop.report(await record([weighing, { kind: 'note', text: 'second' }, note]));
    expect(given(recorded).map(({ seq, replayed }) => [seq, replayed])).toEqual([
      [10, true],
      [11, false],
      [9, true],
    ]);
  });

  it('[L3] parts, targets and corrections sent again are answered as well, though the ledger has moved on', async () => {
    const record = await begin(shop, 'Replay all');
    const sent: readonly Words[] = [
      { kind: 'part added', number: 'T', group: 'tail', quantity: 2 },
      { kind: 'targets', 'empty mass': '12 kg' },
      { kind: 'targets', 'empty mass': '13 kg', reason: 'floats' },
      { kind: 'correction', entry: 9, reason: 'never', replacement: null },
      { kind: 'correction', entry: 12, reason: 'after all', replacement: { number: 'T', group: 'tail' } },
      { kind: 'weighing', part: 'T', gross: '1 kg', condition: 'trimmed' },
      { kind: 'correction', entry: 13, reason: 'renamed', replacement: { number: 'T2', group: 'tail' } },
      { kind: 'part removed', part: 'T2', reason: 'gone' },
    ];
    const words = await record(sent.map((entry) => ({ id: randomUUID(), ...entry })));
    const first = given((await shop.report(words)).recorded);
    expect(first.map(({ replayed }) => replayed)).toEqual(sent.map(() => false));
    const again = given((await shop.report(words, { today: '2026-06-20' })).recorded);
    expect(again).toEqual(first.map((one) => ({ ...one, replayed: true })));
  });

  it('[L3] an id used again with other content is refused, and what differs is named', async () => {
    const record = await begin(shop, 'Reuse');
    const id = randomUUID();
    const weighing = { id, kind: 'weighing', part: 'C', gross: '3.1 kg', condition: 'trimmed' };
    await shop.report(await record(weighing));
    const words = await record([
      { kind: 'note', text: 'must not stay' },
      { ...weighing, gross: '3.2 kg', by: 'Bo' },
    ]);
    expect(await shop.refusal(words)).toEqual(['entries.json:0:0 entry-id-reused']);
    const [problem] = problemsOf(await shop.run([...words, '--json']));
    expect(problem?.words).toContain('entry 9');
    for (const field of ['by', 'netKg', 'readings']) expect(problem?.words).toContain(field);
    expect(problem?.words).not.toContain('condition');
  });

  it('[L2] a correction can be corrected, struck out, and made anew; each time its entry alone changes', async () => {
    const record = await begin(shop, 'Corrected');
    const before = (await entriesOf(shop, 'Corrected'))[3]?.entry;
    const steps: readonly (readonly [Words, number])[] = [
      [{ entry: 4, reason: 'slip', replacement: { part: 'A', estimate: '1.25 kg' } }, 10],
      [{ entry: 9, reason: 'never said', replacement: null }, 5],
      [{ entry: 10, reason: 'said after all', replacement: { part: 'A', estimate: '2 kg' } }, 13],
    ];
    for (const [step, basicKg] of steps) {
      await shop.report(await record({ kind: 'correction', ...step }));
      expect(await basicKgOf(shop, 'Corrected')).toBe(basicKg);
    }
    const entries = await entriesOf(shop, 'Corrected');
    expect(entries[3]?.entry).toEqual(before);
    expect([3, 8, 9, 10].map((at) => entries[at]?.correctedBySeq)).toEqual([9, 10, 11, undefined]);
  });

  it('[L2] a second correction of one entry is refused and told of the first', async () => {
    const record = await begin(shop, 'Twice');
    const correction = {
      kind: 'correction',
      entry: 4,
      reason: 'slip',
      replacement: { part: 'A', estimate: '1.25 kg' },
    };
    await shop.report(await record(correction));
    const words = await record({ ...correction, replacement: null });
    expect(await shop.refusal(words)).toEqual(['entries.json#/entry already-corrected']);
    expect((await shop.run(words)).err).toContain('Correct entry 9 instead.');
    expect(
      await shop.refusal(
        await record([
          { ...correction, entry: 6, replacement: null },
          { ...correction, entry: 6, replacement: null },
        ]),
      ),
    ).toEqual(['entries.json#/1/entry already-corrected']);
  });

  it('[L2] a correction without a reason, of nothing, or that changes nothing is refused', async () => {
    const record = await begin(shop, 'Refused');
    const same = { part: 'A', estimate: '1 kg', x: '1 m', allowance: '10 %' };
    expect(
      await shop.refusal(
        await record([
          { kind: 'correction', entry: 4, replacement: null },
          { kind: 'correction', entry: 99, reason: 'x', replacement: null },
          { kind: 'correction', entry: 4, reason: 'x' },
          { kind: 'correction', entry: 4, reason: 'x', replacement: same },
          { kind: 'correction', entry: 4, reason: 'x', replacement: { part: 'A', estimate: '1' } },
          { kind: 'correction', entry: 3, reason: 'x', replacement: null },
          {
            kind: 'correction',
            entry: 8,
            reason: 'x',
            replacement: { part: 'C', estimate: '3 kg', happenedOn: '2026-06-16' },
          },
          { kind: 'part added', number: 'c', group: 'tail' },
          { kind: 'correction', entry: 2, reason: 'x', replacement: { number: 'W', group: 'wing', assembly: 'B' } },
        ]),
      ),
    ).toEqual([
      'entries.json#/0/reason missing',
      'entries.json#/1/entry nothing-to-correct',
      'entries.json#/2/replacement missing',
      'entries.json#/3/replacement correction-changes-nothing',
      'entries.json#/4/replacement/estimate unit-missing',
      'entries.json#/5/replacement part-has-entries',
      'entries.json#/6/replacement/happenedOn day-in-future',
      'entries.json#/7/number number-taken',
      'entries.json#/8/replacement/assembly assembly-cycle',
    ]);
  });

  it('[S5] one entry that cannot be taken keeps out the whole list, and every problem is told at its place', async () => {
    const record = await begin(shop, 'Whole');
    const bad: readonly Words[] = [
      { kind: 'note', text: 'good' },
      { kind: 'weighing', part: 'A', gros: '1 kg', happenedOn: '2026-06-16' },
      { kind: 'sleep' },
      { kind: 'note', text: 'half \ud800 a character' },
      { kind: 'note', text: 'a NUL \0 here' },
      { kind: 'weighing', part: 'Q', gross: '1 kg', condition: 'trimmed' },
      { kind: 'note', text: 'later', happenedOn: '2026-06-16' },
      { kind: 'note', text: 'id', id: 'no uuid' },
      { kind: 'note', text: 'id', id: 5 },
      { kind: 'piece withdrawn', part: 'A', piece: 5, reason: 'x' },
    ];
    expect(await shop.refusal(await record(bad))).toEqual([
      'entries.json#/1/gros field-unknown',
      'entries.json#/1/piece which-piece',
      'entries.json#/1/gross missing',
      'entries.json#/1/condition missing',
      'entries.json#/2/kind not-a-choice',
      'entries.json#/3/text text-refused',
      'entries.json#/4/text text-refused',
      'entries.json#/5/part unknown-part',
      'entries.json#/6/happenedOn day-in-future',
      'entries.json#/7/id shape-refused',
      'entries.json#/8/id shape-refused',
      'entries.json#/9/piece no-such-piece',
    ]);
  });

  it('[I2] a file that is no JSON, or holds no entries, is refused', async () => {
    const record = await begin(shop, 'No JSON');
    for (const [content, code] of [
      ['{oops', 'file-not-json'],
      ['', 'file-not-json'],
      ['3', 'shape-refused'],
      ['"x"', 'shape-refused'],
      ['[[]]', 'shape-refused'],
    ]) {
      const path = await shop.file('entries.json', given(content));
      const problems = problemsOf(await shop.run(['record', path, '--aircraft', 'No JSON', '--json']));
      expect(problems.map((problem) => problem.code)).toEqual([code]);
    }
    expect((await shop.report(await record([]))).recorded).toEqual([]);
    expect((await shop.report(await record([]))).entries).toEqual([]);
  });

  it('[L5] after all of it every chain is whole', async () => {
    for (const one of await shop.aircraft()) {
      const name = one.replace(/ \d+$/, '');
      const verified = jsonOf(await shop.run(['verify', '--aircraft', name, '--json']), Verified);
      expect(verified).toMatchObject({ aircraft: name, ok: true, entryCount: await shop.entryCount(name) });
    }
  });
});
