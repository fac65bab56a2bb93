/** A weighing in a line of words: its figures as the aircraft shows them, and what was typed where that says something else (L4). */
import { expect, it } from 'vitest';
import type { EntryReport } from '#shared/contract/reports.ts';
import type { DisplayUnits } from '#shared/quantity/show.ts';
import { describeEntry } from '#shared/rollup/describe-entry.ts';
import { onScaleFromWords } from '#shared/weighing/on-scale.ts';
import { FieldReader } from '#shared/words/field-reader.ts';

function wordsFor(fields: Readonly<Record<string, string>>, mass: DisplayUnits['mass'] = 'kg'): string {
  const onScale = onScaleFromWords(new FieldReader(fields));
  const entry = { kind: 'weighing', pieces: [1], condition: 'finished', ...onScale };
  return describeEntry({ entry, part: 'E-24', quantity: 1 } as unknown as EntryReport, { mass, length: 'm' });
}

it.each([
  [{ gross: '0.641 kg' }, 'kg', '0.641 kg'],
  [{ gross: '1.10 lb' }, 'lb', '1.10 lb'],
  [{ gross: '7,4 kg' }, 'kg', '7.400 kg'],
  [{ gross: '7.40012 kg' }, 'kg', '7.40012 kg = 7.400 kg'],
  [{ gross: '641 g' }, 'kg', '641 g = 0.641 kg'],
  [{ gross: '3 lb 4 oz' }, 'oz', '3 lb 4 oz = 52.0 oz'],
  [{ gross: '0.959 kg', tare: '0.318 kg' }, 'kg', '0.959 kg - 0.318 kg = 0.641 kg'],
  [{ gross: '2 lb', tare: '0,1 kg' }, 'kg', '2 lb - 0.100 kg = 0.807 kg'],
  [{ gross: '0.641 kg', tare: '0 kg' }, 'kg', '0.641 kg - 0.000 kg = 0.641 kg'],
  [{ gross: '0.64 kg / 0.66 kg' }, 'kg', '0.640 kg / 0.660 kg = 0.650 kg'],
] as const)('[L4] %o in %s is told as %s', (fields, unit, told) => {
  expect(wordsFor(fields, unit)).toBe(`weighing: E-24 finished, ${told}`);
});
