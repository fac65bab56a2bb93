/** What the code on a label says, and what a code that was read stands for (rules H1, H2). */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { beginsAsLabel, findByCode, labelCode, readCode } from '#shared/label/code.ts';
import type { AircraftId, PartId } from '#shared/ledger/entry.ts';

const AIRCRAFT = '3f2a9c01-1111-4222-8333-444455556666' as AircraftId;
const OTHER = '9b000000-1111-4222-8333-444455556666' as AircraftId;
const PARTS = [
  { partId: '550e8400-e29b-41d4-a716-446655440000' as PartId, number: 'W-22 / b', quantity: 1 },
  { partId: '550e8400-e29b-41d4-a716-446655440001' as PartId, number: '4021', quantity: 4 },
];
const [SKIN, RIB] = PARTS as [(typeof PARTS)[number], (typeof PARTS)[number]];
const here = { aircraftId: AIRCRAFT, parts: PARTS, aircraftIds: [AIRCRAFT, OTHER] };

it('[H1] the code names aircraft, part and piece in what every keyboard types alike, and no address', () => {
  const code = labelCode({ aircraftId: AIRCRAFT, partId: RIB.partId, piece: 3 });
  expect(code).toBe('TAREBOOK.3F2A9C01.550E8400E29B41D4A716446655440001.3');
  expect(labelCode({ aircraftId: AIRCRAFT, partId: SKIN.partId })).toBe(
    'TAREBOOK.3F2A9C01.550E8400E29B41D4A716446655440000',
  );
});

it('[H2] every label is found again, also where the keyboard has its capitals locked', () => {
  const ofPart = fc.tuple(fc.constantFrom(SKIN, RIB), fc.option(fc.integer({ min: 1, max: 4 })), fc.boolean());
  fc.assert(
    fc.property(ofPart, ([part, piece, isSmall]) => {
      const asked = piece === null || piece > part.quantity ? undefined : piece;
      const code = labelCode({ aircraftId: AIRCRAFT, partId: part.partId, piece: asked });
      const found = findByCode(isSmall ? code.toLowerCase() : ` ${code}\r`, here);
      expect(found).toEqual({ is: 'part', part, piece: asked });
      expect(beginsAsLabel(code)).toBe(true);
    }),
  );
});

it('[H2] the address of a part on Weigh is found whatever the server, and a bare number as well', () => {
  const address = `https://10.1.2.3:8420/aircraft/${AIRCRAFT}/weigh?part=w-22+%2F%20B`;
  expect(findByCode(address, here)).toEqual({ is: 'part', part: SKIN, piece: undefined });
  expect(findByCode(`http://box/aircraft/${AIRCRAFT}/weigh?part=4021&piece=2`, here)).toEqual({
    is: 'part',
    part: RIB,
    piece: 2,
  });
  expect(findByCode(' 4021 ', here)).toEqual({ is: 'part', part: RIB, piece: undefined });
});

it('[H2] what is of another aircraft, gone, a piece too many, or no label is told apart', () => {
  const elsewhere = labelCode({ aircraftId: OTHER, partId: SKIN.partId });
  expect(findByCode(elsewhere, here)).toEqual({ is: 'of another aircraft', aircraftId: OTHER });
  // One that the reader may not see is not told from one that there is not (rule N5).
  expect(findByCode(elsewhere, { ...here, aircraftIds: [AIRCRAFT] })).toEqual({
    is: 'of another aircraft',
    aircraftId: undefined,
  });
  const gone = labelCode({ aircraftId: AIRCRAFT, partId: '550e8400-e29b-41d4-a716-44665544ffff' as PartId });
  expect(findByCode(gone, here)).toEqual({ is: 'gone' });
  expect(findByCode(labelCode({ aircraftId: AIRCRAFT, partId: RIB.partId, piece: 5 }), here)).toEqual({
    is: 'no such piece',
    part: RIB,
    piece: 5,
  });
  for (const text of [
    '',
    '4006381333931',
    'https://example.invalid/?part=4021',
    `https://10.1.2.3/aircraft/${AIRCRAFT}/weigh?parts=4021`,
    `https://10.1.2.3/aircraft/${AIRCRAFT}/ledger?part=4021`,
    'TAREBOOK.3F2A9C01.550E8400E29B41D4A71644665544000',
    'TAREBOOK.3F2A9C01.550E8400E29B41D4A716446655440001.0',
    'TAREBOOK.3F2A9C01.550E8400E29B41D4A716446655440001.10001',
    'TAREBOOK.3F2A9C01.550E8400E29B41D4A716446655440001.1x',
  ])
    expect(findByCode(text, here), text).toEqual({ is: 'no label' });
  expect(readCode('TAREBOOK')).toBeUndefined();
});

it('[H2] no text breaks the reader', () => {
  fc.assert(
    fc.property(fc.oneof(fc.string({ unit: 'binary' }), fc.webUrl({ withQueryParameters: true })), (text) => {
      expect(['no label', 'part']).toContain(findByCode(text, here).is);
    }),
  );
  expect(readCode(`http://x/aircraft/${AIRCRAFT}/weigh?part=%E0%A4%A`)).toMatchObject({ number: '%E0%A4%A' });
});
