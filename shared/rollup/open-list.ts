/**
 * Everything that somebody still has to do, in one list (rule D6): what drifts and has no cause or no decision, what is missing, what is in
 * doubt, each with what it costs. It finds nothing itself: every item stands on the rule that found it, and is gone when that finds it no more.
 */
import { OPEN_WHATS, type OpenItem, type OpenListReport, type OpenWhat } from '#shared/contract/open-list.ts';
import { assemblyDrifts, cgDrift, groupDrifts, manySmall } from '#shared/drift/larger-drift.ts';
import { allPartDrifts, isFlagged, type PartDrift } from '#shared/drift/part-drift.ts';
import { processDrifts, withoutProcessCause } from '#shared/drift/process-drift.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import { laminateOf } from '#shared/layup/laminate-of.ts';
import { type Ledger, type PresentPart, presentParts } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { isOf, latestSeq } from '#shared/ledger/part-state.ts';
import { type MassNg, toKg } from '#shared/quantity/exact.ts';
import { scalesOf } from '#shared/weighing/scales.ts';
import { costliestFirst } from './open-order.ts';
import { scaleItems } from './open-scales.ts';
import { runningOf } from './running.ts';

/** What is open on a day, costliest first. The day is asked for because a calibration runs out with no entry to say so. */
export function openList(ledger: Ledger, { today }: { readonly today: string }): readonly OpenItem[] {
  return [...itemsOf(ledger), ...scaleItems(ledger, today)].sort(costliestFirst);
}

/** The list as it is sent: all of it counted, and the first of it, of one kind where that is asked. */
export function openListReport(
  ledger: Ledger,
  asked: { readonly today: string; readonly what?: OpenWhat | undefined; readonly most: number },
): OpenListReport {
  const items = openList(ledger, asked);
  const counted = Map.groupBy(items, ({ what }) => what);
  return {
    seq: ledger.entries.at(-1)?.seq ?? 0,
    counts: OPEN_WHATS.flatMap((what) => {
      const count = counted.get(what)?.length ?? 0;
      return count === 0 ? [] : [{ what, count }];
    }),
    items: (asked.what === undefined ? items : (counted.get(asked.what) ?? [])).slice(0, asked.most),
  };
}

const itemsOf: (ledger: Ledger) => readonly OpenItem[] = oncePerEntry((ledger) => [
  ...ofTheAircraft(ledger),
  ...ofGroups(ledger),
  ...ofProcesses(ledger),
  ...allPartDrifts(ledger).flatMap(ofWeighing),
  ...ofAssemblies(ledger),
  ...ofLaminates(ledger),
  ...ofManySmall(ledger),
  ...ofParts(ledger),
]);

function ofTheAircraft(ledger: Ledger): readonly OpenItem[] {
  const cg = cgDrift(ledger);
  if (cg === undefined || cg.level !== 'drifting') return [];
  const isAft = cg.standing === 'aft of range';
  const endM = isAft ? cg.cgAftM : cg.cgForwardM;
  return [
    {
      what: 'CG out of range',
      of: 'aircraft',
      subject: 'CG',
      direction: isAft ? 'aft' : 'forward',
      cgEffectM: endM === undefined ? undefined : cg.xM - endM,
    },
  ];
}

function ofGroups(ledger: Ledger): readonly OpenItem[] {
  return groupDrifts(ledger).map(({ group, marginKg, cgEffectM }) => ({
    what: 'group over target' as const,
    of: 'group' as const,
    subject: group,
    marginKg,
    cgEffectM,
  }));
}

/** A process that the charts called and whose cause nobody has stated (rule D4), with what its shift adds to what it has still to release. */
function ofProcesses(ledger: Ledger): readonly OpenItem[] {
  const unexplained = withoutProcessCause(ledger);
  if (unexplained.length === 0) return [];
  const called = processDrifts(ledger).flatMap(({ process, signal }) =>
    signal === undefined || !unexplained.includes(process) ? [] : [{ process, signal }],
  );
  const effects = new Map(forecastReport(ledger).processes.map((row) => [row.process, row]));
  return called.map(({ process, signal }) => {
    const forecast = effects.get(process);
    return {
      what: 'process changed' as const,
      of: 'process' as const,
      subject: process,
      since: signal.on,
      direction: signal.direction,
      count: forecast?.openPieces,
      marginKg: forecast === undefined || forecast.openPieces === 0 ? undefined : -forecast.effectKg,
    };
  });
}

/** A flagged weighing without a cause (rule W5), or without a decision (rule W11). */
function ofWeighing(drift: PartDrift): readonly OpenItem[] {
  const { judgement, weighing, disposition } = drift;
  if (!isFlagged(judgement.flag)) return [];
  const item = weighingItem(drift);
  return [
    ...(weighing.standing.statement.cause === undefined ? [{ ...item, what: 'cause missing' as const }] : []),
    ...(disposition === undefined ? [{ ...item, what: 'decision missing' as const }] : []),
  ];
}

function weighingItem({ part, weighing, judgement, marginEffectKg, cgEffectM }: PartDrift): Omit<OpenItem, 'what'> {
  const { standing, pieces } = weighing;
  return {
    ...partItem(part),
    since: standing.happenedOn,
    marginKg: marginEffectKg,
    cgEffectM,
    flag: judgement.flag,
    weighing: {
      seq: latestSeq(standing),
      pieces: [...pieces],
      quantity: part.definition.quantity,
      cause: standing.statement.cause,
    },
  };
}

function partItem({ partId, definition }: PresentPart): Pick<OpenItem, 'of' | 'subject' | 'name' | 'partId'> {
  return { of: 'part', subject: definition.number, name: definition.name, partId };
}

/** A weighed assembly that is not the sum of its parts (rule W7), and on which nobody has decided. */
function ofAssemblies(ledger: Ledger): readonly OpenItem[] {
  return assemblyDrifts(ledger)
    .filter(({ flag, disposition }) => isFlagged(flag) && disposition === undefined)
    .map(({ partId, number, name, weighingSeq, weighedOn, marginEffectKg, cgEffectM, flag }) => ({
      what: 'assembly off its parts' as const,
      of: 'part' as const,
      subject: number,
      name,
      partId,
      since: weighedOn,
      marginKg: marginEffectKg,
      cgEffectM,
      flag,
      weighing: { seq: weighingSeq, pieces: [1], quantity: 1 },
    }));
}

/** A weighing that leaves too little resin for its fibre, beyond doubt, or less than none (rule E6), until somebody decides on the piece. */
function ofLaminates(ledger: Ledger): readonly OpenItem[] {
  const scales = scalesOf(ledger);
  return allPartDrifts(ledger).flatMap((drift) => {
    if (drift.disposition !== undefined) return [];
    const laminate = laminateOf(drift.weighing.standing, drift.part, scales);
    if (laminate === undefined || !laminate.isTold) return [];
    const { verdict } = laminate;
    if (verdict !== 'dry' && verdict !== 'impossible') return [];
    return [{ ...weighingItem(drift), what: 'laminate dry or impossible' as const, verdict }];
  });
}

/** Parts that are each in line and add up, which nobody has explained (rule D5). */
function ofManySmall(ledger: Ledger): readonly OpenItem[] {
  return manySmall(ledger)
    .filter(({ cause }) => cause === undefined)
    .map(({ by, name, partCount, sumKg, marginEffectKg, cgEffectM }) => ({
      what: 'many small ones' as const,
      of: by,
      subject: name,
      count: partCount,
      direction: sumKg > 0 ? ('heavy' as const) : ('light' as const),
      marginKg: marginEffectKg,
      cgEffectM,
    }));
}

/** Parts without an estimate, and those whose mass is left out of the CG. What they cost nobody can say. */
function ofParts(ledger: Ledger): readonly OpenItem[] {
  const { open } = runningOf(ledger);
  const [noEstimate, noArm] = [new Set(open.withoutEstimate), new Set(open.withoutArm)];
  if (noEstimate.size + noArm.size === 0) return [];
  return presentParts(ledger).flatMap((part) => {
    const { partId } = part;
    return [
      ...(noEstimate.has(partId)
        ? [{ what: 'estimate missing' as const, ...partItem(part), since: addedOn(ledger, part) }]
        : []),
      ...(noArm.has(partId)
        ? [
            {
              what: 'arm missing' as const,
              ...partItem(part),
              since: massKnownSince(part),
              aboutKg: toKg(part.basic.massNg as MassNg),
            },
          ]
        : []),
    ];
  });
}

function addedOn(ledger: Ledger, { partId }: PresentPart): string | undefined {
  const standings = ledger.books.byPart.get(partId)?.standings.values() ?? [];
  for (const standing of standings) if (isOf(standing, 'part added')) return standing.happenedOn;
  return undefined;
}

/** The first day on which the part had a mass. */
function massKnownSince({ estimates, weighings }: PresentPart): string | undefined {
  return [estimates[0]?.happenedOn, ...weighings.map(({ standing }) => standing.happenedOn)]
    .filter((day) => day !== undefined)
    .sort()[0];
}
