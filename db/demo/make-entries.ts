/**
 * The entries of the invented demonstration aircraft (rule G1). Pure: the same aircraft, day and seed give the same entries; another
 * day only moves their dates. Each one comes in through the door that people's own words come through, and is admitted as theirs are.
 */
import { stableId } from '#db/record/stable-id.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import type { Entry } from '#shared/ledger/entry.ts';
import { applyEntry, openLedger } from '#shared/ledger/fold.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { calendarBefore, workingDay } from './calendar.ts';
import { LIMITS } from './limits.ts';
import { planMaterials } from './materials.ts';
import { GROUPS } from './parts.ts';
import { inOrderWritten, type Planned, type Words } from './plan.ts';
import { planAssemblies } from './plan-assemblies.ts';
import { planDecisions } from './plan-decisions.ts';
import { planLayUp } from './plan-lay-ups.ts';
import { planPart } from './plan-parts.ts';
import { planScales } from './plan-scales.ts';
import { planWeighings } from './plan-weighings.ts';
import { randomFor } from './random.ts';
import { AIRCRAFT_WORDS, CG_RANGE, NOTES, PEOPLE, TARGETS, type TargetRevision } from './story.ts';

export type DemonstrationRequest = {
  readonly aircraftId: string;
  /** The shop's day, YYYY-MM-DD. The story ends three to nine days before it. */
  readonly today: string;
  /** Who asked for the demonstration; named in the first entry. */
  readonly by: string;
  readonly seed?: number;
};

/** Chosen for a scatter that looks like any other shop's. */
export const DEMONSTRATION_SEED = 11;

/** The id of the entry that the story calls so. */
export function entryIdOf(aircraftId: string, name: string): string {
  return stableId(aircraftId, `demonstration ${name}`);
}

/** The entries in the order in which they are to be recorded. */
export function makeEntries(request: DemonstrationRequest): readonly Entry[] {
  const dateOf = calendarBefore(request.today);
  const idOf = (name: string) => entryIdOf(request.aircraftId, name);
  const ledger = openLedger();
  const seqByName = new Map<string, number>();
  const seqOf = (name: string) => {
    const seq = seqByName.get(name);
    if (seq === undefined) throw new Error(`the story has no earlier entry ${name}`);
    return String(seq);
  };
  for (const planned of inOrderWritten(planStory(request))) {
    const words = typeof planned.words === 'function' ? planned.words({ seqOf, dateOf }) : planned.words;
    const sent = { ...words, ...stampOf(planned, idOf, dateOf) };
    const context = { ledger, day: request.today, by: planned.by, newId: () => idOf(`of ${planned.name}`) };
    const read = entryFromWords(sent, context);
    if (!read.ok) throw new Error(`the story's ${planned.name} is refused: ${JSON.stringify(read.refusal)}`);
    const objections = objectionsTo(read.value, ledger, request.today);
    if (objections.length > 0) throw new Error(`the story's ${planned.name} is refused: ${JSON.stringify(objections)}`);
    const seq = ledger.entries.length + 1;
    seqByName.set(planned.name, seq);
    applyEntry(ledger, { seq, recordedAt: '', entry: read.value });
  }
  return ledger.entries.map(({ entry }) => entry);
}

function stampOf(planned: Planned, idOf: (name: string) => string, dateOf: (day: number) => string): Words {
  return {
    id: idOf(planned.name),
    happenedOn: dateOf(planned.happenedOn),
    by: planned.by,
    ...(planned.remark === undefined ? {} : { remark: planned.remark }),
  };
}

function planStory({ by, seed = DEMONSTRATION_SEED }: DemonstrationRequest): readonly Planned[] {
  const weighed = GROUPS.flatMap(({ parts }) => parts.flatMap((row) => planWeighings(row, seed)));
  return [
    {
      ...stamp('aircraft', workingDay(0, 0), PEOPLE.lead),
      remark: `Everything in this ledger is invented, by a program, for ${by} to look round in.`,
      words: AIRCRAFT_WORDS,
    },
    ...GROUPS.flatMap(({ group, parts }) =>
      parts.flatMap((row) => planPart(row, group, randomFor(seed, `estimate ${row.number}`))),
    ),
    ...TARGETS.map((revision, at) => ({
      ...stamp(`targets ${at + 1}`, workingDay(revision.week, 0), PEOPLE.lead),
      words: targetWords(revision),
    })),
    {
      ...stamp('loading', workingDay(58, 2), PEOPLE.lead),
      words: { kind: 'loading', limits: LIMITS },
    },
    ...planMaterials(),
    ...GROUPS.flatMap(({ parts }) => parts.flatMap(planLayUp)),
    ...planScales(seed),
    ...weighed,
    ...planAssemblies(weighed, seed),
    ...planDecisions(),
    ...NOTES.map(({ week, weekday, by: author, part, text }, at) => ({
      ...stamp(`note ${at + 1}`, workingDay(week, weekday), author),
      words: { kind: 'note', ...(part === undefined ? {} : { part }), text },
    })),
  ];
}

function stamp(name: string, day: number, by: string) {
  return { name, happenedOn: day, recordedOn: day, by };
}

function targetWords({ emptyKg, reserveKg, reason, groupsKg }: TargetRevision): Words {
  return {
    kind: 'targets',
    'empty mass': `${emptyKg} kg`,
    reserve: `${reserveKg} kg`,
    'cg forward': CG_RANGE.forward,
    'cg aft': CG_RANGE.aft,
    'part limit': '20 g',
    'part limit share': '6 %',
    ...(reason === undefined ? {} : { reason }),
    groups: Object.fromEntries(Object.entries(groupsKg).map(([group, kg]) => [group, `${kg} kg`])),
  };
}
