/** Holds the product's figures against those of the naive model: headline, rows of the breakdowns, and a day of the history. */
import { expect } from 'vitest';
import type { RecordedEntry } from '#shared/ledger/entry.ts';
import type { Ledger } from '#shared/ledger/fold.ts';
import type { Day } from '#shared/ledger/history.ts';
import { AXES } from '#shared/quantity/exact.ts';
import { breakdownOf, NO_ASSEMBLY } from '#shared/rollup/breakdown.ts';
import { centreOfGravityM } from '#shared/rollup/centre-of-gravity.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { type NaiveRow, type NaiveTotals, naiveTotals, naiveTotalsOn } from './naive-model.ts';

/** What is compared, under a name, and what a difference is to be measured against. */
type Figure = [name: string, is: number | undefined, shouldBe: number | undefined, scale: number];

/** Twelve digits more would be the product's; the model's plain sums lose some, and a CG loses more the less mass it has. */
const RELATIVE = 1e-9;

export function expectAgreement(figures: readonly Figure[]): void {
  const differing = figures.filter(([, is, shouldBe, scale]) =>
    is === undefined || shouldBe === undefined
      ? is !== shouldBe
      : !(Math.abs(is - shouldBe) <= RELATIVE * Math.max(1, scale)),
  );
  expect(differing).toEqual([]);
}

export function massFigures(ledger: Ledger, entries: readonly RecordedEntry[]): Figure[] {
  const [is, naive] = [headlineOf(ledger), naiveTotals(entries)];
  const { scaleKg } = naive;
  return [
    ['basic', is.basicKg, naive.basicKg, scaleKg],
    ['predicted', is.predictedKg, naive.predictedKg, scaleKg],
    ['margin', is.targets?.marginKg, naive.marginKg, scaleKg],
    ['weighed', is.weighedKg, naive.weighedKg, scaleKg],
    ['installed', is.installedKg, naive.installedKg, scaleKg],
    ['in stock', is.inStockKg, naive.inStockKg, scaleKg],
  ];
}

export function cgFigures(ledger: Ledger, entries: readonly RecordedEntry[]): Figure[] {
  const [is, naive] = [headlineOf(ledger), naiveTotals(entries)];
  const { cgM, predictedKg } = naive;
  return [
    ...AXES.map((axis): Figure => [`cg ${axis}`, is.cg[`${axis}M`], cgM[axis], cgScale(naive, predictedKg)]),
    ['% MAC', is.cg.percentMac, naive.percentMac, 100 * cgScale(naive, predictedKg)],
    ['without arm', is.withoutArmKg, naive.withoutArmKg.x, naive.scaleKg],
    ['forward', is.targets?.cgForwardM, naive.rangeM.forward, 1],
    ['aft', is.targets?.cgAftM, naive.rangeM.aft, 1],
  ];
}

/** The product's stations are whole nanometres. Moments and masses that cancel leave a CG told with fewer digits. */
function cgScale({ scaleKg, scaleKgM }: NaiveTotals, placedKg: number): number {
  return 2 + (scaleKg * (scaleKg + scaleKgM)) / Math.max(1e-6, placedKg ** 2);
}

export function rowFigures(ledger: Ledger, entries: readonly RecordedEntry[]): Figure[] {
  const naive = naiveTotals(entries);
  const rows = { group: naive.byGroup, process: naive.byProcess, assembly: naive.byAssembly };
  return (['group', 'process', 'assembly'] as const).flatMap((key) => {
    const product = new Map(breakdownOf(ledger, key).map((row) => [row.name, row]));
    const shouldBe = new Map([...rows[key]].map(([name, row]) => [name === '' ? NO_ASSEMBLY : name, row] as const));
    expect([...product.keys()].sort()).toEqual([...shouldBe.keys()].sort());
    return [...shouldBe].flatMap(([name, row]) => oneRow(`${key} ${name}`, product.get(name), row, naive));
  });
}

function oneRow(
  name: string,
  is: ReturnType<typeof breakdownOf>[number] | undefined,
  row: NaiveRow,
  naive: NaiveTotals,
): Figure[] {
  const { scaleKg } = naive;
  return [
    [`${name} basic`, Number(is?.basicNg) / 1e12, row.basicKg, scaleKg],
    [`${name} predicted`, Number(is?.predictedNg) / 1e12, row.predictedKg, scaleKg],
    [`${name} weighed`, Number(is?.weighedNg) / 1e12, row.weighedKg, scaleKg],
    [`${name} margin`, is?.marginKg, row.marginKg, scaleKg],
    [`${name} cg`, is?.cgXM, row.cgM.x, cgScale(naive, row.predictedKg)],
  ];
}

export function dayFigures({ day, basic, predicted, marginNg }: Day, entries: readonly RecordedEntry[]): Figure[] {
  const naive = naiveTotalsOn(day, entries);
  const { scaleKg, predictedKg } = naive;
  return [
    [`${day} basic`, Number(basic.massNg) / 1e12, naive.basicKg, scaleKg],
    [`${day} predicted`, Number(predicted.massNg) / 1e12, naive.predictedKg, scaleKg],
    [`${day} margin`, marginNg === undefined ? undefined : Number(marginNg) / 1e12, naive.marginKg, scaleKg],
    ...AXES.map((axis): Figure => {
      const cg = centreOfGravityM(predicted, axis);
      return [`${day} cg ${axis}`, cg.ok ? cg.value : undefined, naive.cgM[axis], cgScale(naive, predictedKg)];
    }),
  ];
}
