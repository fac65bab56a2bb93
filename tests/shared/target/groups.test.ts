/** The groups of an aircraft: listed in its targets, with a target or without, and in use by its parts. */
import { describe, expect, it } from 'vitest';
import { breakdownReport } from '#shared/rollup/report.ts';
import { groupTarget } from '#shared/target/from-words.ts';
import { groupsOf, STARTER_GROUPS } from '#shared/target/groups.ts';
import { Chain, estimateOf, partOf, targetsOf } from '../ledger/make-entries.ts';
import { readerOf } from '../words/words.ts';

describe('groups', () => {
  it('[R4] those of the targets come first, in their order, then those that parts have beside them', () => {
    const chain = new Chain();
    chain.record({ ...targetsOf(9), groups: [{ group: 'wing', massKg: 4 }, { group: 'tail' }] });
    chain.record(partOf(1, { group: 'wiring' }));
    chain.record(partOf(2, { group: 'wing' }));
    chain.record(partOf(3, { group: 'body' }));
    expect(groupsOf(chain.fold())).toEqual(['wing', 'tail', 'body', 'wiring']);
  });

  it('[R4] a group that is only listed has no target, and so none that could be exceeded', () => {
    const chain = new Chain();
    chain.record({ ...targetsOf(9), groups: [{ group: 'wing' }] });
    chain.record(partOf(1, { group: 'wing' }));
    chain.record(estimateOf(1));
    const [row] = breakdownReport(chain.fold(), 'group');
    expect(row).toMatchObject({ name: 'wing' });
    expect(row?.targetKg).toBeUndefined();
  });

  it('[R4] nothing, or none, lists a group; a mass gives it a target; anything else is told', () => {
    const read = (text: string) => groupTarget(readerOf({}), 'groups', 'wing', text);
    expect(read('')).toEqual({ ok: true, value: { group: 'wing' } });
    expect(read(' None ')).toEqual({ ok: true, value: { group: 'wing' } });
    expect(read('4 kg')).toEqual({ ok: true, value: { group: 'wing', massKg: 4, typed: '4 kg' } });
    expect(read('much')).toMatchObject({ ok: false, refusal: { code: 'not-a-number' } });
  });

  it('[R4] both sets to start from name each group once, in words an entry takes', () => {
    for (const groups of Object.values(STARTER_GROUPS)) {
      expect(new Set(groups).size).toBe(groups.length);
      expect(groups.every((group) => group.length <= 60 && group.trim() === group)).toBe(true);
    }
  });
});
