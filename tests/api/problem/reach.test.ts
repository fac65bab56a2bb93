/**
 * Every refusal of the rules that can be reached through the doors is reached here, over the doors. What cannot be reached stands in a list
 * with its reason: a new refusal belongs to one of the two, or this fails.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openStore, type Store } from '#db/engine/open-store.ts';
import { ProblemReport } from '#shared/contract/aircraft.ts';
import { ImportPreview } from '#shared/contract/import.ts';
import { REGISTRY, type RefusalCode } from '#shared/problem/registry.ts';
import { newId, openShop, record, type Shop } from '#tests/api/door-shop.ts';

const A_FILE = 'said of the bytes of a file: a door takes text, which has been read';
const A_WORKBOOK = 'said of the cells of a workbook, which the browser reads';
const THE_COMMAND = 'said by the command alone: a door names its aircraft by id';
const NOT_BY_DOOR: Partial<Record<RefusalCode, string>> = {
  'file-is-workbook': A_FILE,
  'file-not-text': A_FILE,
  'file-unreadable': A_FILE,
  'file-not-json': A_FILE,
  'workbook-unreadable': A_WORKBOOK,
  'cell-error': A_WORKBOOK,
  'cell-without-result': A_WORKBOOK,
  'cell-is-date': A_WORKBOOK,
  'cell-merged': A_WORKBOOK,
  'aircraft-unknown': THE_COMMAND,
  'folder-missing': THE_COMMAND,
  'net-disagrees': 'the net of a weighing sent in words is worked out from its readings',
  'in-without-its-assembly': 'an assembly that is named as not yet in another takes its parts along',
  'correction-of-other-kind':
    'a replacement sent in words has no kind of its own: it is read as the kind of what it corrects',
};

const weighing = { kind: 'weighing', part: 'W', piece: '1', gross: '4 kg', condition: 'finished' };
const targets = { kind: 'targets', 'empty mass': '50 kg' };
const supports = { kind: 'arm measured', part: 'LONE', 'first load': '1 kg', 'second load': '1 kg' };
const apart = { 'first station': '0 m', 'second station': '1 m' };
const assembly = { kind: 'assembly weighing', part: 'BOX', gross: '9 kg', condition: 'finished' };
const scale = { kind: 'scale', scale: 'bench' };
const correct = (entry: number, replacement: object | null) => ({
  kind: 'correction',
  entry,
  reason: 'x',
  replacement,
});

/** By code: an entry that is refused for it. The ledger is the one that `ready` makes. */
const ENTRIES: Partial<Record<RefusalCode, Readonly<Record<string, unknown>>>> = {
  'number-too-long': { ...weighing, gross: `${'0'.repeat(90)}4 kg` },
  'not-a-number': { ...weighing, gross: 'heavy' },
  'ambiguous-comma': { ...weighing, gross: '1,234 kg' },
  'unit-missing': { ...weighing, gross: '4' },
  'unit-unknown': { ...weighing, gross: '4 stone' },
  'out-of-range': { ...weighing, gross: '1e9 kg' },
  'ambiguous-share': { kind: 'estimate', part: 'W', estimate: '4 kg', allowance: '0.24' },
  missing: { kind: 'note' },
  'not-a-count': { kind: 'part added', number: 'N', group: 'g', quantity: '0' },
  'text-refused': { kind: 'note', text: 'a\0b' },
  'not-a-choice': { kind: 'wedding' },
  'not-a-day': { kind: 'note', text: 'x', happenedOn: '3.5.2026' },
  'group-twice': { kind: 'targets', 'empty mass': '9 kg', groups: { wing: '1 kg', 'wing ': '2 kg' } },
  'not-an-entry': { kind: 'correction', entry: 'the last', reason: 'x', replacement: null },
  'not-piece-numbers': { ...weighing, piece: 'all' },
  'field-unknown': { kind: 'note', text: 'x', colour: 'red' },
  'shape-refused': { kind: 'note', text: ['x'] },
  negative: { kind: 'estimate', part: 'W', estimate: '4 kg', 'arm uncertainty': '-1 mm' },
  'estimate-missing': correct(3, { part: 'W', x: '1 m' }),
  'later-above-estimate': { kind: 'estimate', part: 'W', estimate: '4 kg', later: '5 kg' },
  'finish-above-later': { kind: 'estimate', part: 'W', estimate: '4 kg', later: '1 kg', finish: '2 kg' },
  'arm-stated-twice': { ...supports, ...apart, x: '1 m' },
  'supports-at-one-place': { ...supports, 'first station': '1 m', 'second station': '1 m' },
  'supports-bear-nothing': { ...supports, ...apart, 'first load': '0 kg', 'second load': '0 kg' },
  'days-reversed': { ...scale, calibrated: '2026-05-01', 'calibration due': '2026-04-01' },
  'coverage-missing': { ...scale, 'calibration uncertainty': '0.1 %' },
  'above-capacity': { ...weighing, part: 'LONE', gross: '12 kg', scale: 'bench' },
  'is-an-assembly': { ...weighing, part: 'BOX' },
  'has-no-parts': { ...assembly, part: 'LONE' },
  'assembly-of-many': { ...assembly, part: 'W' },
  'not-in-assembly': { ...assembly, 'not yet in': 'LONE' },
  'nothing-in-it': { ...assembly, 'not yet in': 'SKIN' },
  'not-weighed': { kind: 'disposition', part: 'W', piece: '1', decision: 'accepted' },
  'inspection-missing': { kind: 'disposition', part: 'LONE', piece: '1', decision: 'accepted' },
  'no-such-release': { kind: 'process cause', process: 'prepreg', release: '1', cause: 'dry' },
  'not-called': { kind: 'process cause', process: 'prepreg', cause: 'dry' },
  'gross-not-above-tare': { ...weighing, tare: '5 kg' },
  'readings-differ': { ...weighing, gross: '4 kg / 4 kg / 4 kg', tare: '1 kg / 1 kg' },
  'pieces-disagree': { ...weighing, piece: '1-2', pieces: '3' },
  'which-piece': { ...weighing, piece: undefined },
  'no-such-piece': { ...weighing, piece: '5' },
  'arm-missing': { kind: 'arm measured', part: 'W' },
  'target-zero': { ...targets, 'empty mass': '0 kg' },
  'reserve-too-large': { ...targets, reserve: '50 kg' },
  'range-reversed': { ...targets, 'cg forward': '3 m', 'cg aft': '2 m' },
  'chord-unknown': { ...targets, 'cg aft': '30 % MAC' },
  'chord-half': { kind: 'aircraft', name: 'A', datum: 'd', mac: '1 m' },
  'unknown-part': { ...weighing, part: 'X' },
  'part-is-removed': { ...weighing, part: 'gone' },
  'part-has-entries': correct(2, null),
  'number-taken': { kind: 'part added', number: 'w', group: 'g' },
  'assembly-cycle': correct(2, { number: 'W', group: 'g', quantity: '4', assembly: 'RIB' }),
  'day-in-future': { kind: 'note', text: 'x', happenedOn: '2999-01-01' },
  'reason-missing': targets,
  'nothing-to-correct': correct(99, null),
  'already-corrected': correct(7, null),
  'correction-changes-nothing': correct(3, { part: 'W', estimate: '4 kg' }),
};

/** By code: a list that is refused for it. */
const LISTS: Partial<Record<RefusalCode, Readonly<Record<string, unknown>>>> = {
  'file-empty': { parts: { text: '' } },
  'file-too-large': { parts: { text: `number,group\n${'A,wing\n'.repeat(20_001)}` } },
  'quote-not-closed': { parts: { text: 'number,group\n"A,wing' } },
  'quote-misplaced': { parts: { text: 'number,group\nA" b,wing' } },
  'no-rows': { parts: { text: 'number,group' } },
  'column-missing': { parts: { text: 'number,name\nA,Rib' } },
  'column-twice': { parts: { text: 'number,part no,group\nA,A,wing' } },
  'column-unit-unknown': { parts: { text: 'number,group,estimate [stone]\nA,wing,1' } },
  'cells-too-many': { parts: { text: 'number,group\nA,wing,more' } },
  'number-twice': { parts: { text: 'number,group\nA,wing\na,wing' } },
  'unknown-assembly': { parts: { text: 'number,group,assembly\nA,wing,NONE' } },
  'row-twice': { weighings: { text: 'part,gross,condition\nLONE,4 kg,trimmed\nLONE,4 kg,trimmed' } },
  'not-of-assembly': { weighings: { text: 'part,gross,condition,not yet in,lot\nBOX,4 kg,trimmed,none,L7' } },
  'group-twice': { targets: { text: 'target,value\nempty mass,9 kg\ngroup wing,1 kg\ngroup wing,2 kg' } },
};

describe('refusals through the doors', () => {
  let store: Store | undefined;
  let opened: Shop | undefined;
  beforeAll(async () => {
    store = await openStore({ kind: 'memory' });
    opened = openShop(store);
  });
  afterAll(async () => {
    opened?.close();
    await store?.close();
  });
  const shop = () => {
    if (opened === undefined) throw new Error('the shop opens in beforeAll');
    return opened;
  };

  /** A ledger in which all of the above can go wrong. Its aircraft states no chord. */
  async function ready() {
    const { cookie } = await shop().person('lead');
    const name = `Bird ${newId()}`;
    const made = await shop().call('POST', '/api/aircraft', {
      cookie,
      body: { name, datum: 'the bow', massUnit: 'kg', lengthUnit: 'm' },
    });
    const { id } = (await made.json()) as { id: string };
    const noteId = newId();
    for (const entry of [
      { kind: 'part added', number: 'W', group: 'wing', quantity: '4' },
      { kind: 'estimate', part: 'W', estimate: '4 kg' },
      { kind: 'part added', number: 'RIB', group: 'wing', assembly: 'W' },
      { kind: 'part added', number: 'GONE', group: 'wing' },
      { kind: 'part removed', part: 'GONE', reason: 'left out' },
      { kind: 'note', text: 'to be struck out' },
      correct(7, null),
      targets,
      { kind: 'note', text: 'first', id: noteId },
      { kind: 'part added', number: 'BOX', group: 'wing' },
      { kind: 'part added', number: 'SKIN', group: 'wing', assembly: 'BOX' },
      { kind: 'part added', number: 'CAP', group: 'wing', assembly: 'SKIN' },
      { kind: 'part added', number: 'LONE', group: 'wing' },
      { kind: 'estimate', part: 'LONE', estimate: '4 kg' },
      { ...weighing, part: 'LONE', gross: '2 kg' },
      { ...scale, capacity: '10 kg' },
    ])
      await record(shop(), cookie, id, entry);
    const { entries } = (await (
      await shop().call('GET', `/api/aircraft/${id}/entries?limit=1`, { cookie })
    ).json()) as { entries: { seq: number }[] };
    const told = async (answer: Response | Promise<Response>) => {
      const report = ProblemReport.safeParse(await (await answer).json());
      return report.success ? (report.data.problems ?? []).map(({ code }) => code) : [];
    };
    return { cookie, id, name, noteId, told, lastSeq: entries[0]?.seq };
  }

  it('[N6] every refusal that a door can come to is come to, and the others are known with their reason', async () => {
    const { cookie, id, name, noteId, told, lastSeq } = await ready();
    const reached = new Set<string>();
    const send = (body: object) => told(shop().call('POST', `/api/aircraft/${id}/entries`, { cookie, body }));
    for (const [code, entry] of Object.entries(ENTRIES))
      if ((await send({ id: newId(), ...entry })).includes(code)) reached.add(code);
    expect(Object.keys(ENTRIES).filter((code) => !reached.has(code))).toEqual([]);
    const lists = (body: object) =>
      shop().call('POST', `/api/aircraft/${id}/import-preview`, { cookie, body: { lists: body } });
    for (const [code, sent] of Object.entries(LISTS)) {
      const { problems } = ImportPreview.parse(await (await lists(sent)).json());
      if (problems.some((problem) => problem.code === code)) reached.add(code);
    }
    expect(Object.keys(LISTS).filter((code) => !reached.has(code))).toEqual([]);
    for (const [code, codes] of [
      ['nothing-to-import', await told(lists({}))],
      ['entry-id-reused', await send({ kind: 'note', text: 'second', id: noteId })],
      ['no-such-entry', await told(shop().call('GET', `/api/aircraft/${id}?asKnownAt=99`, { cookie }))],
      [
        'aircraft-name-taken',
        await told(
          shop().call('POST', '/api/aircraft', {
            cookie,
            body: { name, datum: 'the bow', massUnit: 'kg', lengthUnit: 'm' },
          }),
        ),
      ],
    ] as const) {
      expect({ code, codes }).toEqual({ code, codes: [code] });
      reached.add(code);
    }
    const both = Object.keys(NOT_BY_DOOR).filter((code) => reached.has(code));
    expect(both).toEqual([]);
    expect([...reached, ...Object.keys(NOT_BY_DOOR)].sort()).toEqual(Object.keys(REGISTRY).sort());
    const answer = await shop().call('GET', `/api/aircraft/${id}`, { cookie });
    expect(await answer.json()).toMatchObject({ headline: { seq: lastSeq } });
  });
});
