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
import { BALLASTS, BEGUN, ENTRIES, LISTS, NOTE_ID, PROPOSAL, PROPOSALS, WHAT_IFS } from './reach-entries.ts';
import { LOADING_BALLASTS } from './reach-loading.ts';

const A_FILE = 'said of the bytes of a file: a door takes text, which has been read';
const A_WORKBOOK = 'said of the cells of a workbook, which the browser reads';
const A_MESH = 'said of the bytes of a mesh, which the browser reads: a door takes what was measured';
const A_SCALE = 'said of a line that a scale sent, which the browser reads: a door takes number and unit';
const WORKED_OUT = 'worked out here from the words that are sent, and so never differs from them:';
const THE_COMMAND = 'said by the command alone: a door names its aircraft by id';
const AN_ARCHIVE =
  'said of the files of an aircraft that was carried out, which come packed: see tests/db/archive and tests/api/archive';
const A_CHECKPOINT =
  'said of a checkpoint page or of the file of the key: see tests/db/checkpoint, tests/api/command and tests/api/checkpoint';
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
  'brief-unknown': THE_COMMAND,
  'file-taken': THE_COMMAND,
  'file-not-written': THE_COMMAND,
  'scale-line-too-long': A_SCALE,
  'scale-over-range': A_SCALE,
  'scale-under-range': A_SCALE,
  'scale-error': A_SCALE,
  'scale-without-value': A_SCALE,
  'scale-two-numbers': A_SCALE,
  'scale-number-unreadable': A_SCALE,
  'scale-comma-unclear': A_SCALE,
  'scale-unit-unknown': A_SCALE,
  'scale-two-units': A_SCALE,
  'scale-unit-unclear': A_SCALE,
  'scale-word-unknown': A_SCALE,
  'scale-marks-disagree': A_SCALE,
  'scale-lines-differ': A_SCALE,
  'mesh-too-large': A_MESH,
  'mesh-empty': A_MESH,
  'mesh-not-known': A_MESH,
  'mesh-cut-short': A_MESH,
  'mesh-ends-early': A_MESH,
  'mesh-line-unreadable': A_MESH,
  'mesh-not-finite': A_MESH,
  'mesh-no-such-vertex': A_MESH,
  'mesh-without-triangles': A_MESH,
  'mesh-too-far': A_MESH,
  'mesh-without-area': A_MESH,
  'solid-open': A_MESH,
  'solid-turned-over': A_MESH,
  'solid-without-volume': A_MESH,
  'archive-unreadable': AN_ARCHIVE,
  'archive-too-large': AN_ARCHIVE,
  'archive-name-refused': AN_ARCHIVE,
  'archive-newer': AN_ARCHIVE,
  'archive-manifest-changed': AN_ARCHIVE,
  'archive-file-missing': AN_ARCHIVE,
  'archive-file-strange': AN_ARCHIVE,
  'archive-saved-anew': AN_ARCHIVE,
  'archive-changed': AN_ARCHIVE,
  'archive-row-missing': AN_ARCHIVE,
  'archive-row-out-of-place': AN_ARCHIVE,
  'archive-row-refused': AN_ARCHIVE,
  'archive-chain-broken': AN_ARCHIVE,
  'archive-headline-differs': AN_ARCHIVE,
  'archive-place-taken': AN_ARCHIVE,
  'aircraft-here-already': AN_ARCHIVE,
  'ledger-not-whole': AN_ARCHIVE,
  'checkpoint-not-one': A_CHECKPOINT,
  'checkpoint-line': A_CHECKPOINT,
  'checkpoint-line-missing': A_CHECKPOINT,
  'checkpoint-forged': A_CHECKPOINT,
  'checkpoint-other-key': A_CHECKPOINT,
  'checkpoint-other-aircraft': A_CHECKPOINT,
  'checkpoint-aircraft-missing': A_CHECKPOINT,
  'fingerprint-unreadable': A_CHECKPOINT,
  'key-file-needed': A_CHECKPOINT,
  'key-file-unreadable': A_CHECKPOINT,
  'key-file-not-one': A_CHECKPOINT,
  'key-file-open-to-others': A_CHECKPOINT,
  'net-disagrees': `${WORKED_OUT} the net of a weighing, from its readings`,
  'arm-disagrees': `${WORKED_OUT} the arm on supports or on a bar, from what was read there`,
  'geometry-disagrees': `${WORKED_OUT} the stations of an estimate, from its geometry`,
  'not-as-laid-up': `${WORKED_OUT} the masses of an estimate, from its schedule`,
  'not-as-weighed': `${WORKED_OUT} empty weight and CG, from the readings`,
  'change-of-no-part': 'a change sent in words names its part by number, and one that is not there is an unknown part',
  'in-without-its-assembly': 'an assembly that is named as not yet in another takes its parts along',
  'correction-of-other-kind':
    'a replacement sent in words has no kind of its own: it is read as the kind of what it corrects',
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

  async function newAircraft(cookie: string) {
    const body = { name: `Bird ${newId()}`, datum: 'the bow', massUnit: 'kg', lengthUnit: 'm' };
    const make = () => shop().call('POST', '/api/aircraft', { cookie, body });
    const { id } = (await (await make()).json()) as { id: string };
    return { at: `/api/aircraft/${id}`, id, makeAgain: make };
  }

  /** The codes of a refusal; none where what was sent is taken. */
  async function told(answer: Response | Promise<Response>): Promise<readonly string[]> {
    const report = ProblemReport.safeParse(await (await answer).json());
    return report.success ? (report.data.problems ?? []).map(({ code }) => code) : [];
  }

  it('[N6] every refusal that a door can come to is come to, and the others are known with their reason', async () => {
    const { cookie } = await shop().person('lead');
    const { at, id, makeAgain } = await newAircraft(cookie);
    for (const entry of BEGUN) await record(shop(), cookie, id, entry);
    const get = async (path: string) => (await shop().call('GET', `${at}${path}`, { cookie })).json();
    const post = (path: string, body: object) => shop().call('POST', `${at}${path}`, { cookie, body });
    const send = (body: object, path = '/entries') => told(post(path, { id: newId(), ...body }));
    const lists = (body: object) => post('/import-preview', { lists: body });
    const before = await get('');
    expect(before).toMatchObject({ headline: { seq: BEGUN.length + 1 } });

    const reached = new Set<string>();
    for (const [table, codesOf] of [
      [ENTRIES, (sent: object) => send(sent)],
      [LISTS, async (sent: object) => codesIn(ImportPreview.parse(await (await lists(sent)).json()))],
      [WHAT_IFS, (sent: object) => told(post('/what-if', sent))],
      [BALLASTS, (sent: object) => told(post('/what-if/ballast', sent))],
      [LOADING_BALLASTS, (sent: object) => told(post('/loading/ballast', sent))],
      [PROPOSALS, (sent: object) => send(sent, '/proposals')],
    ] as const) {
      const missed: string[] = [];
      for (const [code, sent] of Object.entries(table)) {
        if ((await codesOf(sent)).includes(code)) reached.add(code);
        else missed.push(code);
      }
      expect(missed).toEqual([]);
    }

    const withoutTargets = await newAircraft(cookie);
    const proposal = { id: newId(), ...PROPOSAL };
    const revisions = `/proposals/${proposal.id}/revisions`;
    expect((await post('/proposals', proposal)).status).toBe(201);
    expect((await post(revisions, { ...PROPOSAL, id: newId(), after: 1 })).status).toBe(201);
    const brief = newId();
    const statements = `/briefs/${brief}/statements`;
    expect((await post('/briefs', { id: brief })).status).toBe(201);
    const early = await send({ id: newId(), after: 4, act: 'issue' }, statements);
    expect((await post(statements, { id: newId(), after: 0, act: 'drop' })).status).toBe(201);
    for (const [code, codes] of [
      ['nothing-to-import', await told(lists({}))],
      ['entry-id-reused', await send({ kind: 'note', text: 'second', id: NOTE_ID })],
      ['no-such-entry', await told(shop().call('GET', `${at}?asKnownAt=99`, { cookie }))],
      ['period-reversed', await told(shop().call('GET', `${at}/bridge?fromEntry=2&toEntry=1`, { cookie }))],
      ['aircraft-name-taken', await told(makeAgain())],
      [
        'cg-range-missing',
        await told(shop().call('POST', `${withoutTargets.at}/what-if/ballast`, { cookie, body: { station: '1 m' } })),
      ],
      ['weighing-is-signed', await told(post('/aircraft-weighings/draft', { id: NOTE_ID, after: 0, words: {} }))],
      ['weighing-draft-gone', await told(post('/aircraft-weighings/draft', { id: newId(), after: 1, words: {} }))],
      ['proposal-id-reused', await send({ ...proposal, title: 'Another' }, '/proposals')],
      ['proposal-moved-on', await send({ ...PROPOSAL, after: 1 }, revisions)],
      ['brief-id-reused', await send({ id: brief, entry: 1 }, '/briefs')],
      ['brief-moved-on', early],
      ['brief-closed', await send({ id: newId(), after: 1, act: 'issue' }, statements)],
    ] as const) {
      expect({ code, codes }).toEqual({ code, codes: [code] });
      reached.add(code);
    }

    const both = Object.keys(NOT_BY_DOOR).filter((code) => reached.has(code));
    expect(both).toEqual([]);
    expect([...reached, ...Object.keys(NOT_BY_DOOR)].sort()).toEqual(Object.keys(REGISTRY).sort());
    expect(await get('')).toEqual(before);
    expect(await get('/proposals')).toMatchObject({ proposals: [{ proposalId: proposal.id, revision: 2 }] });
  });

  function codesIn({ problems }: ImportPreview): readonly string[] {
    return problems.map(({ code }) => code);
  }
});
