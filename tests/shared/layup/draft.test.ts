/** A schedule while it is typed: what can be read counts, what cannot is told at its field, and lines move. */
import { describe, expect, it } from 'vitest';
import {
  type DraftWords,
  draftOf,
  emptyDraft,
  nextPlace,
  placeOf,
  type ScheduleDraft,
  sentOf,
  withDraftLineMoved,
} from '#shared/layup/draft.ts';
import { layUpFromWords } from '#shared/layup/from-words.ts';
import { materialKey } from '#shared/layup/material.ts';
import { readDraft, WHOLE } from '#shared/layup/read-draft.ts';
import { STARTER_MATERIALS } from '#shared/layup/starter-materials.ts';

const CONTEXT = {
  materials: new Map(STARTER_MATERIALS.map((one) => [materialKey(one.name), one])),
  process: 'resin-infused',
} as const;
const TOP = { by: 'mass', resin: 'Epoxy, infusion', fraction: '60' };
const PLY = { is: 'ply', material: 'Carbon twill 200 g/m²', layers: '2' };
const CORE = { is: 'core', material: 'PVC foam 60 kg/m³ 10 mm' };

function draft(
  words: DraftWords,
  ...regions: readonly (readonly [DraftWords, ...(readonly DraftWords[])])[]
): ScheduleDraft {
  return {
    words,
    copied: [],
    regions: regions.map(([region, ...lines], at) => ({
      key: `r${at}`,
      words: region,
      lines: lines.map((line, lineAt) => ({ key: `r${at}l${lineAt}`, words: line })),
    })),
  };
}

const read = (schedule: ScheduleDraft) => readDraft(schedule, CONTEXT, 'm');
const told = (schedule: ScheduleDraft) =>
  read(schedule).problems.map(({ key, field, code }) => `${key} ${field}: ${code}`);

describe('a schedule while it is typed', () => {
  it('[E3] bare numbers take the unit of their field, and a cover is a share or an area of its own', () => {
    const sent = sentOf(
      draft(TOP, [
        { name: 'Skin', area: '1.2' },
        { ...PLY, covers: '50' },
        { ...PLY, covers: '0.04 m²' },
      ]),
      'm',
    );
    expect(sent).toMatchObject({
      'fibre by mass': '60 %',
      regions: [{ area: '1.2 m²', lines: [{ coverage: '50 %' }, { area: '0.04 m²' }] }],
    });
  });

  it('[E3] a line that is not complete is told at its field and leaves the others their masses', () => {
    const typing = draft(TOP, [{ name: 'Skin', area: '1' }, PLY, { is: 'ply', material: '', layers: 'many' }]);
    const { computed, layUp, lineOf, linesLeftOut } = read(typing);
    expect(layUp).toBeUndefined();
    // 2 layers of 0.2 kg/m² on 1 m², 60 % of the mass.
    expect(computed?.massKg).toBeCloseTo(0.4 / 0.6, 12);
    expect(lineOf.get('r0l0')?.massKg).toBeCloseTo(0.4 / 0.6, 12);
    expect(lineOf.has('r0l1')).toBe(false);
    expect(linesLeftOut).toBe(1);
    expect(told(typing)).toEqual(['r0l1 material: missing', 'r0l1 layers: not-a-number']);
  });

  it('[E3] what makes no sense together is told beside what cannot be read', () => {
    const typing = draft(
      { ...TOP, fraction: '100' },
      [{ name: 'Skin', area: '1' }, PLY, { ...CORE, bevel: '45', outline: 'rectangle' }],
      [{ name: 'Rim', area: '0' }, PLY],
    );
    expect(told(typing)).toEqual([
      'r1 area: out-of-range',
      `${WHOLE} fraction: fraction-impossible`,
      'r0l1 perimeter: perimeter-missing',
    ]);
    expect(read(typing).linesLeftOut).toBe(3);
  });

  it('[E3] plies without a resin count for nothing, and the resin is asked for once', () => {
    const typing = draft({ by: 'mass' }, [{ name: 'Skin', area: '2' }, PLY, CORE]);
    expect(told(typing)).toEqual([`${WHOLE} resin: resin-missing`]);
    expect(read(typing).computed?.lines.map(({ is }) => is)).toEqual(['core']);
  });

  it('[E3] a schedule that is taken up again says the same', () => {
    const words = sentOf(
      draft(
        { by: 'volume', resin: 'Epoxy, infusion', fraction: '52' },
        [
          { name: 'Skin', area: '1.2 m²', perimeter: '4.4' },
          PLY,
          { ...CORE, bevel: '45', outline: 'rectangle', faces: '2' },
        ],
        [
          { name: 'Tab', area: '30 cm²' },
          { is: 'insert', material: 'Threaded insert M5', count: '4' },
        ],
      ),
      'm',
    );
    const first = layUpFromWords(words, CONTEXT);
    if (!first.ok) throw new Error('the schedule is whole');
    let count = 0;
    const again = draftOf(first.value, () => {
      count += 1;
      return `k${count}`;
    });
    expect(readDraft(again, { ...CONTEXT, materials: new Map() }, 'mm').layUp).toEqual({
      ...first.value,
      // What nobody typed is stated now.
      typed: expect.anything(),
      regions: first.value.regions.map((region) => ({
        ...region,
        typed: expect.anything(),
        lines: region.lines.map((line) => ({ ...line, typed: expect.anything() })),
      })),
      materials: first.value.materials.map((one) => ({ ...one, typed: expect.anything() })),
    });
  });

  it('[E3] a line moves by one, over the end of its region into the next, and no further', () => {
    const typing = draft(TOP, [{ name: 'A' }, PLY, CORE], [{ name: 'B' }, PLY]);
    const down = nextPlace(typing, { region: 0, line: 1 }, 1);
    expect(down).toEqual({ region: 1, line: 0 });
    const moved = withDraftLineMoved(typing, 'r0l1', { region: 1, line: 0 });
    expect(moved.regions.map(({ lines }) => lines.map(({ key }) => key))).toEqual([['r0l0'], ['r0l1', 'r1l0']]);
    expect(placeOf(moved, 'r0l1')).toEqual({ region: 1, line: 0 });
    expect(nextPlace(moved, { region: 0, line: 0 }, -1)).toBeUndefined();
    expect(nextPlace(moved, { region: 1, line: 0 }, -1)).toEqual({ region: 0, line: 1 });
    expect(withDraftLineMoved(typing, 'nowhere', { region: 0, line: 0 })).toBe(typing);
  });

  it('[E3] nothing but a name is in a schedule that begins', () => {
    const begun = emptyDraft(() => 'k', 'Fin skin');
    expect(begun.regions).toEqual([{ key: 'k', words: { name: 'Fin skin' }, lines: [] }]);
    expect(read(begun).computed).toBeUndefined();
  });
});
