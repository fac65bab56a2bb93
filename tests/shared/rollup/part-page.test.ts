/** One part with its history (rules R1, W8, D2, L8): parsed by the schema of the wire, and in step with the rows of all parts. */
import { expect, it } from 'vitest';
import { PartPageReport } from '#shared/contract/part.ts';
import { partPage } from '#shared/rollup/part-page.ts';
import { partsReport } from '#shared/rollup/parts-report.ts';
import {
  armOf,
  Chain,
  datumOf,
  estimateOf,
  installedOf,
  partIdOf,
  partOf,
  removedOf,
  targetsOf,
  weighingOf,
  withdrawnOf,
} from '../ledger/make-entries.ts';

/** A rib of three pieces in a wing: one weighed heavy, scrapped, made again and weighed. */
function wing(): Chain {
  const chain = new Chain();
  chain.record(targetsOf(40));
  chain.record(partOf(1));
  chain.record(partOf(2, { parentPartId: partIdOf(1), quantity: 3 }));
  chain.record(estimateOf(2, { massKg: 3, xM: 2 }));
  chain.record(partOf(3));
  chain.record(estimateOf(3, { massKg: 20, xM: 5 }));
  chain.record(estimateOf(2, { massKg: 4, xM: 2 }), { on: '2026-05-02' });
  chain.record(weighingOf(2, 5), { on: '2026-05-03' });
  chain.record(withdrawnOf(2, [1]), { on: '2026-05-04' });
  chain.record(weighingOf(2, 4.5, { cause: 'dry' }), { on: '2026-05-05', by: 'Bo' });
  chain.record(installedOf(2, [3]));
  return chain;
}

const pageOf = (chain: Chain, number: number) => {
  const report = partPage(chain.fold(), partIdOf(number));
  if (report === undefined) throw new Error('no such part');
  expect(PartPageReport.parse(report)).toEqual(report);
  return report;
};

it('[W8] the page of a part tells its estimates, its weighings, and each life of its pieces', () => {
  const page = pageOf(wing(), 2);
  expect(page.estimates.map(({ seq, massKg }) => [seq, massKg])).toEqual([
    [7, 4],
    [4, 3],
  ]);
  expect(page.weighings).toMatchObject([
    { seq: 10, by: 'Bo', countsFor: [1], netKg: 4.5, cause: 'dry', judgement: { differenceKg: 0.5 } },
    { seq: 8, countsFor: [], netKg: 5 },
  ]);
  expect(page.pieces).toMatchObject([
    {
      piece: 1,
      isInstalled: false,
      lives: [{ weighings: [8] }, { begun: { reason: 'delaminated' }, weighings: [10] }],
    },
    { piece: 3, isInstalled: true, lives: [] },
  ]);
  expect([page.assembly?.number, pageOf(wing(), 1).children.map(({ number }) => number)]).toEqual(['P-1', ['P-2']]);
});

it('[R1] its row is that of the list, and the aircraft without it is lighter by what it counts for', () => {
  const chain = wing();
  chain.record(estimateOf(2, { massKg: 4, xM: 2, growth: 0.1 }), { on: '2026-05-06' });
  const page = pageOf(chain, 2);
  expect(page.part.predictedKg).toBeCloseTo(4.5 + 2 * 4.4, 12);
  expect(page.part).toEqual(partsReport(chain.fold()).find(({ number }) => number === 'P-2'));
  expect(page.aircraft.predictedKg - page.without.predictedKg).toBeCloseTo(page.part.predictedKg, 12);
  expect(page.without).toEqual({ predictedKg: 20, cgXM: 5 });
});

it('[R3] an assembly tells what everything in it counts for, however deep', () => {
  const chain = wing();
  chain.record(partOf(5, { parentPartId: partIdOf(2) }));
  chain.record(estimateOf(5, { massKg: 7.5, xM: 4, massStdKg: 0.4 }));
  const { whole } = pageOf(chain, 1);
  expect(whole).toMatchObject({ predictedKg: 20, cgXM: (12.5 * 2 + 7.5 * 4) / 20, partCount: 2 });
  // The two pieces not weighed stand under one estimate of 3 %; the scale's own share is small.
  expect(whole?.predictedStdKg).toBeCloseTo(Math.hypot(0.4, 2 * 4 * 0.03), 5);
  expect(pageOf(chain, 1).children).toMatchObject([{ number: 'P-2', predictedKg: 20 }]);
  expect(pageOf(chain, 3).whole).toBeUndefined();
});

it('[D2] the difference of its pieces is told as what it does to margin and CG', () => {
  const page = pageOf(wing(), 2);
  expect(page.marginEffectKg).toBeCloseTo(-0.5, 12);
  const predictedKg = 4.5 + 2 * 4 + 20;
  const cgM = (12.5 * 2 + 20 * 5) / predictedKg;
  expect(page.cgEffectM).toBeCloseTo(((2 - cgM) * 0.5) / (predictedKg - 0.5), 12);
});

it('[L8] stations are told from the present datum, whenever they were stated', () => {
  const chain = wing();
  chain.record(datumOf(0.5));
  chain.record(armOf(2, { xM: 1.6 }));
  const page = pageOf(chain, 2);
  expect([page.estimates[0]?.xM, page.arms[0]?.xM, page.part.xM]).toEqual([1.5, 1.6, 1.6]);
  expect(page.part.armIsMeasured).toBe(true);
});

it('[L1] a part that was removed has no page', () => {
  const chain = wing();
  chain.record(removedOf(2));
  expect(partPage(chain.fold(), partIdOf(2))).toBeUndefined();
  expect(partPage(chain.fold(), partIdOf(9))).toBeUndefined();
});

it('[W5] the row of a part tells what is open about it, and all its weighed pieces together', () => {
  const rows = new Map(partsReport(wing().fold()).map((row) => [row.number, row]));
  expect(rows.get('P-2')).toMatchObject({ differenceKg: 0.5, differenceFraction: 0.125, open: ['decision missing'] });
  expect(rows.get('P-1')).toMatchObject({ open: [] });
  const chain = wing();
  chain.record(partOf(4));
  chain.record(weighingOf(3, 30));
  chain.record(partOf(5));
  chain.record(estimateOf(5, { massKg: 6, xM: 1 }));
  chain.record(weighingOf(5, 6.01));
  const more = new Map(partsReport(chain.fold()).map((row) => [row.number, row]));
  expect(more.get('P-5')?.open).toEqual([]);
  expect(more.get('P-4')?.open).toEqual(['estimate missing']);
  expect(more.get('P-3')?.open).toEqual(['cause missing', 'decision missing']);
});
