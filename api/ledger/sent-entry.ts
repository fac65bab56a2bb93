/**
 * What an entry looks like when it is sent: names with words. The door takes any object; which fields a kind has, and what
 * their words mean, is for the shared readers, so that every problem of an entry comes at once and in one manner.
 */
import { z } from '@hono/zod-openapi';
import { FIELDS } from '#shared/words/fields.ts';
import { beyondBounds, isNamed, NAMED_WORDS, type Sent } from './sent-bounds.ts';

const quantity = 'Numbers carry their unit: `gross: "12.5 lb"`.';

/** Names with words; `sent-bounds.ts` says what is too much of them. */
const sentWords = z
  .custom<Sent>(isNamed, NAMED_WORDS)
  .superRefine((sent, context) => {
    // Also asked where it is no object: a schema goes on to its next check.
    for (const issue of isNamed(sent) ? beyondBounds(sent) : []) context.addIssue({ ...issue, input: sent });
  })
  .openapi({ type: 'object', additionalProperties: true });

export const SentEntry = sentWords.openapi({
  description: [
    `One entry in words. Every kind: kind, id (a UUID that the sender makes), happenedOn, remark. ${quantity}`,
    ...Object.entries(FIELDS).map(([kind, fields]) => `${kind}: ${fields.join(', ')}.`),
    'Where a field takes several parts they are set apart by semicolons: `not yet in: "RIB-3; TIP-1 piece 2"`.',
    'correction: entry (a number in the ledger), reason, replacement (the fields as they should be, or null).',
  ].join(' '),
  example: {
    kind: 'weighing',
    id: '0b7f0c4e-6f0a-4a44-9d0c-7d3b1f5a2c11',
    part: 'W-104',
    piece: '2',
    gross: '4.12 kg',
    tare: '0.30 kg',
    condition: 'as released',
  },
});

export const SentWeighing = sentWords.openapi({
  description: `A weighing in words, without an id: ${FIELDS.weighing.join(', ')}, happenedOn. With kind "assembly weighing": ${FIELDS['assembly weighing'].join(', ')}. With kind "correction": entry, replacement; no reason. ${quantity}`,
  example: { part: 'W-104', piece: '2', gross: '4.12 kg', tare: '0.30 kg', condition: 'as released' },
});
