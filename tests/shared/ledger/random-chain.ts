/**
 * Random chains of valid entries for property tests. fast-check draws a list of plain numbers a step; `chainFrom` turns each step into
 * an entry that the ledger as it then stands must take, and passes over a step for which there is none.
 */
import fc from 'fast-check';
import type { RecordedEntry, Statement, StatementOf } from '#shared/ledger/entry.ts';
import {
  aircraftOf,
  armOf,
  Chain,
  datumOf,
  estimateOf,
  installedOf,
  noteOf,
  partIdOf,
  partOf,
  removedOf,
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

export function randomSteps(maxLength = 40): fc.Arbitrary<Step[]> {
  return fc.array(step, { minLength: 1, maxLength, size: 'max' });
}

/** One entry first made, as it stands now. */
type Root = { first: RecordedEntry; latest: RecordedEntry; on: string; standing: Statement | undefined };

export function chainFrom(steps: readonly Step[]): Chain {
  const chain = new Chain();
  const roots: Root[] = [];
  for (const drawn of steps) {
    const isCorrection = drawn.kind >= 72;
    if (isCorrection) correctOne(chain, roots, drawn);
    else {
      const statement = newStatement(roots, drawn);
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
  [70, 'note'],
  [72, 'aircraft'],
];

function newStatement(roots: readonly Root[], drawn: Step): Statement | undefined {
  const kind = NEW_KINDS.find(([upTo]) => drawn.kind < upTo)?.[1] ?? 'note';
  if (kind === 'part added') return statementOf(kind, roots.length, roots, drawn);
  const present = presentParts(roots);
  const part = pick(present, drawn.which);
  if (part === undefined && needsPart(kind)) return undefined;
  return statementOf(kind, numberOf(part), roots, drawn, part?.quantity);
}

function needsPart(kind: Kind): boolean {
  return !['datum moved', 'targets', 'note', 'aircraft', 'part added'].includes(kind);
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
  const others = roots.filter((other) => other !== root);
  const before = root.first.entry as Statement;
  const partId = 'partId' in before ? before.partId : undefined;
  const present = presentParts(others);
  const isOfOther = drawn.per % 6 === 5;
  const ofPart = isOfOther ? pick(present, drawn.day) : present.find((one) => one.partId === partId);
  const part = kind === 'part added' ? undefined : ofPart;
  if (part === undefined && needsPart(kind)) return;
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
      const parent = drawn.per % 4 === 0 ? topParts(roots, number)[drawn.which % 3] : undefined;
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
        flashKg: otherKg / 2,
        growth: drawn.per / 100,
        laterGrowth: (drawn.per % 7) / 50,
        ...(drawn.per % 5 === 0 ? {} : { xM: stationM, yM: stationM / 8 }),
      });
    case 'weighing': {
      const tares = Array.from({ length: 1 + (drawn.per % 3) }, (_, at) => (otherKg + at) / 1000);
      const readings = tares.map((tareKg) => ({ grossKg: massKg + 2 * tareKg, tareKg, typed: {} }));
      const netKg = readings.reduce((sum, { grossKg, tareKg }) => sum + grossKg - tareKg, 0) / readings.length;
      const condition = (['as released', 'trimmed', 'finished'] as const)[drawn.per % 3] ?? 'trimmed';
      return weighingOf(number, netKg, { pieces, readings, condition });
    }
    case 'arm measured':
      return armOf(number, { xM: stationM, ...(drawn.per % 2 === 0 ? { zM: massKg / 16 } : {}) });
    case 'piece withdrawn':
      return withdrawnOf(number, pieces);
    case 'piece installed':
      return installedOf(number, pieces);
    case 'datum moved':
      return datumOf(stationM / 4);
    case 'targets':
      return targetsOf(100 + massKg, { reserveKg: otherKg, reason: `revision ${drawn.which}` });
    case 'part removed':
      return { ...removedOf(number), reason: `design changed ${drawn.which}` };
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

/** Parts that may be the assembly of another without a circle: they stand in none themselves. */
function topParts(roots: readonly Root[], number: number): StatementOf<'part added'>[] {
  const hasParts = presentParts(roots).some(({ parentPartId }) => parentPartId === partIdOf(number));
  return hasParts ? [] : presentParts(roots).filter(({ parentPartId }) => parentPartId === undefined);
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
