/** A parts list that comes again for parts with a lay-up schedule or a geometry (rules I4, E3, E5, V2). */
import { describe, expect, it } from 'vitest';
import { estimateOfLayUp } from '#shared/layup/compute.ts';
import { importParts } from '#shared/table/parts-file.ts';
import { partsText } from '#shared/table/parts-text.ts';
import { keptGeometry } from '../geometry/make-mesh.ts';
import { PANEL, scheduleOf } from '../layup/make-schedules.ts';
import { Chain, datumOf, estimateOf, partOf } from '../ledger/make-entries.ts';
import { contextOf, tableOf, told } from './tables.ts';

const LAY_UP = scheduleOf(PANEL);

function chainWith(): Chain {
  const chain = new Chain();
  chain.record(partOf(1));
  const own = { evidence: 'calculated', growth: 0.06, laterGrowth: 0.06, growthFrom: 'stated' } as const;
  const laidUp = { ...estimateOfLayUp(LAY_UP), layUp: LAY_UP, xM: 2.5, yM: 1, zM: 2, geometry: keptGeometry() };
  chain.record(estimateOf(1, { ...own, ...laidUp }));
  return chain;
}

/** The list as it is exported, with one cell written over. */
function again(chain: Chain, change: Readonly<Record<string, string>> = {}, revise = true) {
  const [head = '', row = ''] = partsText(chain.fold()).split('\r\n');
  const cells = row.split(',').map((cell, at) => change[head.split(',')[at]?.split(' [')[0] ?? ''] ?? cell);
  return importParts(tableOf(head, cells.join(',')), contextOf(chain.entries, { revise }));
}

describe('a parts list again', () => {
  it('[I4] the list as it was exported is known, schedule, geometry and all, also after the datum was moved', () => {
    const chain = chainWith();
    expect(again(chain, {}, false)).toMatchObject({ entries: [], problems: [], warnings: [], knownRows: 1 });
    chain.record(datumOf(0.3));
    expect(again(chain, {}, false)).toMatchObject({ entries: [], problems: [], warnings: [], knownRows: 1 });
  });

  it('[V2] another flash or allowance leaves schedule and geometry as they were', () => {
    const chain = chainWith();
    const outcome = again(chain, { flash: '0.25', allowance: '9' });
    expect([told(outcome), outcome.warnings]).toEqual([[], []]);
    expect(outcome.entries).toMatchObject([
      { flashKg: 0.25, growth: 0.09, ...estimateOfLayUp(LAY_UP), layUp: LAY_UP, geometry: keptGeometry() },
    ]);
  });

  it('[V2] another mass replaces the schedule and another station the geometry, and it is told among what will be done', () => {
    const mass = again(chainWith(), { estimate: '9' });
    expect(mass.entries).toMatchObject([{ massKg: 9, geometry: keptGeometry() }]);
    expect(mass.entries[0]).not.toHaveProperty('layUp');
    expect(mass.warnings).toEqual([
      expect.stringMatching(
        /^\S+: the estimate of this list replaces one that follows from a lay-up schedule, which does not/,
      ),
    ]);
    const station = again(chainWith(), { x: '9' });
    expect(station.entries).toMatchObject([{ xM: 9, layUp: LAY_UP }]);
    expect(station.entries[0]).not.toHaveProperty('geometry');
    expect(station.warnings).toEqual([expect.stringContaining('whose station comes from a geometry')]);
  });

  it('[V2] the figures of a schedule that are said to be estimated are another estimate', () => {
    expect(again(chainWith(), { evidence: 'estimated' }).warnings).toHaveLength(1);
  });

  it('[E1] another uncertainty of an estimate in bare words is a revision', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    chain.record(estimateOf(1));
    expect(again(chain).entries).toEqual([]);
    expect(again(chain, { 'std uncertainty': '0.4' }).entries).toMatchObject([{ massStdKg: 0.4 }]);
  });
});
