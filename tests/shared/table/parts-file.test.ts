/** Parts lists (rules I1-I6, E1). */
import { describe, expect, it } from 'vitest';
import { Entry } from '#shared/ledger/entry.ts';
import { foldEntries } from '#shared/ledger/fold.ts';
import { explain } from '#shared/problem/registry.ts';
import { headlineOf } from '#shared/rollup/headline.ts';
import { nearest } from '#shared/table/import.ts';
import { importParts } from '#shared/table/parts-file.ts';
import { Chain, partIdOf, partOf } from '../ledger/make-entries.ts';
import { contextOf, recorded, tableOf, told } from './tables.ts';

const LIST = [
  'number,group,qty,estimate [kg],x [mm],process',
  'W-1,wing,2,4.5,2100,prepreg',
  'F-1,tail,1,3,6400,prepreg',
];

function imported(lines: string[], context = contextOf()) {
  return importParts(tableOf(...lines), context);
}

describe('lists', () => {
  it('[I1] a row makes a part and its estimate', () => {
    const outcome = imported(LIST);
    expect(told(outcome)).toEqual([]);
    expect(outcome.entries.map(({ kind }) => kind)).toEqual(['part added', 'estimate', 'part added', 'estimate']);
    expect(headlineOf(foldEntries(recorded(outcome)))).toMatchObject({ basicKg: 12, pieceCount: 3 });
    for (const entry of outcome.entries) expect(Entry.safeParse(entry).success).toBe(true);
  });

  it('[L4] day, person and note of a row are its own, else those of the import', () => {
    const outcome = imported(['number,group,date,by,note', 'W-1,wing,2026-03-04,Bo,spare', 'W-2,wing,,,']);
    expect(outcome.entries).toMatchObject([
      { happenedOn: '2026-03-04', by: 'Bo', remark: 'spare' },
      { happenedOn: '2026-06-01', by: 'Ann' },
    ]);
  });

  it('[E1] a row without an estimate is a part without one', () => {
    expect(imported(['number,group', 'W-1,wing']).entries).toHaveLength(1);
  });

  it('[I2] every problem is told with its line and column, all at once', () => {
    const outcome = imported([
      'number,group,qty,estimate,x,later,date',
      'W-1,wing,0,4.5,2 m,,',
      ',wing,1,4 kg,2 m,5 kg,',
      'W-3,,1,NaN kg,2 furlong,,2026-02-30',
      'W-4,wing,1,4 kg,2 m,5 kg,2026-09-01',
      'W-5,wing,1,4 kg,2 m,,,,surplus',
    ]);
    expect(told(outcome)).toEqual([
      '2:3 not-a-count',
      '2:4 unit-missing',
      '3:1 missing',
      '3:6 later-above-estimate',
      '4:2 missing',
      '4:4 not-a-number',
      '4:5 unit-unknown',
      '4:7 not-a-day',
      '5:6 later-above-estimate',
      '5:7 day-in-future',
      '6:8 cells-too-many',
    ]);
    expect(outcome.problems.every(({ refusal }) => refusal.code !== undefined)).toBe(true);
  });

  it('[I2] estimates without a column are told once, with the column that looks like it', () => {
    const outcome = imported(['number,group,BL [mm],Goal wt [kg]', 'W-1,wing,5,4', 'W-2,wing,6,5', 'W-3,,7,5']);
    expect(told(outcome)).toEqual(['1:0 estimate-column-missing', '4:2 missing']);
    const [{ refusal } = { refusal: undefined }] = outcome.problems;
    expect(refusal && explain(refusal)).toEqual({
      words: 'No column is taken for the estimate, yet values are given under BL [mm].',
      remedy: 'Say which column it is. Not used, and it looks like it: Goal wt [kg].',
    });
    expect(told(imported(['number,group,estimate [kg],y [mm]', 'W-1,wing,,5']))).toEqual(['2:3 estimate-missing']);
  });

  it('[I2] a line of sums is told as that and once, and no part is taken for one', () => {
    const sums = imported([...LIST, ',,,10.5,,', 'TOTAL,,3,12,,', 'Sub-total,wing,,9,,']);
    expect(told(sums)).toEqual(['4:1 missing', '4:2 missing', '5:1 line-of-sums', '6:1 line-of-sums']);
    expect(told(imported(['number,group,name', 'T-1,wing,Total']))).toEqual([]);
  });

  it('[I1] a list tells its pieces and the estimates of all of them together', () => {
    expect(imported(LIST).listed).toEqual({ pieceCount: 3, massKg: 12 });
    const chain = contextOf(recorded(imported(LIST)));
    expect(imported(LIST, chain)).toMatchObject({ entries: [], listed: { pieceCount: 3, massKg: 12 } });
  });

  it('[I2] what the ledger objects to is told at its cell', () => {
    const outcome = imported(['date,number,group', '2026-07-01,W-1,wing']);
    expect(told(outcome)).toEqual(['2:1 day-in-future']);
    expect(outcome.entries).toEqual([]);
  });

  it('[I2] a column that is missing stops the reading, one that is not used is a warning', () => {
    expect(told(imported(['number,colour', 'W-1,red']))).toEqual(['1:0 column-missing']);
    expect(imported(['number,group,colour', 'W-1,wing,red']).warnings).toEqual([
      'The column headed colour is not used.',
    ]);
  });

  it('[I2] a number that stands twice is refused at its second row', () => {
    expect(told(imported(['number,group', 'W-1,wing', 'w-1,tail']))).toEqual(['3:1 number-twice']);
  });

  it('[I2] what else is wrong in the second row of a number is told with it', () => {
    const outcome = imported(['number,group,estimate,x', 'W-1,wing,4 kg,2 m', 'w-1,,5,2 furlong', 'W-2,wing,1 kg,1 m']);
    expect(told(outcome)).toEqual(['3:1 number-twice', '3:2 missing', '3:3 unit-missing', '3:4 unit-unknown']);
  });

  it('[I2] a part that says otherwise than the ledger is told beside what is wrong in its cells', () => {
    const chain = new Chain();
    chain.record(partOf(1));
    const outcome = imported(
      ['number,group,estimate,date', 'P-1,tail,5,', 'P-1b,tail,5,2029-01-01'],
      contextOf(chain.entries),
    );
    expect(told(outcome)).toEqual(['2:1 number-taken', '2:3 unit-missing', '3:3 unit-missing', '3:4 day-in-future']);
    expect(outcome.entries).toEqual([]);
  });

  it('[L4] a text that is too long to keep beside its value is refused and never recorded', () => {
    const outcome = imported(['number,group,estimate', `W-1,wing,${'0'.repeat(90)}1 kg`]);
    expect(outcome.problems.map(({ refusal }) => refusal.code)).toEqual(['number-too-long']);
  });
});

describe('assemblies', () => {
  it('[I6] assemblies may be named in any order', () => {
    const outcome = imported(['number,group,assembly', 'RIB,wing,BOX', 'BOX,wing,WING', 'WING,wing,']);
    expect(told(outcome)).toEqual([]);
    const [wing, box, rib] = outcome.entries;
    expect([wing, box, rib]).toMatchObject([{ number: 'WING' }, { number: 'BOX' }, { number: 'RIB' }]);
    expect(box).toMatchObject({ parentPartId: (wing as { partId: string }).partId });
    expect(rib).toMatchObject({ parentPartId: (box as { partId: string }).partId });
  });

  it('[I6] an assembly that would contain itself is refused, and the way round is named', () => {
    const outcome = imported(['number,group,assembly', 'A,wing,B', 'B,wing,C', 'C,wing,A', 'D,wing,D']);
    expect(outcome.problems.map(({ line, refusal }) => [line, 'path' in refusal && refusal.path])).toEqual([
      [2, ['A', 'B', 'C', 'A']],
      [5, ['D', 'D']],
    ]);
  });

  it('[I2] the rest of a row that leads back to itself is read on', () => {
    const outcome = imported(['number,group,assembly,estimate', 'A,wing,B,4', 'B,wing,A,x kg', 'C,wing,A,5']);
    expect(told(outcome)).toEqual(['2:3 assembly-cycle', '2:4 unit-missing', '3:4 not-a-number', '4:4 unit-missing']);
  });

  it('[I6] an assembly that is nowhere is refused, with the number that was probably meant', () => {
    const outcome = imported(['number,group,assembly', 'WING,wing,', 'RIB,wing,WINGG', 'FIN,tail,ENGINE']);
    expect(outcome.problems.map(({ refusal }) => refusal)).toEqual([
      { code: 'unknown-assembly', assembly: 'WINGG', near: 'WING' },
      { code: 'unknown-assembly', assembly: 'ENGINE', near: undefined },
    ]);
    expect([nearest('wingg', []), nearest('wing', ['wing'])]).toEqual([undefined, 'wing']);
  });

  it('[R1] an estimate of an assembly that has parts is warned of', () => {
    const outcome = imported(['number,group,assembly,estimate [kg]', 'WING,wing,,40', 'RIB,wing,WING,1']);
    expect(outcome.warnings).toHaveLength(1);
    expect(imported(['number,group,assembly,estimate [kg]', 'WING,wing,,', 'RIB,wing,WING,1']).warnings).toEqual([]);
  });
});

describe('again', () => {
  const first = recorded(imported(LIST));

  it('[I4] a list that is imported again adds nothing', () => {
    const outcome = imported(LIST, contextOf(first));
    expect(outcome).toMatchObject({ entries: [], problems: [], knownRows: 2, rowCount: 2 });
  });

  it('[I4] a list that has grown adds its new rows', () => {
    const outcome = imported([...LIST, 'F-2,tail,1,2,6100,printed'], contextOf(first));
    expect(outcome.knownRows).toBe(2);
    expect(outcome.entries).toMatchObject([{ number: 'F-2' }, { massKg: 2 }]);
  });

  it('[I4] the same figures in other units and columns are the same list', () => {
    const outcome = imported(['no.,group,station [m],estimate [g]', 'w-1,wing,2.1,4500'], contextOf(first));
    expect(outcome).toMatchObject({ entries: [], problems: [], knownRows: 1 });
  });

  it('[I4] another group, quantity or process of a known part is a contradiction', () => {
    const other = ['number,group,qty,process,name,side', 'W-1,tail,3,printed,Rib,left'];
    const [problem] = imported(other, contextOf(first)).problems;
    expect(problem).toMatchObject({ line: 2, column: 1, refusal: { code: 'number-taken' } });
    expect(problem?.refusal).toMatchObject({ differs: ['name', 'group', 'quantity', 'side', 'process'] });
  });

  it('[I4] a changed estimate needs to be asked for, and is then a revision', () => {
    const changed = [LIST[0] ?? '', 'W-1,wing,2,4.7,2100,prepreg'];
    expect(imported(changed, contextOf(first)).problems[0]?.refusal).toMatchObject({ differs: ['estimate'] });
    const outcome = imported(changed, contextOf(first, { revise: true }));
    expect(outcome.entries).toMatchObject([{ kind: 'estimate', massKg: 4.7 }]);
    expect(imported(changed, contextOf(recorded(outcome, first), { revise: true })).entries).toEqual([]);
  });

  it('[I4] a revision gets an id of its own even where an earlier one was struck out', () => {
    const revised = (kg: number, before: typeof first) =>
      imported([LIST[0] ?? '', `W-1,wing,2,${kg},2100,prepreg`], contextOf(before, { revise: true }));
    const second = recorded(revised(4.7, first), first);
    const chain = new Chain();
    chain.entries.push(...second);
    const last = second.at(-1);
    if (last === undefined) throw new Error('a revision');
    chain.correct(last, undefined);
    const [entry] = revised(4.9, chain.entries).entries;
    expect(chain.entries.map((one) => one.entry.id)).not.toContain(entry?.id);
  });

  it('[I4] a number that a removed part gave back names a new part', () => {
    const chain = new Chain();
    chain.entries.push(...first);
    const [part] = first;
    if (part?.entry.kind !== 'part added') throw new Error('a part first');
    chain.record({ kind: 'part removed', partId: part.entry.partId, reason: 'bought' });
    const outcome = imported(LIST.slice(0, 2), contextOf(chain.entries));
    expect(told(outcome)).toEqual([]);
    expect(outcome.entries[0]).toMatchObject({ number: 'W-1' });
    expect((outcome.entries[0] as { partId: string }).partId).not.toBe(part.entry.partId);
  });

  it('[I3] one wrong row keeps the outcome from being clean, whatever else is right in it', () => {
    const outcome = imported([...LIST, 'F-2,tail,x,2,6100,printed'], contextOf());
    expect(outcome.problems).toHaveLength(1);
    const parted = imported(['number,group,assembly', 'P-1,wing,'], contextOf([new Chain().record(partOf(1))]));
    expect(parted).toMatchObject({ knownRows: 1, problems: [] });
    expect(partIdOf(1)).toBeDefined();
  });

  it('[E2] the finish has a column, and is held to what goes on later in its cell', () => {
    const outcome = importParts(
      tableOf('number,group,estimate [kg],later [g],finish [g]', 'A,wing,4,500,200', 'B,wing,4,500,501'),
      contextOf(),
    );
    expect(told(outcome)).toEqual(['3:5 finish-above-later']);
    expect(outcome.entries).toContainEqual(expect.objectContaining({ kind: 'estimate', finishKg: 0.2 }));
  });
});

describe('a column of units', () => {
  const read = (...lines: string[]) => importParts(tableOf(...lines), contextOf());

  it('[I1] gives each row of bare masses its unit, and a unit in the cell goes before it', () => {
    const outcome = read('P/N,Area of A/C,Mass est.,Unit', 'A,wing,3.5,lb', 'B,wing,2 kg,lb', 'C,wing,400,g');
    expect(told(outcome)).toEqual([]);
    expect(outcome.warnings.filter((words) => words.includes('not used'))).toEqual([]);
    const masses = outcome.entries.flatMap((entry) => (entry.kind === 'estimate' ? [entry.massKg] : []));
    expect(masses).toEqual([1.587573295, 2, 0.4]);
  });

  it('[I5] a row whose unit is left out, or is none, is refused in its cell', () => {
    const outcome = read('number,group,estimate,unit', 'A,wing,3.5,', 'B,wing,2,stone');
    expect(told(outcome)).toEqual(['2:3 unit-missing', '3:3 unit-unknown']);
  });
});

it('[R4] a group that differs from a known one in case or spaces alone is that one, and the look says so', () => {
  const chain = new Chain();
  chain.record(partOf(1, { number: 'A', group: 'landing gear' }));
  const outcome = importParts(
    tableOf('number,group', 'B,Landing  Gear', 'C,Tail', 'D,tail', 'A, LANDING GEAR'),
    contextOf(chain.entries),
  );
  expect(told(outcome)).toEqual([]);
  expect(outcome.entries.map((entry) => (entry.kind === 'part added' ? entry.group : ''))).toEqual([
    'landing gear',
    'Tail',
    'Tail',
  ]);
  expect(outcome.knownRows).toBe(1);
  expect(outcome.warnings).toContain('The group “tail” is taken for “Tail”, which is there already.');
});

it('[R4] where two spellings of a group are in the ledger already, a part stays in its own', () => {
  const chain = new Chain();
  chain.record(partOf(1, { number: 'A', group: 'Wing' }));
  chain.record(partOf(2, { number: 'B', group: 'wing' }));
  const outcome = importParts(tableOf('number,group', 'A,Wing', 'B,wing'), contextOf(chain.entries));
  expect(told(outcome)).toEqual([]);
  expect(outcome).toMatchObject({ knownRows: 2, warnings: [] });
});
