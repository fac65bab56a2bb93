/** Materials and estimates by lay-up as entries (rules E1, E3, L2): from words into the ledger, what is admitted and what it does. */
import { describe, expect, it } from 'vitest';
import { PartPageReport } from '#shared/contract/part.ts';
import { SetUpReport } from '#shared/contract/set-up.ts';
import { computeLayUp, estimateOfLayUp } from '#shared/layup/compute.ts';
import { listedMaterials } from '#shared/layup/list.ts';
import { materialInWords } from '#shared/layup/material-words.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { entryFromText, entryText } from '#shared/ledger/canonical.ts';
import type { Entry, StatementOf } from '#shared/ledger/entry.ts';
import { describeEntry } from '#shared/rollup/describe-entry.ts';
import { partPage } from '#shared/rollup/part-page.ts';
import { entriesReport } from '#shared/rollup/report.ts';
import { setUpReport } from '#shared/rollup/set-up-report.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { Chain, estimateOf, materialOf, ON, partIdOf, partOf, TODAY, uuidOf } from '../ledger/make-entries.ts';
import { MATERIALS, ofLines, PANEL, scheduleOf } from './make-schedules.ts';

function begun(): Chain {
  const chain = new Chain();
  chain.record(partOf(1, { process: 'wet lay-up' }));
  for (const material of MATERIALS) chain.record(materialOf(material));
  return chain;
}

function say(chain: Chain, sent: Record<string, unknown>) {
  const context = { ledger: chain.fold(), day: ON, by: 'Ann', newId: () => uuidOf(chain.entries.length + 1) };
  return entryFromWords(sent, context);
}

function problems(chain: Chain, sent: Record<string, unknown>): readonly string[] {
  const entry = say(chain, sent);
  return entry.ok ? [] : entry.refusal.map(({ path, refusal }) => `${path.join('/')}: ${refusal.code}`);
}

function record(chain: Chain, sent: Record<string, unknown>): Entry {
  const entry = say(chain, sent);
  if (!entry.ok) throw new Error(JSON.stringify(entry.refusal));
  chain.add(entry.value);
  return entry.value;
}

const BY_LAY_UP = { kind: 'estimate', part: 'P-1', layUp: PANEL, x: '2 m', flash: '0.1 kg' };

describe('materials', () => {
  it('[E3] a material is stated anew, and the last one by its day is on the list', () => {
    const chain = new Chain();
    const words = { kind: 'material', name: 'Twill', is: 'fabric', areal: '200 g/m²', density: '1.8 g/cm³' };
    record(chain, words);
    record(chain, { ...words, name: 'twill', areal: '205 g/m²', happenedOn: '2026-05-03' });
    record(chain, { ...words, areal: '199 g/m²', happenedOn: '2026-05-02' });
    expect([...listedMaterials(chain.fold()).values()]).toMatchObject([{ name: 'twill', arealKgM2: 0.205, std: 0.03 }]);
    record(chain, { ...words, withdrawn: 'yes', happenedOn: '2026-05-04' });
    expect(listedMaterials(chain.fold()).size).toBe(0);
    record(chain, { ...words, happenedOn: '2026-05-05' });
    expect(listedMaterials(chain.fold()).get('twill')).toMatchObject({ arealKgM2: 0.2, typed: { areal: '200 g/m²' } });
  });

  it('[E3] a material that lacks a figure, or has one of another kind, is refused', () => {
    const words = {
      kind: 'material',
      name: 'Foam',
      is: 'core',
      density: '75 kg/m³',
      thickness: '0 mm',
      areal: '1 g/m²',
    };
    expect(problems(new Chain(), words)).toEqual([
      'areal: field-unknown',
      'uptake: missing',
      'thickness: out-of-range',
    ]);
    expect(problems(new Chain(), { kind: 'material', name: 'X', is: 'cheese' })).toEqual(['is: not-a-choice']);
  });

  it('[E3] a material that is corrected changes the list, and no schedule', () => {
    const chain = begun();
    record(chain, BY_LAY_UP);
    const before = partPage(chain.fold(), partIdOf(1));
    const twill = chain.entries[1];
    const [stated] = MATERIALS;
    if (twill === undefined || stated?.is !== 'fabric') throw new Error('no twill');
    chain.correct(twill, materialOf({ ...stated, arealKgM2: 0.3 }));
    expect(objectionsTo(chain.entries.at(-1)?.entry as Entry, chain.fold(chain.entries.length - 1), TODAY)).toEqual([]);
    const after = partPage(chain.fold(), partIdOf(1));
    expect(after?.part.predictedKg).toBe(before?.part.predictedKg);
    expect(before?.layUp?.moved).toEqual([]);
    expect(after?.layUp?.moved).toMatchObject([{ was: { arealKgM2: 0.2 }, is: { arealKgM2: 0.3 } }]);
  });

  it('[E3] the set-up lists them by name, those withdrawn marked, and the ledger tells them in words', () => {
    const chain = begun();
    record(chain, { kind: 'material', ...materialInWords(MATERIALS[7] as never), withdrawn: 'yes' });
    const report = { seq: 0, ...setUpReport(chain.fold()) };
    expect(SetUpReport.parse(report)).toEqual(report);
    expect(report.materials.map(({ material, isWithdrawn }) => [material.name, isWithdrawn])).toEqual([
      ...['Epoxy', 'Foam', 'Glass'].map((name) => [name, false]),
      ['Insert', true],
      ...['Micro', 'Paste', 'Primer', 'Twill'].map((name) => [name, false]),
    ]);
    const rows = entriesReport(chain.fold()).map((row) => describeEntry(row, { mass: 'kg', length: 'm' }));
    expect(rows.join('\n')).toContain('material withdrawn from the list: Insert (fitting): mass 0.005 kg');
    expect(rows.join('\n')).toContain('material Twill (fabric): areal 0.2 kg/m², density 1800 kg/m³, uncertainty 3 %');
  });
});

describe('estimates by lay-up', () => {
  it('[E3] mass, uncertainty, later and finish are what the schedule comes to, and the evidence is calculated', () => {
    const chain = begun();
    const entry = record(chain, BY_LAY_UP);
    expect(entry).toMatchObject({
      ...estimateOfLayUp(scheduleOf(PANEL)),
      evidence: 'calculated',
      growth: 0.06,
      growthFrom: 'shop default',
      flashKg: 0.1,
      xM: 2,
      layUp: { regions: [{ name: 'Panel', typed: { area: '0.5 m²' } }] },
    });
    expect(objectionsTo(entry, begun().fold(), TODAY)).toEqual([]);
    expect(entryFromText(entryText(entry))).toEqual(entry);
    const page = partPage(chain.fold(), partIdOf(1));
    expect(PartPageReport.parse(page)).toEqual(page);
    expect(page?.layUp?.computed).toEqual(computeLayUp(scheduleOf(PANEL)));
    // What is moulded keeps 6 %, and what goes on later as well.
    expect(page?.part.predictedKg).toBeCloseTo(1.369_183_333 * 1.06, 9);
    const [row] = entriesReport(chain.fold()).slice(-1);
    expect(row && describeEntry(row, { mass: 'kg', length: 'm' })).toContain(
      'estimate: P-1 1.369 kg by lay-up, calculated',
    );
  });

  it('[E3] what follows from the schedule is not typed beside it', () => {
    const typed = { estimate: '1 kg', 'std uncertainty': '5 %', evidence: 'calculated', later: '0 kg', finish: '0 kg' };
    expect(problems(begun(), { ...BY_LAY_UP, ...typed })).toEqual(
      ['estimate', 'std uncertainty', 'evidence', 'later', 'finish'].map((field) => `${field}: laid-up-is-stated`),
    );
  });

  it('[E3] a problem in the schedule is told at its place, beside those of the fields', () => {
    const layUp = ofLines({ is: 'ply', material: 'Silk', layers: '1' });
    expect(problems(begun(), { ...BY_LAY_UP, layUp, x: '2' })).toEqual([
      'x: unit-missing',
      'layUp/regions/0/lines/0/material: material-unknown',
    ]);
    expect(problems(begun(), { ...BY_LAY_UP, layUp: 'two plies' })).toEqual(['layUp: shape-refused']);
    expect(problems(begun(), { kind: 'estimate', part: 'P-1' })).toEqual(['estimate: missing']);
    expect(problems(begun(), { kind: 'note', text: 'x', layUp: PANEL })).toContain('layUp: field-unknown');
  });

  it('[E3] an estimate that does not say what its schedule comes to is not admitted', () => {
    const layUp = scheduleOf(PANEL);
    const right = { ...estimateOfLayUp(layUp), evidence: 'calculated', layUp } as const;
    const objections = (changes: Partial<StatementOf<'estimate'>>) => {
      const chain = begun();
      const entry = chain.record(estimateOf(1, { ...right, ...changes })).entry;
      return objectionsTo(entry, begun().fold(), TODAY).map(
        ({ path, refusal }) => `${path.join('/')}: ${refusal.code}`,
      );
    };
    expect(objections({})).toEqual([]);
    // The last digits of another machine.
    expect(objections({ massKg: right.massKg * (1 + 1e-13) })).toEqual([]);
    expect(objections({ massKg: 1.4 })).toEqual(['massKg: not-as-laid-up']);
    expect(objections({ finishKg: undefined })).toEqual(['finishKg: not-as-laid-up']);
    expect(objections({ laterKg: 0.2, massStdKg: 0 })).toEqual([
      'massStdKg: not-as-laid-up',
      'laterKg: not-as-laid-up',
    ]);
    expect(objections({ evidence: 'estimated' })).toEqual(['evidence: laid-up-is-stated']);
    expect(objections({ layUp: { ...layUp, materials: layUp.materials.slice(1) } })).toEqual([
      'layUp/resin: material-unknown',
    ]);
    expect(objections({ layUp: { ...layUp, regions: [] } })).toEqual(['layUp/regions: shape-refused']);
  });

  it('[E3] a correction of the estimate takes a schedule as well', () => {
    const chain = begun();
    record(chain, BY_LAY_UP);
    const seq = chain.entries.length;
    const { kind: _, ...replacement } = BY_LAY_UP;
    const thicker = { ...PANEL, 'fibre by mass': '50 %' };
    record(chain, {
      kind: 'correction',
      entry: seq,
      reason: 'wetter',
      replacement: { ...replacement, layUp: thicker },
    });
    // 0.32 kg of fibre at 50 % holds 0.32 kg of resin instead of 0.213 333.
    expect(partPage(chain.fold(), partIdOf(1))?.layUp?.computed.massKg).toBeCloseTo(1.369_183_333 + 0.106_666_667, 8);
    expect(
      problems(chain, { kind: 'correction', entry: seq, reason: 'x', replacement: { ...replacement, layUp: {} } }),
    ).toEqual(['replacement/layUp/regions: schedule-empty']);
  });
});
