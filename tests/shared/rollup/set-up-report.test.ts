/** What the set-up of an aircraft says (rules L2, L8, R1). */
import { describe, expect, it } from 'vitest';
import { setUpReport } from '#shared/rollup/set-up-report.ts';
import { aircraftOf, allowancesOf, Chain, datumOf, estimateOf, partOf, targetsOf } from '../ledger/make-entries.ts';

describe('set-up', () => {
  it('[L8] the datum is in the words of its last move, and chord and ranges are told from it', () => {
    const chain = new Chain();
    chain.record(aircraftOf({ macM: 1, lemacM: 3 }));
    chain.record(targetsOf(20, { cgForwardM: 3.2, cgAftM: 3.4 }));
    const moved = chain.record(datumOf(0.5));
    const { description, moves, revisions } = setUpReport(chain.fold());
    expect(description).toMatchObject({ datum: 'firewall', lemacM: 2.5, seq: 1, by: 'Ann' });
    expect(moves).toMatchObject([{ seq: moved.seq, shiftM: 0.5, datum: 'firewall' }]);
    expect(revisions).toMatchObject([{ cgForwardM: 2.7, cgAftM: 2.9 }]);

    chain.record(aircraftOf({ datum: 'firewall, front face', macM: 1, lemacM: 2.5 }));
    expect(setUpReport(chain.fold()).description).toMatchObject({ datum: 'firewall, front face', lemacM: 2.5 });
  });

  it('[R1] each revision has its margin today', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1, { massKg: 10, growth: 0.2 }));
    chain.record(targetsOf(14, { reserveKg: 0.5 }));
    chain.record(targetsOf(12, { reason: 'customer' }));
    expect(setUpReport(chain.fold()).revisions).toMatchObject([
      { revision: 1, marginKg: 1.5 },
      { revision: 2, marginKg: 0, reason: 'customer' },
    ]);
  });

  it('[E1] the shop\u2019s own allowances are told, the last one in force, and which entry corrected them', () => {
    const chain = new Chain();
    expect(setUpReport(chain.fold()).allowances).toEqual([]);
    const late = chain.record(allowancesOf(0.3), { on: '2026-05-20' });
    chain.record(allowancesOf(0.2, { reason: 'found late' }), { on: '2026-05-10', by: 'Bo' });
    const correction = chain.correct(late, allowancesOf(0.35));
    const share = (growth: number) => [{ process: 'wet lay-up', evidence: 'estimated', growth }];
    expect(setUpReport(chain.fold()).allowances).toMatchObject([
      { shares: share(0.2), reason: 'found late', by: 'Bo', seq: 2, latestSeq: 2 },
      { shares: share(0.35), seq: late.seq, latestSeq: correction.seq },
    ]);
  });

  it('[L2] an entry is told with the one that a correction of it would name', () => {
    const chain = new Chain();
    const first = chain.record(aircraftOf());
    const second = chain.correct(first, aircraftOf({ name: 'Curlew' }));
    expect(setUpReport(chain.fold()).description).toMatchObject({
      seq: first.seq,
      latestSeq: second.seq,
      name: 'Curlew',
    });
  });
});
