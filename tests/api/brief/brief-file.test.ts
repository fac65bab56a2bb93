/** A brief as a file through its door (rule B4): the right kind under the right name, to whoever may read it, the same for ever. */
import { unzipSync } from 'fflate';
import { getDocumentProxy } from 'unpdf';
import { expect, it } from 'vitest';
import { Brief, KeptBrief } from '#shared/contract/brief.ts';
import { aircraftIn, newId, partsIn, pointersOf, problemOf, record, shopOn } from '#tests/api/door-shop.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';

describeOnBothEngines('the files of a brief', (engine) => {
  const shop = shopOn(engine);

  async function begin() {
    const lead = await shop().person('lead');
    const aircraftId = await aircraftIn(shop(), lead.cookie);
    await partsIn(shop(), lead.cookie, aircraftId);
    const viewer = await shop().person('viewer', [aircraftId]);
    const path = `/api/aircraft/${aircraftId}/briefs`;
    const body = { id: newId() };
    const made = await shop().call('POST', path, { cookie: lead.cookie, body });
    const { briefId } = KeptBrief.parse(await made.json());
    const say = (act: string, after: number) =>
      shop().call('POST', `${path}/${briefId}/statements`, { cookie: lead.cookie, body: { id: newId(), after, act } });
    const file = (query: string, cookie = viewer.cookie) =>
      shop().call('GET', `${path}/${briefId}/file?${query}`, { cookie });
    return { lead, aircraftId, path, briefId, say, file };
  }

  it('[B4] comes as PDF, workbook, CSV and JSON, each by its media type, under a name, never sniffed', async () => {
    const { path, briefId, file, lead } = await begin();
    const types = {
      pdf: 'application/pdf',
      xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
      csv: 'text/csv; charset=utf-8',
      json: 'application/json',
    };
    for (const [as, type] of Object.entries(types)) {
      const answer = await file(`as=${as}`);
      expect(answer.status).toBe(200);
      expect(answer.headers.get('content-type')).toBe(type);
      expect(answer.headers.get('content-disposition')).toMatch(
        new RegExp(`^attachment; filename="brief-draft-entry-5-[a-z0-9-]+\\.${as}"$`),
      );
      expect(answer.headers.get('x-content-type-options')).toBe('nosniff');
    }
    const letter = await getDocumentProxy(new Uint8Array(await (await file('as=pdf&paper=letter')).arrayBuffer()));
    expect((await letter.getPage(1)).view).toEqual([0, 0, 612, 792]);
    const sheets = unzipSync(new Uint8Array(await (await file('as=xlsx')).arrayBuffer()));
    expect(Object.keys(sheets)).toContain('xl/workbook.xml');
    expect(await (await file('as=csv')).text()).toMatch(/about,state,DRAFT\r\n/);
    const whole = await shop().call('GET', `${path}/${briefId}`, { cookie: lead.cookie });
    expect(Brief.parse(await (await file('as=json')).json())).toEqual(Brief.parse(await whole.json()));
  });

  it('[B4] is the same file after the ledger has gone on, and says who issued it', async () => {
    const { aircraftId, lead, say, file } = await begin();
    expect((await say('issue', 0)).status).toBe(201);
    const before = Buffer.from(await (await file('as=pdf')).arrayBuffer());
    await record(shop(), lead.cookie, aircraftId, { kind: 'note', text: 'later' });
    const after = await file('as=pdf');
    expect(Buffer.compare(Buffer.from(await after.arrayBuffer()), before)).toBe(0);
    expect(after.headers.get('content-disposition')).toMatch(/filename="brief-1-[a-z0-9-]+\.pdf"/);
    expect(await (await file('as=csv')).text()).toContain(`"Brief 1, issued by ${lead.initials} at `);
  });

  it('[B4] another kind, another paper and another brief are refused', async () => {
    const { file, path, lead } = await begin();
    expect(pointersOf(await problemOf(await file('as=docx'), 400, 'input-refused'))).toEqual(['/as']);
    expect(pointersOf(await problemOf(await file('as=pdf&paper=a0'), 400, 'input-refused'))).toEqual(['/paper']);
    expect(pointersOf(await problemOf(await file(''), 400, 'input-refused'))).toEqual(['/as']);
    const other = await shop().call('GET', `${path}/${newId()}/file?as=pdf`, { cookie: lead.cookie });
    await problemOf(other, 404, 'not-found');
  });
});
