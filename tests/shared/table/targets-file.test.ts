/** Target baselines from a file (rules I1, I2, I4, R2). */
import { describe, expect, it } from 'vitest';
import { importTargets } from '#shared/table/targets-file.ts';
import { aircraftOf, Chain } from '../ledger/make-entries.ts';
import { contextOf, recorded, tableOf, told } from './tables.ts';

const LIST = ['target,value', 'Empty mass,372 kg', 'reserve,4 kg', 'cg forward,20 % MAC', 'group wing,84 kg'];

function before() {
  const chain = new Chain();
  chain.record(aircraftOf({ macM: 1.25, lemacM: 2 }));
  return chain.entries;
}

function imported(lines: string[], entries = before()) {
  return importTargets(tableOf(...lines), contextOf(entries));
}

describe('targets', () => {
  it('[I1] a file of two columns makes one entry', () => {
    const outcome = imported(LIST);
    expect(told(outcome)).toEqual([]);
    expect(outcome.entries).toMatchObject([
      { kind: 'targets', emptyMassKg: 372, reserveKg: 4, cgForwardM: 2.25, groups: [{ group: 'wing', massKg: 84 }] },
    ]);
  });

  it('[I2] every problem is told at its line', () => {
    const lines = ['target,value', 'empty mass,372', 'wings,84 kg', 'group tail,x', 'reserve,1 kg', 'Reserve,2 kg'];
    expect(told(imported(lines)).sort()).toEqual([
      '2:2 unit-missing',
      '3:1 not-a-choice',
      '4:2 not-a-number',
      '6:1 row-twice',
    ]);
    expect(told(imported(['target,value', 'reserve,1 kg']))).toEqual(['1:2 missing']);
    expect(told(imported(['target,worth', 'empty mass,1 kg']))).toEqual(['1:0 column-missing']);
  });

  it('[I4] the same baseline again adds nothing, another one is a revision and needs a reason', () => {
    const entries = recorded(imported(LIST), before());
    expect(imported(LIST, entries)).toMatchObject({ entries: [], problems: [], knownRows: 4 });
    const heavier = LIST.map((line) => line.replace('372', '380'));
    expect(told(imported(heavier, entries))).toEqual(['1:2 reason-missing']);
    expect(imported([...heavier, 'reason,customer'], entries).entries).toMatchObject([{ emptyMassKg: 380 }]);
  });
});
