/** `brief`: made, listed, shown, issued and dropped, as text and as JSON, on both engines. */
import { expect, it } from 'vitest';
import { Brief } from '#shared/contract/brief.ts';
import { jsonOf, placesOf } from './run.ts';
import { describeInShops, lines, type Shop } from './shop.ts';

const PARTS = lines(
  'number,name,group,quantity,process,estimate [kg],x [m],allowance [%],date',
  'A,Rib,wing,4,machined,1,1,0,2026-05-01',
  'B,Spar,wing,1,machined,2,2,0,2026-05-01',
);

async function begin(shop: Shop, name: string): Promise<void> {
  await shop.report(['import', '--aircraft', name, '--parts', await shop.file('parts.csv', PARTS)]);
}

describeInShops('briefs by command', (shop) => {
  it('[B5] is made since the last issued one, shown as text and as JSON, and stays as it was', async () => {
    await begin(shop, 'Row');
    const brief = (...words: string[]) => shop.run(['brief', ...words, '--aircraft', 'Row']);
    expect((await brief()).out).toBe('Row has no brief yet.\n');
    const made = await brief('make', '--remark', 'Spar first', '--issue', '--by', 'AB', '--json');
    expect(jsonOf(made, Brief)).toMatchObject({
      ...{ state: 'issued', remarks: { all: 'Spar first' }, issued: { number: 1, by: 'AB' } },
      content: { from: { seq: 0 }, to: { seq: 5 }, made: { by: 'AB', on: '2026-06-15' } },
    });
    const text = (await brief('show')).out;
    expect(text).toContain('Brief 1 of Row\nAs known at entry 5; made by AB on 2026-06-15, issued by AB');
    expect(text).toContain('Row is forecast at 6.00');
    expect(text).toContain('Remark: Spar first');
    expect(text).toContain('no flight on them');
    await shop.run(['targets', '--aircraft', 'Row', '--empty-mass', '9 kg']);
    expect((await brief('show', '1')).out).toBe(text);
    const next = jsonOf(await brief('make', '--json'), Brief);
    expect(next).toMatchObject({ state: 'draft', content: { from: { seq: 5 }, to: { seq: 6 } } });
    const listed = (await brief('list')).out;
    expect(listed).toMatch(/^ +Brief +State +Entry +since/);
    expect(listed).toContain(next.briefId.slice(0, 8));
    expect(jsonOf(await brief('issue', next.briefId.slice(0, 8), '--json'), Brief).issued?.number).toBe(2);
    const third = jsonOf(await brief('make', '--json'), Brief);
    expect(jsonOf(await brief('drop', third.briefId, '--json'), Brief).state).toBe('dropped');
    expect((await brief('list')).out).not.toContain(third.briefId.slice(0, 8));
  });

  it('[B5] what cannot be made or found is refused with its place', async () => {
    await begin(shop, 'Wren');
    const refused = (...words: string[]) => shop.refusal(['brief', ...words, '--aircraft', 'Wren']);
    expect(await refused('show')).toEqual([expect.stringContaining('brief-unknown')]);
    expect(await refused('make', '--as-known-at', '99')).toEqual([expect.stringContaining('no-such-entry')]);
    expect(await refused('make', '--as-known-at', '2', '--since', '3')).toEqual([
      expect.stringContaining('period-reversed'),
    ]);
    await shop.run(['brief', 'make', '--issue', '--aircraft', 'Wren']);
    expect(await refused('show', '7')).toEqual([expect.stringContaining('brief-unknown')]);
    for (const act of ['issue', 'drop'])
      expect(await refused(act, '1')).toEqual([expect.stringContaining('brief-closed')]);
    expect(placesOf(await shop.run(['brief', 'burn', '--json']))).toEqual([expect.stringContaining('usage')]);
  });
});
