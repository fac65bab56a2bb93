/** What stands beside the chain under a hash of its own is held against it (rule L5): issued briefs and photos. Changes are made behind the app's back. */
import { createHash, randomUUID } from 'node:crypto';
import { type RawBuilder, sql } from 'kysely';
import { beforeAll, expect, it } from 'vitest';
import { keepBrief, stateBrief } from '#db/brief/briefs.ts';
import { appendEntries } from '#db/ledger/append.ts';
import { type Beside, verifyBeside } from '#db/ledger/verify-beside.ts';
import { keepPhoto } from '#db/photo/photos.ts';
import { entryText } from '#shared/ledger/canonical.ts';
import { describeOnBothEngines } from '#tests/support/engines.ts';
import { briefOf } from '../../shared/brief/make-brief.ts';
import { Chain, estimateOf, partIdOf, partOf, weighingOf } from '../../shared/ledger/make-entries.ts';

const chain = new Chain();
chain.record(partOf(1, { name: 'Web' }));
chain.record(estimateOf(1, { massKg: 0.5, xM: 2 }));
chain.record(weighingOf(1, 0.5));

const rehashed = sql`update brief_statement s set hash = encode(sha256(convert_to(concat(b.content, chr(10), s.remarks), 'UTF8')), 'hex')
  from brief b where b.brief_id = s.brief_id and s.act = 'issue'`;

/** Each with the only words that it is told in; those that nothing tells are told as well. */
const CHANGES: Readonly<Record<string, { does: RawBuilder<unknown>[]; told: readonly string[] }>> = {
  'the content of an issued brief': {
    does: [sql`update brief set content = replace(content, '0.5', '0.4') where content like '%0.5%'`],
    told: ['Issued brief 1 has another hash than', 'Issued brief 2 has another hash than'],
  },
  'a remark of an issued brief': {
    does: [sql`update brief_statement set remarks = '{"all":"fine"}' where issue_number = 2`],
    told: ['Issued brief 2 has another hash than its content and remarks give: one of them was changed.'],
  },
  'the hash of an issued brief': {
    does: [sql`update brief_statement set hash = repeat('a', 64) where issue_number = 1`],
    told: ['Issued brief 1 has another hash than'],
  },
  'the entry numbers beside a brief': {
    does: [
      sql`update brief set to_seq = 2 where brief_id = (select brief_id from brief_statement where issue_number = 1)`,
    ],
    told: ['Issued brief 1 has other entry numbers beside its content than the content says.'],
  },
  'an issued brief that is no draft any more, taken out': {
    does: [sql`delete from brief_statement where issue_number = 1`],
    told: ['Issued brief 1 is missing; the next one there is 2.'],
  },
  'the entry that briefs were made from': {
    does: [sql`update entry set hash = repeat('b', 64) where seq = 3`],
    told: ['Issued brief 1 was made from an entry 3 with', 'Issued brief 2 was made from an entry 3 with'],
  },
  'a brief that is none any more, with its hash': {
    does: [sql`update brief set content = '{}'`, rehashed],
    told: ['Issued brief 1 cannot be read.', 'Issued brief 2 cannot be read.'],
  },
  'one byte of a photo': {
    does: [
      sql`alter table photo drop constraint photo_sha256_fits`,
      sql`update photo set bytes = set_byte(bytes, 1, 7)`,
    ],
    told: ['The photo '],
  },
  'what has no hash: the small photo, its remark, the maker of a brief': {
    does: [
      sql`update photo set small_bytes = set_byte(small_bytes, 1, 7), remark = 'other'`,
      sql`update brief set by_name = 'Eve'`,
    ],
    told: [],
  },
};

class RolledBack extends Error {}

describeOnBothEngines('beside the chain', (engine) => {
  let aircraftId = '';
  beforeAll(async () => {
    aircraftId = await engine.aircraft();
    const contents = chain.entries.map(({ entry }) => entryText(entry));
    const answer = await appendEntries(engine.db(), { aircraftId, contents });
    if (!answer.ok) throw new Error(answer.refusal.code);
    const made = briefOf(chain);
    const content = { ...made, to: { ...made.to, hash: answer.entries.at(-1)?.hash } };
    for (let number = 1; number <= 2; number += 1) {
      const brief = { aircraftId, briefId: randomUUID(), by: 'AB' };
      await keepBrief(engine.db(), { ...brief, sent: '{}', content });
      await stateBrief(engine.db(), { ...brief, id: randomUUID(), after: 0, act: 'remark', remarks: { all: 'heavy' } });
      await stateBrief(engine.db(), { ...brief, id: randomUUID(), after: 1, act: 'issue', remarks: {} });
    }
    // A draft, which has no hash.
    await keepBrief(engine.db(), { aircraftId, briefId: randomUUID(), by: 'AB', sent: '{}', content });
    const bytes = new Uint8Array([9, 8, 6, 5]);
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    const photo = { aircraftId, partId: partIdOf(1), id: randomUUID(), entryId: undefined, by: 'CD', remark: 'rib' };
    await keepPhoto(engine.db(), { ...photo, widthPx: 2, heightPx: 2, sha256, bytes, smallBytes: bytes });
  });

  it('[L5] as it was kept it fits, and drafts are not counted', async () => {
    expect(await verifyBeside(engine.db(), aircraftId)).toEqual({ briefs: 2, photos: 1, faults: [] });
    expect(await verifyBeside(engine.db(), await engine.aircraft())).toEqual({ briefs: 0, photos: 0, faults: [] });
  });

  for (const [name, { does, told }] of Object.entries(CHANGES))
    it(`[L5] ${told.length === 0 ? 'not covered, and said so' : 'found and named'}: ${name}`, async () => {
      let beside: Beside | undefined;
      const done = engine.asOwner(async (tx) => {
        for (const table of ['entry', 'brief', 'brief_statement', 'photo'])
          await sql`alter table ${sql.ref(table)} disable trigger all`.execute(tx);
        for (const statement of does) {
          const { numAffectedRows: rows } = await statement.execute(tx);
          expect(rows ?? 1n).toBeGreaterThan(0n);
        }
        beside = await verifyBeside(tx, aircraftId);
        throw new RolledBack();
      });
      await expect(done).rejects.toThrow(RolledBack);
      expect(beside?.faults).toEqual(told.map((words) => expect.stringContaining(words)));
    });
});
