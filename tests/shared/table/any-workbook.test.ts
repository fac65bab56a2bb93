/** Workbooks that are damaged, or larger than they look: read or refused with words, soon, and never more than there is room for (rule I8). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readWorkbook } from '#shared/table/workbook.ts';
import { makeWorkbook } from './make-workbook.ts';

const PLAIN = makeWorkbook({
  name: 'Parts',
  rows: [
    ['number', 'group'],
    ['P-1', 'wing'],
    ['P-2', 4.1],
  ],
  merged: ['A5:B5'],
});

async function saidOf(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  const read = await readWorkbook(bytes.buffer);
  if (read.ok) return 'read';
  return read.refusal.code === 'workbook-unreadable' ? read.refusal.why : read.refusal.code;
}
const withCell = (xml: string, merged: readonly string[] = []) =>
  makeWorkbook({ name: 'Parts', rows: [['number', { xml }]], merged });

describe('any workbook', () => {
  it('[I8] with bytes changed, cut off or put in, it is read or refused', async () => {
    const change = fc.record({ at: fc.nat(PLAIN.length - 1), to: fc.nat(255), cut: fc.boolean() });
    await fc.assert(
      fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 4 }), async (changes) => {
        let bytes = Uint8Array.from(PLAIN);
        for (const { at, to, cut } of changes) {
          if (cut && to < 64) bytes = bytes.slice(0, at);
          else bytes[at % Math.max(1, bytes.length)] = to;
        }
        expect((await saidOf(bytes)).length).toBeGreaterThan(0);
      }),
      { seed: 20_261_130, numRuns: 200 },
    );
  });

  it('[I8] with its texts changed, it is read or refused', async () => {
    const odd = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 30 }),
      fc.constantFrom('<c', '</v>', '&#0;', 'ZZZ9999999', '<f/>', 't="e"'),
    );
    await fc.assert(
      fc.asyncProperty(odd, odd, async (value, attribute) => {
        const said = await saidOf(withCell(`<c r="B1" ${attribute}><v>${value}</v></c>`));
        expect(said.length).toBeGreaterThan(0);
      }),
      { seed: 20_261_130, numRuns: 60 },
    );
  });

  it('[I8] a cell at the far end of the sheet does not take the room of all before it', async () => {
    expect(await saidOf(withCell('<c/><c r="XFD1048576"><v>1</v></c>'))).toBe(
      'its cells reach further than any list does',
    );
    expect(await saidOf(withCell('<c/><c r="A9999999" t="e"><v>#REF!</v></c>'))).toBe(
      'its cells reach further than any list does',
    );
    expect(await saidOf(withCell('<c/><c r="C19000"><v>1</v></c>'))).toBe('read');
  });

  it('[I8] a sheet that is merged as a whole is read as soon as another', async () => {
    const began = performance.now();
    expect(
      await saidOf(
        withCell(
          '<c r="B1"><v>1</v></c>',
          Array.from({ length: 20 }, () => 'A1:XFD1048576'),
        ),
      ),
    ).toBe('read');
    expect(performance.now() - began).toBeLessThan(20_000);
  });

  it('[I8] what becomes larger than 200 MB is refused before it is unpacked', async () => {
    const packed = Uint8Array.from(PLAIN);
    // The list at its end says of each file how large it is when unpacked.
    const listed = Buffer.from(packed.buffer).indexOf(Buffer.from([0x50, 0x4b, 1, 2]));
    new DataView(packed.buffer).setUint32(listed + 24, 201 * 1_048_576, true);
    expect(await saidOf(packed)).toBe('it would become larger than 200 MB when unpacked');
  });
});
