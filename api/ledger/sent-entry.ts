/**
 * What an entry looks like when it is sent: names with words. The door takes any object; which fields a kind has, and what
 * their words mean, is for the shared readers, so that every problem of an entry comes at once and in one manner.
 */
import { z } from '@hono/zod-openapi';
import { ESTIMATE_FIELDS } from '#shared/estimate/from-words.ts';
import { PART_FIELDS } from '#shared/part/from-words.ts';
import { TARGET_FIELDS } from '#shared/target/from-words.ts';
import { WEIGHING_FIELDS } from '#shared/weighing/from-words.ts';
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
    `part added: ${PART_FIELDS.join(', ')}.`,
    'part removed: part, reason.',
    `estimate: part, ${ESTIMATE_FIELDS.join(', ')}.`,
    `weighing: part, ${WEIGHING_FIELDS.join(', ')}.`,
    'arm measured: part, x, y, z, arm uncertainty.',
    'piece withdrawn: part, piece, reason. piece installed: part, piece.',
    'note: part, text. aircraft: name, datum, levelling, mac, lemac, mass unit, length unit.',
    `targets: ${TARGET_FIELDS.join(', ')}, groups (names with a mass each). datum moved: shift, datum, reason.`,
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
  description: `A weighing in words, without an id: part, ${WEIGHING_FIELDS.join(', ')}, happenedOn. ${quantity}`,
  example: { part: 'W-104', piece: '2', gross: '4.12 kg', tare: '0.30 kg', condition: 'as released' },
});
