/** Whether a weighing of the aircraft may be recorded (rules A1, A2, A5), through the words and the ledger's objections. */
import { describe, expect, it } from 'vitest';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { Entry } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import { inForce, predictedOf } from '#shared/ledger/fold.ts';
import { toMassNg } from '#shared/quantity/exact.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { aircraftOf, Chain, datumOf, partIdOf, partOf, scaleOf, TODAY, uuidOf } from '../ledger/make-entries.ts';
import { aircraftWeighingOf, ON_WHEELS } from './make-weighings.ts';
import { SIGNED } from './refused-weighings.ts';

function readEntry(sent: object, ledger: Ledger): Entry {
  const read = entryFromWords(sent, { ledger, day: '2026-06-01', by: 'Ann', newId: () => uuidOf(99) });
  if (!read.ok) throw new Error(JSON.stringify(read.refusal));
  return read.value;
}

function codesOf(sent: object, ledger: Ledger): readonly string[] {
  const read = entryFromWords(sent, { ledger, day: '2026-06-01', by: 'Ann', newId: () => uuidOf(99) });
  return read.ok
    ? objectionsTo(read.value, ledger, TODAY).map(({ path, refusal }) => `${path.join('/')} ${refusal.code}`)
    : read.refusal.map(({ path, refusal }) => `${path.join('/')} ${refusal.code}`);
}

function begun(): Chain {
  const chain = new Chain();
  chain.record(aircraftOf());
  chain.record(partOf(1, { quantity: 2 }));
  chain.record(partOf(2));
  chain.record(partOf(3, { parentPartId: partIdOf(2) }));
  return chain;
}

describe('admission', () => {
  it('[A1] what was typed comes to an entry that the ledger takes, with everything in it', () => {
    const ledger = begun().fold();
    const entry = readEntry(SIGNED, ledger);
    expect(objectionsTo(entry, ledger, TODAY)).toEqual([]);
    expect(entry).toMatchObject({
      kind: 'aircraft weighing',
      signedBy: 'A. Signer',
      signedOn: '2026-06-01',
      missing: [],
      weighed: { level: [{ readings: [{ typed: { gross: '80.0 kg' } }, {}, {}] }, {}] },
    });
  });

  it('[A1] figures that are not those of the readings are refused', () => {
    const chain = begun();
    const recorded = chain.record({ ...aircraftWeighingOf(), xM: 2.5 });
    const [objection] = objectionsTo(recorded.entry, chain.fold(recorded.seq - 1), TODAY);
    expect(objection).toMatchObject({ path: ['xM'], refusal: { code: 'not-as-weighed' } });
  });

  it('[A1] parts that were not aboard are named by number, an assembly with what belongs to it', () => {
    const ledger = begun().fold();
    expect(readEntry({ ...SIGNED, 'not aboard': 'P-1 piece 2; P-2' }, ledger)).toMatchObject({
      missing: [{ partId: partIdOf(1), pieces: [2] }, { partId: partIdOf(2) }, { partId: partIdOf(3) }],
    });
    expect(codesOf({ ...SIGNED, 'not aboard': 'P-9; P-1 piece 3' }, ledger)).toEqual([
      'not aboard unknown-part',
      'not aboard no-such-piece',
    ]);
  });

  it('[A1] the calibration of a known scale is copied, and a gross beyond its capacity is refused', () => {
    const chain = begun();
    chain.record(scaleOf('pad', { gainStd: 0.001, resolutionKg: 0.5, capacityKg: 200 }));
    chain.record(scaleOf('small pad', { capacityKg: 100 }));
    const ledger = chain.fold();
    const on = (scale: string) => ({
      ...SIGNED,
      weighed: { ...ON_WHEELS, supports: ON_WHEELS.supports.map((one) => ({ ...one, scale })) },
    });
    expect(readEntry(on('Pad'), ledger)).toMatchObject({
      weighed: { supports: [{ gainStd: 0.001, resolutionKg: 0.5, resolutionFrom: 'scale' }, {}, {}] },
    });
    expect(codesOf(on('small pad'), ledger)).toContain('weighed/level/0/readings/1/gross above-capacity');
    expect(codesOf(on('pad'), ledger)).toEqual([]);
  });

  it('[A2] every question of the checklist is answered, and a no says what was done', () => {
    const ledger = begun().fold();
    const answered = (checklist: readonly object[]) =>
      codesOf({ ...SIGNED, weighed: { ...ON_WHEELS, checklist } }, ledger);
    const [level, ...others] = ON_WHEELS.checklist;
    expect(answered(others)).toEqual(['weighed/checklist checklist-open']);
    expect(answered([{ ...level, so: 'no' }, ...others])).toEqual(['weighed/checklist/0/words check-without-words']);
    expect(answered([{ ...level, so: 'no', words: 'shimmed by 2 mm' }, ...others])).toEqual([]);
  });

  it('[A5] the oil counts as empty weight unless the aircraft says otherwise, and the weighing keeps it', () => {
    const chain = begun();
    expect(readEntry(SIGNED, chain.fold())).toMatchObject({ oilIsEmptyWeight: true });
    chain.record(aircraftOf({ oilIsEmptyWeight: false }));
    expect(readEntry(SIGNED, chain.fold())).toMatchObject({ oilIsEmptyWeight: false });
    const words = { kind: 'aircraft', name: 'A', datum: 'd', 'oil in empty weight': 'no' };
    expect(readEntry(words, chain.fold())).toMatchObject({ oilIsEmptyWeight: false });
    expect(codesOf({ ...words, 'oil in empty weight': 'perhaps' }, chain.fold())).toEqual([
      'oil in empty weight not-a-choice',
    ]);
  });
});

describe('in the ledger', () => {
  it('[A1] a signed weighing can be corrected and struck out like every entry', () => {
    const chain = begun();
    const weighing = chain.record(aircraftWeighingOf(), { on: '2026-05-28' });
    const words = { ...SIGNED, weighed: { ...ON_WHEELS, reference: 'rear face of the main frame' } };
    const { kind: _, ...replacement } = words;
    const correction = { kind: 'correction', entry: weighing.seq, reason: 'wrong face', replacement };
    expect(codesOf(correction, chain.fold())).toEqual([]);
    expect(codesOf({ ...correction, replacement: null }, chain.fold())).toEqual([]);
    chain.correct(weighing, undefined);
    expect(inForce(chain.fold(), 'aircraft weighing')).toBeUndefined();
  });

  it('[L8] where the datum moves, its stations are told from the new one', () => {
    const chain = begun();
    const corrections = [{ name: 'Box', mass: '-3 kg', x: '1 m' }];
    const before = aircraftWeighingOf({ ...ON_WHEELS, corrections });
    chain.record(before);
    const predicted = predictedOf(chain.fold());
    chain.record(datumOf(0.5));
    const after = inForce(chain.fold(), 'aircraft weighing');
    expect(after?.xM).toBeCloseTo(before.xM - 0.5, 9);
    expect(after?.weighed.referenceM).toBeCloseTo(1.5, 9);
    expect(after?.weighed.corrections[0]?.xM).toBeCloseTo(0.5, 9);
    expect(after?.weighed.supports).toEqual(before.weighed.supports);
    expect(predicted.massNg).toBe(toMassNg(before.massKg));
  });
});
