/** Lists through the doors: looked at, recorded as they were shown, whole or not at all. */
import { expect, it } from 'vitest';
import { verifyChain } from '#db/ledger/verify.ts';
import { EntriesReport } from '#shared/contract/aircraft.ts';
import { aircraftIn, pointersOf, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';
import { linesOf, list, listsOf, toldOf } from './list-shop.ts';

const PARTS = list('number,name,group,quantity,estimate [kg],x [m]', 'A,Rib,wing,2,1,1', 'B,Spar,wing,,4,2');
const WEIGHINGS = list('part,piece,date,gross [kg],tare [kg],condition', 'A,1,2026-05-01,1.5,0.25,trimmed');
const TARGETS = list('target,value', 'empty mass,372 kg', 'group wing,84 kg');

describeOnBothEngines('lists through the doors', (engine) => {
  const shop = shopOn(engine);
  const open = async () => {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    return { ...lead, aircraftId, ...listsOf(shop, lead.cookie, aircraftId) };
  };

  it('[I7] looking records nothing, and what was shown is recorded with every list at once', async () => {
    const { look, take, head, aircraftId, cookie, initials } = await open();
    const lists = { parts: PARTS, targets: TARGETS, weighings: WEIGHINGS };
    const shown = await look({ lists });
    expect(shown).toMatchObject({
      headSeq: 1,
      entryCount: 6,
      kinds: { 'part added': 2, estimate: 2, targets: 1, weighing: 1 },
      lists: { parts: { rowCount: 2, knownRows: 0 }, weighings: { rowCount: 1 } },
      problems: [],
      problemCount: 0,
    });
    expect(await head()).toBe(1);
    expect((await take({ lists })).at(-1)).toEqual({ done: { recorded: 6, knownRows: 0 } });
    expect(await head()).toBe(7);
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 7 });
    const page = await shop().call('GET', `/api/aircraft/${aircraftId}/entries`, { cookie });
    const { entries } = EntriesReport.parse(await page.json());
    expect(new Set(entries.map(({ entry }) => entry.by))).toEqual(new Set([initials]));
  });

  it('[I4] the same lists sent again record nothing, also where the first answer was lost', async () => {
    const { look, bring, head } = await open();
    const sent = { lists: { parts: PARTS, weighings: WEIGHINGS } };
    const { digest } = await look(sent);
    await (await bring(sent, digest)).text();
    expect((await linesOf(await bring(sent, digest))).at(-1)).toEqual({ done: { recorded: 0, knownRows: 3 } });
    expect(await look(sent)).toMatchObject({ entryCount: 0, lists: { parts: { knownRows: 2 } } });
    expect(await head()).toBe(6);
  });

  it('[I2] every problem of every list is told with line, column, heading, words and remedy', async () => {
    const { look, bring, head } = await open();
    const lists = {
      parts: list('number,group,estimate [kg],x', 'A,wing,heavy,1 m', 'A,wing,1,"1,234 m"', ',wing,1,'),
      weighings: list('part,gross [kg],condition', 'A,1,baked', 'Z,1,trimmed'),
    };
    const shown = await look({ lists });
    expect(toldOf(shown)).toEqual([
      'parts 2:3 not-a-number',
      'parts 3:1 number-twice',
      'parts 3:4 ambiguous-comma',
      'parts 4:1 missing',
      'weighings 2:3 not-a-choice',
      'weighings 3:1 unknown-part',
    ]);
    expect(shown).toMatchObject({ entryCount: 0, problemCount: 6 });
    expect(shown.problems[0]).toMatchObject({
      heading: 'estimate [kg]',
      words: '“heavy” is not a number.',
      remedy: expect.stringContaining('plain digits'),
    });
    const refused = await problemOf(await bring({ lists }, shown.digest), 400, 'input-refused');
    expect(pointersOf(refused)).toContain('/lists/weighings/3/1');
    expect(await head()).toBe(1);
  });

  it('[W4] readings that look like slips are told as doubts with their lines, and what will drift is told with them', async () => {
    const { look, take } = await open();
    const weighings = list(
      'part,piece,date,gross [kg],condition,note',
      'A,1,2026-05-01,3,trimmed,',
      'A,2,2026-05-01,3,trimmed,',
      'B,,2026-05-02,4,trimmed,first',
      'B,,2026-05-02,4,trimmed,second',
    );
    const shown = (await look({ lists: { parts: PARTS, weighings } })).lists.weighings;
    expect(shown?.doubts).toEqual([
      { slip: 'far above', words: expect.stringContaining('double'), lines: [2, 3] },
      {
        slip: 'entered before',
        words: 'Line 4 of this list of the same day says the same. Is it entered twice?',
        lines: [5],
      },
    ]);
    expect(shown).toMatchObject({
      driftCount: 2,
      drifts: [
        { line: 2, name: 'A piece 1', flag: 'drifting heavy' },
        { line: 3, name: 'A piece 2' },
      ],
    });
    expect((await take({ lists: { parts: PARTS, weighings } })).at(-1)).toEqual({
      done: { recorded: 8, knownRows: 0 },
    });
  });

  it('[I7] a doubt that was not shown is not recorded over', async () => {
    const { look, bring, head, cookie, aircraftId } = await open();
    await bring({ lists: { parts: PARTS } }, (await look({ lists: { parts: PARTS } })).digest).then(linesOf);
    const lists = { weighings: list('part,date,gross [kg],condition', 'B,2026-05-02,4,trimmed') };
    const { digest } = await look({ lists });
    await record(shop(), cookie, aircraftId, {
      kind: 'weighing',
      part: 'B',
      happenedOn: '2026-05-02',
      gross: '4.5 kg',
      tare: '0.5 kg',
      condition: 'trimmed',
    });
    await problemOf(await bring({ lists }, digest), 409, 'list-moved-on');
    expect(await head()).toBe(6);
    expect((await look({ lists })).lists.weighings?.doubts).toMatchObject([{ slip: 'entered before', lines: [2] }]);
  });

  it('[I7] what is no longer what was shown is not recorded', async () => {
    const { look, bring, head, cookie, aircraftId } = await open();
    const { digest } = await look({ lists: { parts: PARTS } });
    const other = { parts: list('number,name,group,estimate [kg]', 'A,Rib,wing,2', 'C,Cap,wing,1') };
    await problemOf(await bring({ lists: other }, digest), 409, 'list-moved-on');
    await record(shop(), cookie, aircraftId, { kind: 'part added', number: 'B', name: 'Spar', group: 'wing' });
    await problemOf(await bring({ lists: { parts: PARTS } }, digest), 409, 'list-moved-on');
    expect(await head()).toBe(2);
    const { digest: now } = await look({ lists: { parts: PARTS } });
    expect((await linesOf(await bring({ lists: { parts: PARTS } }, now))).at(-1)).toMatchObject({
      done: { recorded: 3 },
    });
  });

  it('[I1] unusual headings are matched by choice, and rows of cells say the same as the text', async () => {
    const { look } = await open();
    const odd = list('Sachnr,Baugruppe,geplant [g]', 'A,wing,1500');
    expect(toldOf(await look({ lists: { parts: odd } }))).toEqual([
      'parts 1:0 column-missing',
      'parts 1:0 column-missing',
    ]);
    const columns = { number: 'Sachnr', group: 'Baugruppe', estimate: 'geplant [g]' };
    const shown = await look({ lists: { parts: { ...odd, columns } } });
    expect(shown).toMatchObject({ entryCount: 2, problemCount: 0 });
    const rows = [
      [4, ['Sachnr', 'Baugruppe', 'geplant [g]']],
      [7, ['A', 'wing', '1500']],
    ];
    expect((await look({ lists: { parts: { rows, columns } } })).digest).toBe(shown.digest);
    const wrong = await look({ lists: { parts: { ...odd, columns: { colour: 'Sachnr' } } } });
    expect(toldOf(wrong)).toEqual(['parts 0:0 not-a-choice']);
    const bad = [...rows, [9, ['B', 'wing', 'x']]];
    expect(toldOf(await look({ lists: { parts: { rows: bad, columns } } }))).toEqual(['parts 9:3 not-a-number']);
  });

  it('[I5] cells without a separator of their own leave no comma in doubt', async () => {
    const { look } = await open();
    const rows = (...masses: string[]) => [
      [1, ['number', 'group', 'estimate [kg]']],
      ...masses.map((mass, at) => [at + 2, [`A${at}`, 'wing', mass]]),
    ];
    expect(toldOf(await look({ lists: { parts: { rows: rows('1,234', '2') } } }))).toEqual([
      'parts 2:3 ambiguous-comma',
    ]);
    expect((await look({ lists: { parts: { rows: rows('1,234', '2,5') } } })).problems).toEqual([]);
    const said = { rows: rows('1,234', '2'), decimalComma: true };
    expect((await look({ lists: { parts: said } })).problems).toEqual([]);
  });

  it('[I4] a changed estimate is a revision only where that is said', async () => {
    const { look, take } = await open();
    await take({ lists: { parts: PARTS } });
    const changed = { parts: list('number,group,estimate [kg],x [m]', 'B,wing,4.5,2') };
    expect(toldOf(await look({ lists: changed }))).toEqual(['parts 2:1 number-taken']);
    expect((await take({ lists: changed, revise: true })).at(-1)).toMatchObject({ done: { recorded: 1 } });
    expect((await take({ lists: changed, revise: true })).at(-1)).toMatchObject({ done: { recorded: 0 } });
  });

  it('[N13] whom a list names stands in the remark; the entry is of who is signed in', async () => {
    const { take, look, cookie, aircraftId, initials } = await open();
    await take({ lists: { parts: PARTS } });
    const lists = { weighings: list('part,gross [kg],condition,by,note', 'B,4,trimmed,JM,cold') };
    await take({ lists });
    const page = await shop().call('GET', `/api/aircraft/${aircraftId}/entries?limit=1`, { cookie });
    const { entries } = EntriesReport.parse(await page.json());
    expect(entries[0]?.entry).toMatchObject({ by: initials, remark: 'by JM; cold' });
    expect(await look({ lists })).toMatchObject({ entryCount: 0, lists: { weighings: { knownRows: 1 } } });
  });

  it('[N4] parts take an engineer, targets a lead, weighings crew, and all at once the strictest', async () => {
    const { look, take, aircraftId } = await open();
    const [crew, engineer] = [await shop().person('crew'), await shop().person('engineer')];
    await take({ lists: { parts: PARTS } });
    for (const [lists, by, may] of [
      [{ weighings: WEIGHINGS }, crew, true],
      [{ parts: PARTS }, crew, false],
      [{ parts: PARTS, weighings: WEIGHINGS }, crew, false],
      [{ parts: PARTS, weighings: WEIGHINGS }, engineer, true],
      [{ parts: PARTS, targets: TARGETS }, engineer, false],
    ] as const) {
      if (may) await look({ lists }, by.cookie);
      else
        for (const path of ['import-preview', 'import']) {
          const body = { lists, ...(path === 'import' ? { digest: '' } : {}) };
          const call = shop().call('POST', `/api/aircraft/${aircraftId}/${path}`, { cookie: by.cookie, body });
          await problemOf(await call, 403, 'not-allowed');
        }
    }
  });

  it('[I7] who lets go before the end takes everything back', async () => {
    const { look, bring, head, aircraftId } = await open();
    const lines = Array.from({ length: 1200 }, (_, at) => `P-${at},wing,1`);
    const sent = { lists: { parts: list('number,group,estimate [kg]', ...lines) } };
    const { digest, entryCount } = await look(sent);
    expect(entryCount).toBe(2400);
    const reader = (await bring(sent, digest)).body?.getReader();
    await reader?.read();
    await reader?.cancel();
    // What asks now waits for its turn on the one connection, or for the row: the recording is over one way or the other.
    await expect.poll(head, { timeout: 20_000 }).toBe(1);
    const told = await linesOf(await bring(sent, digest));
    expect(told.length).toBeGreaterThan(5);
    expect(told.at(-1)).toEqual({ done: { recorded: 2400, knownRows: 0 } });
    expect(await verifyChain(engine.db(), aircraftId)).toMatchObject({ ok: true, entryCount: 2401 });
  });
});
