/** The shop's list of materials (rule E3): each as it was stated last, by the day it happened. A schedule copies what it takes from here. */
import type { StatementOf } from '#shared/ledger/entry.ts';
import { type Ledger, standingsOf } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import type { Standing } from '#shared/ledger/part-state.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { type Material, materialKey } from './material.ts';
import { materialFromWords } from './material-words.ts';

/** Of each name the last statement, withdrawn ones among them, by name. */
export const lastStated: (ledger: Ledger) => readonly Standing<StatementOf<'material'>>[] = oncePerEntry((ledger) => {
  const byKey = new Map(standingsOf(ledger, 'material').map((one) => [materialKey(one.statement.material.name), one]));
  return [...byKey].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, standing]) => standing);
});

/** The materials that a new schedule may take, by `materialKey`. */
export function listedMaterials(ledger: Ledger): ReadonlyMap<string, Material> {
  return new Map(
    lastStated(ledger).flatMap(({ statement: { material, isWithdrawn } }) =>
      isWithdrawn === true ? [] : [[materialKey(material.name), material]],
    ),
  );
}

/** A material of the list as a person states it, whole; `withdrawn: yes` takes it off the list. */
export function materialStatement(reader: FieldReader): StatementOf<'material'> | undefined {
  const before = reader.problems.length;
  const material = materialFromWords(reader);
  const isWithdrawn = reader.choice('withdrawn', ['yes', 'no']) === 'yes';
  if (material === undefined || reader.problems.length > before) return undefined;
  return { kind: 'material', material, ...(isWithdrawn ? { isWithdrawn } : {}) };
}
