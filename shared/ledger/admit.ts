/**
 * May this entry be recorded in this ledger now? (rules L2, E1, W1). Reads the ledger, changes nothing, and answers every
 * objection at once. What has not the shape of an entry (`entry.ts`) could not be read back, and is refused first.
 */

import { toProcessCause } from '#shared/drift/process-cause.ts';
import { stationOf } from '#shared/geometry/geometry.ts';
import { placed } from '#shared/geometry/placement.ts';
import { estimateOfLayUp } from '#shared/layup/compute.ts';
import { layUpRefusals } from '#shared/layup/refusals.ts';
import type { LayUp } from '#shared/layup/schedule.ts';
import { refusalsOfLimits } from '#shared/loading/refusals.ts';
import { numberKey } from '#shared/part/from-words.ts';
import type { Refusal } from '#shared/problem/registry.ts';
import { toKg } from '#shared/quantity/exact.ts';
import type { At } from '#shared/weighing/assembly-from-words.ts';
import { toAircraftWeighing } from './admit-aircraft-weighing.ts';
import { toDisposition, toMembers, toOnScale, toWeighedPart } from './admit-weighing.ts';
import { differingFields } from './canonical.ts';
import { displayUnitsOf } from './display-units.ts';
import { Entry, type PartId, type Statement, type StatementOf } from './entry.ts';
import { correctedBySeq, inForce, type Ledger, predictedOf } from './fold.ts';
import type { PartKind } from './part-state.ts';

/** An objection, with the path of the field it is about. */
export type Objection = { readonly path: readonly string[]; readonly refusal: Refusal };

/** Every objection to an entry; none means it may be recorded. `today` is the shop's day, YYYY-MM-DD. */
export function objectionsTo(entry: Entry, ledger: Ledger, today: string): readonly Objection[] {
  const misshapen = toShape(entry);
  if (misshapen.length > 0) return misshapen;
  if (entry.kind === 'correction')
    return [...toDay(entry.happenedOn, today, ['happenedOn']), ...toCorrection(entry, ledger, today)];
  const at = { happenedOn: entry.happenedOn, seq: Number.POSITIVE_INFINITY };
  return [...toDay(entry.happenedOn, today, ['happenedOn']), ...toStatement(entry, ledger, at)];
}

function toShape(entry: Entry): readonly Objection[] {
  const shape = Entry.safeParse(entry);
  if (shape.success) return [];
  return shape.error.issues.map(({ path, message }) => ({
    path: path.map(String),
    refusal: { code: 'shape-refused', why: message },
  }));
}

/** No entry is of a day to come. */
export function toDay(day: string, today: string, path: readonly string[]): readonly Objection[] {
  return day > today ? [{ path, refusal: { code: 'day-in-future', day, today } }] : [];
}

function toCorrection(
  entry: Extract<Entry, { kind: 'correction' }>,
  ledger: Ledger,
  today: string,
): readonly Objection[] {
  const root = ledger.roots.get(entry.supersedesId);
  if (root === undefined) return [{ path: ['supersedesId'], refusal: { code: 'nothing-to-correct' } }];
  if (root.latestId !== entry.supersedesId) {
    const bySeq = correctedBySeq(ledger, entry.supersedesId) ?? 0;
    return [{ path: ['supersedesId'], refusal: { code: 'already-corrected', bySeq } }];
  }
  const { replacement } = entry;
  if (replacement === null) return toStriking(root, ledger);
  const path = ['replacement', 'statement'];
  if (replacement.statement.kind !== root.kind)
    return [{ path, refusal: { code: 'correction-of-other-kind', is: root.kind, asked: replacement.statement.kind } }];
  const before = root.standing;
  if (
    before !== undefined &&
    before.happenedOn === replacement.happenedOn &&
    saysTheSame(before.statement, replacement.statement)
  )
    return [{ path: ['replacement'], refusal: { code: 'correction-changes-nothing' } }];
  const moved = before?.statement;
  if (
    moved?.kind === 'part added' &&
    replacement.statement.kind === 'part added' &&
    moved.partId !== replacement.statement.partId
  )
    return toStriking(root, ledger);
  return [
    ...toDay(replacement.happenedOn, today, ['replacement', 'happenedOn']),
    ...toStatement(replacement.statement, ledger, { happenedOn: replacement.happenedOn, seq: root.seq }, root.seq).map(
      (objection) => ({
        ...objection,
        path: [...path, ...objection.path],
      }),
    ),
  ];
}

function toStriking(
  root: { readonly standing: { readonly statement: Statement } | undefined },
  ledger: Ledger,
): readonly Objection[] {
  const statement = root.standing?.statement;
  if (statement === undefined) return [{ path: ['replacement'], refusal: { code: 'correction-changes-nothing' } }];
  if (statement.kind !== 'part added') return [];
  const count = (ledger.books.byPart.get(statement.partId)?.standings.size ?? 1) - 1;
  return count > 0
    ? [{ path: ['replacement'], refusal: { code: 'part-has-entries', part: statement.number, count } }]
    : [];
}

/** Entries carry who and when beside the statement; only the statement is compared. */
function saysTheSame(a: Statement, b: Statement): boolean {
  const stamp = new Set(['id', 'happenedOn', 'by', 'remark', 'typed']);
  return differingFields(a as Entry, b as Entry).every((field) => stamp.has(field));
}

/** `ownSeq`: the number of the entry that this statement replaces, which does not stand in its own way. */
function toStatement(statement: Statement, ledger: Ledger, at: At, ownSeq?: number): readonly Objection[] {
  switch (statement.kind) {
    case 'part added':
      return toPart(statement, ledger, ownSeq);
    case 'aircraft':
      return (statement.macM === undefined) === (statement.lemacM === undefined)
        ? []
        : [{ path: ['macM'], refusal: { code: 'chord-half' } }];
    case 'targets':
      return toTargets(statement, ledger, ownSeq);
    case 'allowances':
      return ownSeq === undefined && statement.reason === undefined && inForce(ledger, 'allowances') !== undefined
        ? [{ path: ['reason'], refusal: { code: 'reason-missing' } }]
        : [];
    case 'loading':
      return toLoading(statement, ledger, ownSeq);
    case 'scale':
      return statement.calibratedOn !== undefined &&
        statement.dueOn !== undefined &&
        statement.dueOn < statement.calibratedOn
        ? [{ path: ['dueOn'], refusal: { code: 'days-reversed', from: statement.calibratedOn, to: statement.dueOn } }]
        : [];
    case 'process cause':
      return toProcessCause(statement, ledger);
    case 'aircraft weighing':
      return toAircraftWeighing(statement, ledger, at);
    case 'datum moved':
    case 'check weight':
    case 'material':
      return [];
    case 'note':
      return statement.partId === undefined ? [] : toKnownPart(statement.partId, ledger);
    default:
      return [...toKnownPart(statement.partId, ledger, ownSeq), ...toPartStatement(statement, ledger, at, ownSeq)];
  }
}

type OfPart = StatementOf<Exclude<PartKind, 'part added'>>;

function toTargets(targets: StatementOf<'targets'>, ledger: Ledger, ownSeq: number | undefined): readonly Objection[] {
  const { emptyMassKg, reserveKg, cgForwardM, cgAftM, groups, reason } = targets;
  const objections: Objection[] = [];
  if (ownSeq === undefined && reason === undefined && inForce(ledger, 'targets') !== undefined)
    objections.push({ path: ['reason'], refusal: { code: 'reason-missing' } });
  if (reserveKg >= emptyMassKg)
    objections.push({
      path: ['reserveKg'],
      refusal: { code: 'reserve-too-large', reserve: `${reserveKg} kg`, target: `${emptyMassKg} kg` },
    });
  if (cgForwardM !== undefined && cgAftM !== undefined && cgForwardM >= cgAftM)
    objections.push({ path: ['cgAftM'], refusal: { code: 'range-reversed' } });
  const twice = groups.find(({ group }, at) => groups.findIndex((other) => other.group === group) !== at);
  if (twice !== undefined) objections.push({ path: ['groups'], refusal: { code: 'group-twice', group: twice.group } });
  return objections;
}

/** The limits are held against the empty weight as it is predicted now. */
function toLoading(
  { limits, reason }: StatementOf<'loading'>,
  ledger: Ledger,
  ownSeq: number | undefined,
): readonly Objection[] {
  const aircraft = inForce(ledger, 'aircraft');
  const emptyKg = toKg(predictedOf(ledger).massNg);
  const against = {
    emptyKg: emptyKg > 0 ? emptyKg : undefined,
    hasChord: aircraft?.macM !== undefined,
    units: displayUnitsOf(ledger),
  };
  const isUnreasoned = ownSeq === undefined && reason === undefined && inForce(ledger, 'loading') !== undefined;
  return [
    ...(isUnreasoned ? [{ path: ['reason'], refusal: { code: 'reason-missing' } } as const] : []),
    ...refusalsOfLimits(limits, against).map(({ path, refusal }) => ({ path: ['limits', ...path], refusal })),
  ];
}

function toKnownPart(partId: PartId, ledger: Ledger, ownSeq?: number): readonly Objection[] {
  const book = ledger.books.byPart.get(partId);
  const state = book?.state;
  if (state?.definition === undefined)
    return [{ path: ['partId'], refusal: { code: 'unknown-part', part: partId, near: undefined } }];
  const isRemoved = [...(book?.standings.values() ?? [])].some(
    ({ seq, statement }) => statement.kind === 'part removed' && seq !== ownSeq,
  );
  if (isRemoved) return [{ path: ['partId'], refusal: { code: 'part-is-removed', part: state.definition.number } }];
  return [];
}

function toPartStatement(statement: OfPart, ledger: Ledger, at: At, ownSeq?: number): readonly Objection[] {
  const definition = ledger.books.byPart.get(statement.partId)?.state.definition;
  if (definition === undefined) return [];
  switch (statement.kind) {
    case 'estimate':
      return toEstimate(statement);
    case 'arm measured':
      return toArm(statement);
    case 'weighing':
      return [
        ...toPieces(statement.pieces, definition),
        ...toOnScale(statement, ledger, at),
        ...toResin(statement),
        ...toWeighedPart(definition, ledger),
      ];
    case 'assembly weighing':
      return [...toOnScale(statement, ledger, at), ...toMembers(statement, definition, { ledger, at })];
    case 'disposition':
      return [...toPieces(statement.pieces, definition), ...toDisposition(statement, { ledger, at, ownSeq })];
    case 'piece withdrawn':
    case 'piece installed':
      return toPieces(statement.pieces, definition);
    case 'part removed':
      return [];
  }
}

/** Rule W6: an arm has what its way needs, and says what follows from that. */
function toArm({ how, xM, yM, zM, armStdM, supports, balance }: StatementOf<'arm measured'>): readonly Objection[] {
  if ([xM, yM, zM].every((armM) => armM === undefined)) return [{ path: [], refusal: { code: 'arm-missing' } }];
  if (how === 'by hand' && armStdM === undefined)
    return [{ path: ['armStdM'], refusal: { code: 'by-hand-without-uncertainty' } }];
  const isBar = how === 'balanced on a bar';
  const isWhole = balance !== undefined && armStdM !== undefined && xM === balance.benchZeroM + balance.pointM;
  const fits = isBar ? isWhole && supports === undefined : balance === undefined;
  const onSupports = how === undefined || (how === 'on two supports') === (supports !== undefined);
  return fits && onSupports ? [] : [{ path: ['xM'], refusal: { code: 'arm-disagrees' } }];
}

function toEstimate(estimate: StatementOf<'estimate'>): readonly Objection[] {
  const { massKg, laterKg, finishKg, layUp } = estimate;
  const objections = [...toGeometry(estimate), ...(layUp === undefined ? [] : toLayUp(estimate, layUp))];
  if (laterKg > massKg)
    objections.push({
      path: ['laterKg'],
      refusal: { code: 'later-above-estimate', later: `${laterKg} kg`, estimate: `${massKg} kg` },
    });
  if (finishKg !== undefined && finishKg > laterKg)
    objections.push({
      path: ['finishKg'],
      refusal: { code: 'finish-above-later', finish: `${finishKg} kg`, later: `${laterKg} kg` },
    });
  return objections;
}

/** Rule E5: the stations are those of the geometry. */
function toGeometry({ geometry, xM, yM, zM }: StatementOf<'estimate'>): readonly Objection[] {
  if (geometry === undefined) return [];
  const lies = placed(geometry.placement);
  if (!lies.ok) return [{ path: ['geometry'], refusal: lies.refusal }];
  const station = stationOf(geometry);
  const isThere = station.xM === xM && station.yM === yM && station.zM === zM;
  return isThere ? [] : [{ path: ['geometry'], refusal: { code: 'geometry-disagrees' } }];
}

/** An estimate by lay-up says what its schedule comes to, but for the last digits of binary fractions. */
function toLayUp(estimate: StatementOf<'estimate'>, layUp: LayUp): readonly Objection[] {
  const refusals = layUpRefusals(layUp).map(({ path, refusal }) => ({ path: ['layUp', ...path], refusal }));
  if (refusals.length > 0) return refusals;
  const computed = estimateOfLayUp(layUp);
  const differing = (['massKg', 'massStdKg', 'laterKg', 'finishKg'] as const).filter(
    (figure) => Math.abs((estimate[figure] ?? 0) - computed[figure]) > 1e-9 * Math.max(1, computed.massKg),
  );
  return [
    ...differing.map((figure) => ({
      path: [figure],
      refusal: {
        code: 'not-as-laid-up',
        stated: `${estimate[figure] ?? 0} kg`,
        computed: `${computed[figure]} kg`,
      } as const,
    })),
    ...(estimate.evidence === 'calculated'
      ? []
      : [{ path: ['evidence'], refusal: { code: 'laid-up-is-stated' } } as const]),
  ];
}

/** Of an infusion, something is in the part. */
function toResin({ resin }: StatementOf<'weighing'>): readonly Objection[] {
  if (resin === undefined || resin.leftKg + resin.inLinesKg < resin.mixedKg) return [];
  const [mixed, behind] = [`${resin.mixedKg} kg`, `${resin.leftKg} kg and ${resin.inLinesKg} kg`];
  return [{ path: ['resin'], refusal: { code: 'resin-not-in-part', mixed, behind } }];
}

function toPieces(pieces: readonly number[], { number, quantity }: StatementOf<'part added'>): readonly Objection[] {
  const beyond = pieces.find((piece) => piece > quantity);
  if (beyond === undefined) return [];
  return [{ path: ['pieces'], refusal: { code: 'no-such-piece', piece: beyond, part: number, quantity } }];
}

function toPart(part: StatementOf<'part added'>, ledger: Ledger, ownSeq: number | undefined): readonly Objection[] {
  const objections: Objection[] = [];
  const holderId = ledger.books.byNumber.get(numberKey(part.number));
  const holder = holderId === undefined ? undefined : ledger.books.byPart.get(holderId)?.state;
  if (holder !== undefined && holder.addedSeq !== ownSeq)
    objections.push({
      path: ['number'],
      refusal: { code: 'number-taken', number: part.number, seq: holder.addedSeq ?? 0, differs: ['id'] },
    });
  const own = ledger.books.byPart.get(part.partId)?.state;
  if (own?.definition !== undefined && own.addedSeq !== ownSeq)
    objections.push({
      path: ['partId'],
      refusal: { code: 'number-taken', number: own.definition.number, seq: own.addedSeq ?? 0, differs: ['number'] },
    });
  if (part.parentPartId === undefined) return objections;
  objections.push(...toKnownPart(part.parentPartId, ledger).map((o) => ({ ...o, path: ['parentPartId'] })));
  const path = pathUp(part, ledger);
  if (path !== undefined) objections.push({ path: ['parentPartId'], refusal: { code: 'assembly-cycle', path } });
  return objections;
}

/** The numbers on the way up from a part back to itself, or undefined where the way ends at the top. */
function pathUp(part: StatementOf<'part added'>, ledger: Ledger): readonly string[] | undefined {
  const path = [part.number];
  let parentId = part.parentPartId;
  while (parentId !== undefined && path.length <= ledger.books.byPart.size + 1) {
    if (parentId === part.partId) return [...path, part.number];
    const parent: StatementOf<'part added'> | undefined = ledger.books.byPart.get(parentId)?.state.definition;
    if (parent !== undefined) path.push(parent.number);
    parentId = parent?.parentPartId;
  }
  return undefined;
}
