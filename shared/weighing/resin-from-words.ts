/** What was mixed for an infusion and what of it did not get into the part (rule E6): resin mixed, resin left, resin in lines. */
import type { StatementOf } from '#shared/ledger/entry.ts';
import type { FieldReader } from '#shared/words/field-reader.ts';
import { resolutionStdKg } from './net.ts';

export const RESIN_FIELDS = ['resin mixed', 'resin left', 'resin in lines'] as const;

/** How well what stays in hoses and traps is known, as a share of it. Common practice, no source. */
export const IN_LINES_STD = 0.1;

/** The record of the infusion; nothing where none of it is stated. Everything on the scale together. */
export function resinFromWords(reader: FieldReader): Pick<StatementOf<'weighing'>, 'resin'> {
  if (!RESIN_FIELDS.some((field) => reader.has(field))) return {};
  reader.need('resin mixed');
  const [mixed, left, inLines] = RESIN_FIELDS.map((field) => reader.mass(field));
  if (mixed === undefined) return {};
  const [leftKg, inLinesKg] = [left?.si ?? 0, inLines?.si ?? 0];
  if (leftKg + inLinesKg >= mixed.si)
    reader.problem('resin mixed', {
      code: 'resin-not-in-part',
      mixed: mixed.typed,
      behind: [left, inLines].flatMap((one) => one?.typed ?? []).join(' and ') || 'nothing',
    });
  const digits = [mixed, left, inLines].map((one) => resolutionStdKg(one?.lastDigitSi ?? 0));
  const stdKg = Math.hypot(...digits, IN_LINES_STD * inLinesKg);
  return { resin: { mixedKg: mixed.si, leftKg, inLinesKg, stdKg } };
}
