/**
 * Random chains of valid entries for property tests. fast-check draws a list of plain numbers a step; `chainFrom` turns each step into
 * an entry that the ledger as it then stands must take, and passes over a step for which there is none.
 */

import fc from 'fast-check';
import { manySmall } from '#shared/drift/larger-drift.ts';
import { releasesByProcess } from '#shared/drift/process-records.ts';
import { Condition, type RecordedEntry, type Statement, type StatementOf } from '#shared/ledger/entry.ts';
import { aircraftWeighingOf, ON_WHEELS, runOf } from '../aircraft-weighing/make-weighings.ts';
import {
  aircraftOf,
  allowancesOf,
  armOf,
  assemblyOf,
  Chain,
  checkOf,
  datumOf,
  dispositionOf,
  estimateOf,
  installedOf,
  loadingOf,
  materialOf,
  noteOf,
  ON,
  partIdOf,
  partOf,
  processCauseOf,
  removedOf,
  scaleOf,
  sumCauseOf,
  targetsOf,
  weighingOf,
  withdrawnOf,
} from './make-entries.ts';

/** What one step is made of; every number is used for whatever the step's kind needs. */
export type Step = {
  kind: number;
  which: number;
  day: number;
  massG: number;
  otherG: number;
  stationMm: number;
  per: number;
  pieces: number;
};

const step: fc.Arbitrary<Step> = fc.record({
  kind: fc.nat(99),
  which: fc.nat(1000),
  day: fc.integer({ min: 1, max: 28 }),
  massG: fc.integer({ min: 300, max: 60_000 }),
  otherG: fc.integer({ min: 0, max: 200 }),
  stationMm: fc.integer({ min: -2_000, max: 9_000 }),
  per: fc.nat(60),
  pieces: fc.nat(31),
});

/** Steps, and whether they are taken on a tree of assemblies that is there from the first day, so that most are about assemblies. */
export type Drawn = { readonly steps: readonly Step[]; readonly isTree: boolean };

export function randomSteps(maxLength = 40): fc.Arbitrary<Drawn> {
  return fc.record({ steps: fc.array(step, { minLength: 1, maxLength, size: 'max' }), isTree: fc.boolean() });
}

/** One entry first made, as it stands now. */
type Root = { first: RecordedEntry; latest: RecordedEntry; on: string; standing: Statement | undefined };

/** An assembly in an assembly in an assembly, with a part beside and below each, and one part of two pieces. */
const TREE: readonly (readonly [number: number, parent: number | undefined, quantity: number])[] = [
  [901, undefined, 1],
  [902, 901, 1],
  [903, 902, 1],
  [904, 903, 2],
  [905, 902, 1],
  [906, undefined, 1],
];

export function chainFrom({ steps, isTree }: Drawn): Chain {
  const chain = new Chain();
  const roots: Root[] = [];
  for (const [number, parent, quantity] of isTree ? TREE : []) {
    const parentPartId = parent === undefined ? {} : { parentPartId: partIdOf(parent) };
    const group = ['wing', 'tail', 'body'][number % 3] ?? 'body';
    const standing = partOf(number, { quantity, group, ...parentPartId });
    const first = chain.record(standing);
    roots.push({ first, latest: first, on: ON, standing });
  }
  for (const drawn of steps) {
    const isCorrection = drawn.kind >= 72;
    if (isCorrection) correctOne(chain, roots, drawn);
    else {
      const statement = newStatement(chain, roots, drawn);
      if (statement === undefined) continue;
      const first = chain.record(statement, { on: dayOf(drawn) });
      roots.push({ first, latest: first, on: dayOf(drawn), standing: statement });
    }
  }
  return chain;
}

function dayOf({ day }: Step): string {
  return `2026-05-${String(day).padStart(2, '0')}`;
}

type Kind = Statement['kind'];
const NEW_KINDS: readonly (readonly [upTo: number, kind: Kind])[] = [
  [10, 'part added'],
  [26, 'estimate'],
  [46, 'weighing'],
  [52, 'arm measured'],
  [56, 'piece withdrawn'],
  [60, 'piece installed'],
  [63, 'datum moved'],
  [66, 'targets'],
  [68, 'part removed'],
  [69, 'note'],
  [70, 'scale'],
  [71, 'check weight'],
  [72, 'aircraft'],
  [73, 'allowances'],
  [74, 'material'],
  [75, 'process cause'],
  [76, 'loading'],
  [77, 'aircraft weighing'],
];

function newStatement(chain: Chain, roots: readonly Root[], drawn: Step): Statement | undefined {
  const kind = NEW_KINDS.find(([upTo]) => drawn.kind < upTo)?.[1] ?? 'note';
  if (kind === 'part added') return statementOf(kind, roots.length, roots, drawn);
  const present = presentParts(roots);
  const part = pick(present, drawn.which);
  if (part === undefined && needsPart(kind)) return undefined;
  if (kind === 'weighing' && part !== undefined && below(present, part).length > 0)
    return part.quantity === 1 ? statementOf('assembly weighing', numberOf(part), roots, drawn) : undefined;
  if (kind === 'piece withdrawn' && drawn.per % 2 === 0) {
    // A piece is decided on where it had been weighed by that day.
    const weighed = chain.fold().books.byPart.get(partIdOf(numberOf(part)))?.state;
    const weighing = weighed?.weighings.find(({ standing }) => standing.happenedOn <= dayOf(drawn));
    if (weighing === undefined) return undefined;
    const decision = drawn.per % 4 === 0 ? 'scrapped' : 'to be reworked';
    return dispositionOf(numberOf(part), decision, { pieces: [...weighing.pieces] });
  }
  if (kind === 'process cause') {
    const [sum] = drawn.per % 2 === 0 ? manySmall(chain.fold()) : [];
    if (sum !== undefined) return sumCauseOf({ by: sum.by, name: sum.name, sumKg: sum.sumKg, sdKg: sum.sdKg });
    const [release] = [...releasesByProcess(chain.fold()).values()][0] ?? [];
    return release === undefined ? undefined : processCauseOf(release.process, release.seq);
  }
  return statementOf(kind, numberOf(part), roots, drawn, part?.quantity);
}

const OF_THE_AIRCRAFT: readonly Kind[] = [
  ...(['datum moved', 'targets', 'allowances', 'note', 'aircraft', 'loading'] as const),
  ...(['scale', 'check weight', 'material', 'part added', 'process cause', 'aircraft weighing'] as const),
];

function needsPart(kind: Kind): boolean {
  return !OF_THE_AIRCRAFT.includes(kind);
}

/** Corrects a random entry: strikes it out, says it anew, or restates what was struck out. */
function correctOne(chain: Chain, roots: readonly Root[], drawn: Step): void {
  const root = pick(roots, drawn.which);
  if (root === undefined) return;
  const { kind } = root.first.entry as Statement;
  if (drawn.per % 3 === 0) {
    if (root.standing === undefined || (kind === 'part added' && isSpokenOf(roots, root))) return;
    root.latest = chain.correct(root.latest, undefined, { on: dayOf(drawn) });
    root.standing = undefined;
    return;
  }
  if (kind === 'disposition' || kind === 'process cause') return;
  const others = roots.filter((other) => other !== root);
  const before = root.first.entry as Statement;
  const partId = 'partId' in before ? before.partId : undefined;
  const present = presentParts(others);
  const isOfOther = drawn.per % 6 === 5;
  const ofPart = isOfOther ? pick(present, drawn.day) : present.find((one) => one.partId === partId);
  const part = kind === 'part added' ? undefined : ofPart;
  if (part === undefined && needsPart(kind)) return;
  if (part !== undefined && (kind === 'weighing' || kind === 'assembly weighing')) {
    if (below(present, part).length > 0 !== (kind === 'assembly weighing')) return;
    if (kind === 'assembly weighing' && part.quantity > 1) return;
  }
  const number =
    kind === 'part added' && partId !== undefined ? Number.parseInt(partId.slice(-12), 16) : numberOf(part);
  const statement = statementOf(kind, number, others, drawn, part?.quantity);
  if (JSON.stringify([statement, dayOf(drawn)]) === JSON.stringify([root.standing, root.on])) return;
  root.latest = chain.correct(root.latest, statement, { on: dayOf(drawn), replacedOn: dayOf(drawn) });
  Object.assign(root, { standing: statement, on: dayOf(drawn) });
}

function statementOf(kind: Kind, number: number, roots: readonly Root[], drawn: Step, quantity = 1): Statement {
  const [massKg, otherKg, stationM] = [drawn.massG / 1000, drawn.otherG / 1000, drawn.stationMm / 1000];
  const pieces = piecesFrom(drawn.pieces, quantity);
  switch (kind) {
    case 'part added': {
      const parent = drawn.per % 4 === 0 ? possibleParents(roots, number)[drawn.which % 3] : undefined;
      return partOf(number, {
        quantity: 1 + (drawn.pieces % 4),
        group: ['wing', 'tail', 'body'][drawn.which % 3] ?? 'body',
        process: (['prepreg', 'machined', 'finish'] as const)[drawn.massG % 3] ?? 'other',
        ...(parent === undefined ? {} : { parentPartId: parent.partId }),
      });
    }
    case 'estimate':
      return estimateOf(number, {
        massKg,
        laterKg: otherKg,
        ...(drawn.per % 4 === 0 ? {} : { finishKg: (otherKg * (drawn.per % 4)) / 4 }),
        // Now and then more flash than a weighing may show.
        flashKg: drawn.per % 11 === 0 ? massKg : otherKg / 2,
        growth: drawn.per / 100,
        laterGrowth: (drawn.per % 7) / 50,
        ...(drawn.per % 5 === 0 ? {} : { xM: stationM, yM: stationM / 8 }),
      });
    case 'weighing': {
      const tares = Array.from({ length: 1 + (drawn.per % 3) }, (_, at) => (otherKg + at) / 1000);
      const readings = tares.map((tareKg) => ({ grossKg: massKg + 2 * tareKg, tareKg, typed: {} }));
      const netKg = readings.reduce((sum, { grossKg, tareKg }) => sum + grossKg - tareKg, 0) / readings.length;
      const condition = Condition.options[drawn.per % 4] ?? 'trimmed';
      return weighingOf(number, netKg, {
        pieces,
        readings,
        condition,
        ...(drawn.which % 2 === 0 ? {} : { scale: `Scale ${drawn.which % 3}` }),
        ...(drawn.per % 2 === 0 ? {} : { fixture: `cradle ${drawn.per % 3}` }),
        ...(drawn.per % 4 === 0 ? {} : { lot: `roll ${drawn.which % 2}` }),
        ...(drawn.per % 3 === 0 ? {} : { cause: 'resin-rich' as const }),
      });
    }
    case 'assembly weighing': {
      const present = presentParts(roots);
      const assembly = present.find((part) => numberOf(part) === number);
      if (assembly === undefined) throw new Error('an assembly that is weighed is there');
      const netKg = massKg * 4;
      return assemblyOf(number, netKg, [], {
        members: membersFrom(drawn, assembly, present),
        readings: [{ grossKg: netKg, tareKg: 0, typed: {} }],
        condition: Condition.options[drawn.per % 4] ?? 'trimmed',
        ...(drawn.per % 3 === 0 ? {} : { xM: stationM }),
        ...(drawn.per % 5 === 0 ? { yM: stationM / 8 } : {}),
      });
    }
    case 'process cause':
      throw new Error('a cause is stated of what was released');
    case 'disposition':
      throw new Error('a disposition is made of what has been weighed');
    case 'scale':
      return scaleOf(`scale ${drawn.which % 3}`, { gainStd: drawn.per / 10_000, resolutionKg: otherKg + 0.001 });
    case 'material': {
      const resin = {
        is: 'resin',
        name: `resin ${drawn.which % 3}`,
        densityKgM3: 1000 + drawn.per,
        std: 0,
        basis: 'stated',
        typed: {},
      } as const;
      return materialOf(resin, drawn.per % 3 === 0 ? { isWithdrawn: true } : {});
    }
    case 'check weight':
      return checkOf(`scale ${drawn.which % 3}`, 10 + otherKg / 10);
    case 'arm measured':
      return armOf(number, { xM: stationM, ...(drawn.per % 2 === 0 ? { zM: massKg / 16 } : {}) });
    case 'piece withdrawn':
      return withdrawnOf(number, pieces);
    case 'piece installed':
      return installedOf(number, pieces);
    case 'datum moved':
      return datumOf(stationM / 4);
    case 'targets':
      return targetsOf(100 + massKg, {
        reserveKg: otherKg,
        reason: `revision ${drawn.which}`,
        groups: [{ group: 'wing', massKg: massKg / 2 }],
        partLimit: { absoluteKg: otherKg, fraction: drawn.per / 100 },
        ...(drawn.per % 3 === 0 ? {} : { cgForwardM: stationM, cgAftM: stationM + 1 }),
      });
    case 'allowances':
      return allowancesOf(drawn.per / 100, {
        reason: `revision ${drawn.which}`,
        ...(drawn.per % 2 === 0 ? { pieceToPieceStd: 0.01 + drawn.per / 1000 } : {}),
      });
    case 'loading':
      return loadingOf({ maximumKg: 500 + drawn.per, reason: `revision ${drawn.which}`, stationM });
    case 'part removed':
      return { ...removedOf(number), reason: `design changed ${drawn.which}` };
    case 'aircraft weighing': {
      const run = runOf([`${massKg + 1} kg`, `${massKg + 2} kg`, `${massKg + 2 + otherKg} kg`]);
      return aircraftWeighingOf({ ...ON_WHEELS, level: [run] });
    }
    case 'note':
      return noteOf(`note ${drawn.which}`);
    case 'aircraft':
      return aircraftOf({ name: `bird ${drawn.which}`, macM: 1 + otherKg, lemacM: stationM });
  }
}

function presentParts(roots: readonly Root[]): StatementOf<'part added'>[] {
  const standing = roots.flatMap((root) => root.standing ?? []);
  const removed = new Set(standing.flatMap((one) => (one.kind === 'part removed' ? [one.partId] : [])));
  return standing.filter((one) => one.kind === 'part added').filter(({ partId }) => !removed.has(partId));
}

/** Parts that may be the assembly of another without a circle: they do not stand below it, not even through a part removed. */
function possibleParents(roots: readonly Root[], number: number): StatementOf<'part added'>[] {
  const partId = partIdOf(number);
  const everAdded = roots.flatMap(({ standing }) => (standing?.kind === 'part added' ? [standing] : []));
  const under = new Set([partId, ...below(everAdded, { partId }).map((part) => part.partId)]);
  return presentParts(roots).filter((part) => !under.has(part.partId));
}

/** The parts below one, an assembly before its parts. */
function below(
  present: readonly StatementOf<'part added'>[],
  top: Pick<StatementOf<'part added'>, 'partId'>,
): StatementOf<'part added'>[] {
  return present
    .filter(({ parentPartId }) => parentPartId === top.partId)
    .flatMap((child) => [child, ...below(present, child)]);
}

/** Some of the parts below an assembly, none without the assembly between. */
function membersFrom(drawn: Step, assembly: StatementOf<'part added'>, present: readonly StatementOf<'part added'>[]) {
  const inIt = new Set([assembly.partId]);
  const under = below(present, assembly);
  under.forEach(({ partId, parentPartId }, at) => {
    if (parentPartId !== undefined && inIt.has(parentPartId) && (at === 0 || (drawn.pieces + at) % 4 !== 0))
      inIt.add(partId);
  });
  return under
    .filter(({ partId }) => inIt.has(partId))
    .map(({ partId, quantity }, at) =>
      at % 3 === 1 && quantity > 1 ? { partId, pieces: piecesFrom(drawn.pieces, quantity) } : { partId },
    );
}

function isSpokenOf(roots: readonly Root[], root: Root): boolean {
  const { standing } = root;
  if (standing?.kind !== 'part added') return false;
  return roots.some(
    (other) =>
      other !== root &&
      other.standing !== undefined &&
      'partId' in other.standing &&
      other.standing.partId === standing.partId,
  );
}

function piecesFrom(mask: number, quantity: number): number[] {
  const all = Array.from({ length: quantity }, (_, at) => at + 1);
  const some = all.filter((piece) => (mask >> (piece - 1)) % 2 === 1);
  return some.length === 0 ? [1] : some;
}

function pick<Value>(values: readonly Value[], which: number): Value | undefined {
  return values[which % Math.max(1, values.length)];
}

function numberOf(part: StatementOf<'part added'> | undefined): number {
  return part === undefined ? 0 : Number.parseInt(part.partId.slice(-12), 16);
}
