/** An estimate whose stations come from a geometry (rule E5): stated in words, admitted, told again, and moved with the datum. */
import { describe, expect, it } from 'vitest';
import { estimateInWords, estimateToSend } from '#shared/estimate/in-words.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { entryFromText, entryText } from '#shared/ledger/canonical.ts';
import type { StatementOf } from '#shared/ledger/entry.ts';
import { partPage } from '#shared/rollup/part-page.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { Chain, datumOf, estimateOf, ON, partIdOf, partOf, TODAY, uuidOf } from '../ledger/make-entries.ts';
import { keptGeometry } from './make-mesh.ts';

const STATED = { kind: 'estimate', part: 'P-1', estimate: '4 kg' };

function begun(): Chain {
  const chain = new Chain();
  chain.record(partOf(1));
  return chain;
}

function inWords(sent: object) {
  return entryFromWords(sent, { ledger: begun().fold(), day: ON, by: 'Ann', newId: () => uuidOf(77, 7) });
}

function problems(sent: object): readonly string[] {
  const read = inWords(sent);
  return read.ok ? [] : read.refusal.map(({ path, refusal }) => `${path.join('/')}: ${refusal.code}`);
}

function estimated(chain: Chain, changes: Partial<StatementOf<'estimate'>>): readonly string[] {
  const { entry, seq } = chain.record(estimateOf(1, changes));
  return objectionsTo(entry, chain.fold(seq - 1), TODAY).map(({ path, refusal }) => `${path}: ${refusal.code}`);
}

describe('an estimate with a geometry', () => {
  it('[E5] has the stations of the centroid, keeps the evidence, and reads back the same', () => {
    const read = inWords({ ...STATED, 'arm uncertainty': '5 mm', geometry: keptGeometry() });
    if (!read.ok) throw new Error(JSON.stringify(read.refusal));
    expect(read.value).toMatchObject({ xM: 2.5, yM: 1, zM: 2, armStdM: 0.005, geometry: keptGeometry() });
    expect(entryFromText(entryText(read.value))).toEqual(read.value);
  });

  it('[E5] takes no station beside it, and no geometry that is none or cannot lie so', () => {
    expect(problems({ ...STATED, x: '2.5 m', z: '2 m', geometry: keptGeometry() })).toEqual([
      'x: station-from-geometry',
      'z: station-from-geometry',
    ]);
    expect(problems({ ...STATED, geometry: { fileName: 'x' } })).toEqual(['geometry: shape-refused']);
    expect(problems({ ...STATED, geometry: 'x' })).toEqual(['geometry: shape-refused']);
    const { placement, ...rest } = keptGeometry();
    const mirrored = { ...rest, placement: { ...placement, yPoints: 'left' } };
    expect(problems({ ...STATED, geometry: mirrored })).toEqual(['geometry: axes-mirror-the-part']);
    expect(problems({ kind: 'estimate', part: 'P-1', geometry: keptGeometry() })).toEqual(['estimate: missing']);
    expect(problems({ ...STATED, geometry: keptGeometry(999.5) })).toEqual([]);
    expect(problems({ ...STATED, geometry: keptGeometry(1000) })).toEqual(['geometry: out-of-range']);
  });

  it('[E5] is admitted only with the stations of its geometry', () => {
    const geometry = keptGeometry();
    expect(estimated(begun(), { xM: 2.5, yM: 1, zM: 2, geometry })).toEqual([]);
    expect(estimated(begun(), { xM: 2.501, yM: 1, zM: 2, geometry })).toEqual(['geometry: geometry-disagrees']);
    expect(estimated(begun(), { xM: 2.5, geometry })).toEqual(['geometry: geometry-disagrees']);
    const askew = { ...geometry, placement: { ...geometry.placement, zPoints: 'aft' as const } };
    expect(estimated(begun(), { xM: 2.5, yM: 1, zM: 2, geometry: askew })).toEqual(['geometry: axes-along-one-line']);
  });

  it('[E5] a datum that is moved moves the part’s zero, and the geometry goes on to the next estimate from there', () => {
    const chain = begun();
    estimated(chain, { xM: 2.5, yM: 1, zM: 2, geometry: keptGeometry() });
    chain.record(datumOf(0.5));
    const [estimate] = partPage(chain.fold(), partIdOf(1))?.estimates ?? [];
    if (estimate === undefined) throw new Error('no estimate');
    expect([estimate.xM, estimate.geometry?.placement.zero.xM]).toEqual([2, 1.5]);
    const words = estimateInWords(estimate);
    expect(estimateToSend({ ...words, flash: '0.1 kg' }, estimate)).toEqual({
      ...{ estimate: words.estimate, evidence: words.evidence, allowance: words.allowance, flash: '0.1 kg' },
      ...{ later: words.later },
      geometry: keptGeometry(1.5),
    });
    expect(estimateToSend({ ...words, x: '1.9 m' }, estimate)).not.toHaveProperty('geometry');
    expect(estimateToSend({ ...words, y: undefined }, estimate)).not.toHaveProperty('geometry');
    expect(estimateToSend(words, undefined)).toBe(words);
  });
});
