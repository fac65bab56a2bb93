/** A scanner's keystrokes told from those of a hand and of a scale (rule H2). */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { labelCode } from '#shared/label/code.ts';
import { codeIn, type Stroke } from '#shared/label/keystrokes.ts';
import type { AircraftId, PartId } from '#shared/ledger/entry.ts';

const LABEL = labelCode({
  aircraftId: '3f2a9c01-1111-4222-8333-444455556666' as AircraftId,
  partId: '550e8400-e29b-41d4-a716-446655440000' as PartId,
  piece: 2,
});
const isNumber = (text: string) => ['W-2200', '123456'].includes(text);

function strokesOf(text: string, everyMs: number, fromMs = 0): readonly Stroke[] {
  return [...text].map((key, at) => ({ key, atMs: fromMs + (at + 1) * everyMs }));
}

const PAUSE_MS = 200;

/** Typed one after another with a pause between, each at its pace, then Enter at the pace of the last. */
function codeOf(...typed: readonly (readonly [text: string, everyMs: number])[]) {
  let strokes: readonly Stroke[] = [];
  for (const [text, everyMs] of typed)
    strokes = [...strokes, ...strokesOf(text, everyMs, (strokes.at(-1)?.atMs ?? 0) + PAUSE_MS)];
  return codeIn(strokes, (strokes.at(-1)?.atMs ?? 0) + (typed.at(-1)?.[1] ?? 0), isNumber);
}

it('[H2] a label is found at the pace of any scanner, behind whatever was typed before it', () => {
  for (const everyMs of [1, 8, 40, 120, 400]) {
    expect(codeOf([LABEL, everyMs]), `${everyMs} ms`).toEqual({ text: LABEL, from: 0 });
    expect(codeOf(['4.05', 180], [LABEL.toLowerCase(), everyMs])).toEqual({ text: LABEL.toLowerCase(), from: 4 });
  }
  expect(codeOf([LABEL, 600])).toBeUndefined();
  // One that was read badly is told to be none, and typed nowhere.
  expect(codeOf([LABEL.slice(0, -4), 5])?.text).toBe(LABEL.slice(0, -4));
  const address = 'https://10.0.0.7:8420/aircraft/3f2a9c01-1111-4222-8333-444455556666/weigh?part=W-2200';
  expect(codeOf(['7', 300], [address, 10])).toEqual({ text: address, from: 1 });
});

it('[H2] a number is never a code, however fast, nor is the line of a scale', () => {
  const number = fc
    .stringMatching(/^[0-9]{1,9}([.,][0-9]{0,6})?$/)
    .filter((text) => text.replace(/\D/g, '').length <= 9);
  fc.assert(
    fc.property(number, fc.integer({ min: 0, max: 400 }), (text, everyMs) => {
      expect(codeOf([text, everyMs])).toBeUndefined();
    }),
  );
  for (const line of [
    'ST,GS,+  12.345kg',
    'N     12.34 g',
    '+0012.34 g',
    '   4.020 kg',
    '12.345kg',
    'ST,OL,------',
    '123456',
  ])
    expect(codeOf([line, 5]), line).toBeUndefined();
});

it('[H2] what a hand types is no code, and a scanner’s other codes are', () => {
  for (const text of ['W-2200', '4006381333931', 'hello there', 'PN-4021/B-0001'])
    expect(codeOf([text, 90]), text).toBeUndefined();
  for (const text of ['W-2200', '4006381333931', 'PN-4021/B-0001', 'https://example.invalid/x'])
    expect(codeOf(['5', 300], [text, 12]), text).toEqual({ text, from: 1 });
  // A pause between, as of a hand.
  expect(codeOf(['4006381', 12], ['333931', 12])).toBeUndefined();
  expect(codeOf(['OK', 5])).toBeUndefined();
});
