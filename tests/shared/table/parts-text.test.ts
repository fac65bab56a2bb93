/** A parts list that goes out and comes back (rule I4). */
import { expect, it } from 'vitest';
import type { Statement } from '#shared/ledger/entry.ts';
import { foldEntries, presentParts } from '#shared/ledger/fold.ts';
import { readCsv } from '#shared/table/csv.ts';
import { importParts } from '#shared/table/parts-file.ts';
import { partsText } from '#shared/table/parts-text.ts';
import { aircraftOf, Chain, datumOf, estimateOf, partIdOf, partOf } from '../ledger/make-entries.ts';
import { contextOf, recorded, told } from './tables.ts';

function tableFrom(text: string) {
  const table = readCsv(text);
  if (!table.ok) throw new Error(table.refusal.refusal.code);
  return table.value;
}

/** What a list can say of a part: everything but ids, and when it was typed how. */
function said(statements: readonly (Statement | undefined)[]): unknown {
  return statements.map((statement) => {
    const own = new Set(['partId', 'parentPartId', 'typed', 'id', 'happenedOn', 'by']);
    return Object.fromEntries(Object.entries(statement ?? {}).filter(([name]) => !own.has(name)));
  });
}

function shop(massUnit: 'kg' | 'lb', lengthUnit: 'm' | 'in'): Chain {
  const chain = new Chain();
  chain.record(aircraftOf({ massUnit, lengthUnit }));
  chain.record(partOf(1, { name: 'Wing, "long"; outer\nhalf', side: 'left' }));
  chain.record(partOf(2, { parentPartId: partIdOf(1), quantity: 12, process: 'machined' }));
  chain.record(estimateOf(2, { massKg: 3.6967778155, xM: 2.5, yM: -0.3, zM: 0.0127, armStdM: 0.005 }));
  chain.record(partOf(3, { name: '=SUM(A1)', group: "'-1+1" }));
  const odd = {
    massKg: 0.333333333333333,
    massStdKg: 0.333333333333333 * 0.07,
    growth: 0.24,
    laterGrowth: 0.5,
    flashKg: 0.04,
    laterKg: 0.1,
  };
  chain.record(
    estimateOf(3, {
      ...odd,
      finishKg: 0.05,
      typed: { 'std uncertainty': '7 %' },
      evidence: 'calculated',
      growthFrom: 'stated',
    }),
  );
  chain.record(partOf(4, { process: 'wiring' }));
  chain.record(estimateOf(4, { massKg: 2, growth: 0.5, laterGrowth: 0.5, growthFrom: 'shop default' }));
  return chain;
}

it.each([
  ['kg', 'm'],
  ['lb', 'in'],
] as const)(
  '[I4] a list in %s and %s comes back: nothing new where it came from, the same elsewhere',
  (mass, length) => {
    const chain = shop(mass, length);
    const text = partsText(chain.fold());
    expect(text.split('\r\n')[0]).toContain(`estimate [${mass}],std uncertainty [${mass}],x [${length}]`);

    for (const line of text.split('\r\n').slice(1)) expect(line).not.toMatch(/(^|,)"?\s*[=+@]|(^|,)-\D/);
    expect(text, 'nothing that a spreadsheet works out').toContain(",'=SUM(A1),''-1+1,");

    const again = importParts(tableFrom(text), contextOf(chain.entries));
    expect([told(again), again.entries, again.knownRows]).toEqual([[], [], 4]);

    const elsewhere = importParts(tableFrom(text), contextOf());
    expect(told(elsewhere)).toEqual([]);
    const copy = presentParts(foldEntries(recorded(elsewhere)));
    const first = presentParts(chain.fold());
    const byNumber = (parts: typeof copy) =>
      [...parts].sort((a, b) => a.definition.number.localeCompare(b.definition.number));
    expect(said(byNumber(copy).map(({ definition }) => definition))).toEqual(
      said(byNumber(first).map(({ definition }) => definition)),
    );
    expect(said(byNumber(copy).map(({ estimate }) => estimate?.statement))).toEqual(
      said(byNumber(first).map(({ estimate }) => estimate?.statement)),
    );
  },
);

it('[L8] a list made after the datum has moved tells its arms from the present one', () => {
  const chain = new Chain();
  chain.record(partOf(1));
  chain.record(estimateOf(1, { massKg: 4, xM: 2.5 }));
  chain.record(datumOf(0.5));
  expect(partsText(chain.fold())).toContain(',4,,2,,,,estimated,0,');
});
