/** What was weighed, measured, scrapped, made again and built in, part by part. */
import type { Process } from '#shared/ledger/entry.ts';
import { LAST_DAY, type WorkingDay } from './calendar.ts';
import { circumstancesOf } from './circumstances.ts';
import type { PartRow } from './part-row.ts';
import type { Planned, Words } from './plan.ts';
import { type Random, randomFor } from './random.ts';
import { isLaidUp, type Release, releasesOf } from './releases.ts';
import { readScale } from './scales.ts';
import { CAUSES, PEOPLE, REMADE, RESIN_SHEETS, SLIP } from './story.ts';

export function planWeighings(row: PartRow, seed: number): readonly Planned[] {
  const random = randomFor(seed, row.number);
  const releases = releasesOf(row, random);
  if (releases.length === 0) return [];
  const shopOn = (release: Release) =>
    circumstancesOf(row, release.madeOn, randomFor(seed, `laid up ${row.number} on ${release.madeOn}`));
  const planned = releases.flatMap((release, at) => planRelease({ row, release, at, shopOn, random }));
  const remade = row.number === REMADE.part ? planRemade(row, shopOn, random) : [];
  const written = [...planned, ...remade];
  return [...written, ...planAfterwards(row, written, random)];
}

type ShopOn = (release: Release) => Words;

type OnScale = {
  readonly row: PartRow;
  readonly release: Release;
  readonly at: number;
  readonly shopOn: ShopOn;
  readonly random: Random;
};

function planRelease({ row, release, at, shopOn, random }: OnScale): readonly Planned[] {
  const by = personAt(row.process, random);
  const isSlip = row.number === SLIP.part && release.pieces.includes(SLIP.piece);
  const spoken = CAUSES[row.number];
  const words: Words = {
    kind: 'weighing',
    part: row.number,
    ...((row.quantity ?? 1) > 1 ? { piece: piecesWords(release.pieces) } : {}),
    condition: release.condition,
    ...readScale(
      {
        netKg: release.netKg,
        hung: row.hung === true,
        onFixture: isLaidUp(row.process) || release.pieces.length > 2,
        fineHand: by === FINE_HAND && !isSlip,
      },
      random,
    ),
    ...shopOn(release),
    ...(at === 0 ? RESIN_SHEETS[row.number] : undefined),
    ...(spoken === undefined ? {} : { cause: spoken.cause }),
  };
  const late = isSlip ? 0 : lateness(release.day, random);
  const remark = [at === 0 ? spoken?.remark : undefined, late > 0 ? random.oneOf(LATE) : undefined]
    .filter((text) => text !== undefined)
    .join(' ');
  const name = `weighing ${row.number} ${at + 1}`;
  const entry: Planned = {
    name,
    happenedOn: release.day,
    recordedOn: release.day + late,
    by,
    made: release.made,
    ...(remark === '' ? {} : { remark }),
    words: isSlip ? asKilograms(words) : words,
  };
  return isSlip ? [entry, planCorrection(entry, words)] : [entry];
}

/** The display's pounds with a kg behind them. */
function asKilograms(words: Words): Words {
  return Object.fromEntries(
    Object.entries(words).map(([field, text]) => [
      field,
      typeof text === 'string' ? text.replace(/ lb$/, ' kg') : text,
    ]),
  );
}

function planCorrection(wrong: Planned, right: Words): Planned {
  const { kind: _, ...fields } = right;
  const day = wrong.happenedOn + SLIP.daysUntilFound;
  return {
    name: `correction of ${wrong.name}`,
    happenedOn: day,
    recordedOn: day,
    by: PEOPLE.lead,
    words: ({ seqOf }) => ({ kind: 'correction', entry: seqOf(wrong.name), reason: SLIP.reason, replacement: fields }),
  };
}

function planRemade(row: PartRow, shopOn: ShopOn, random: Random): readonly Planned[] {
  const week = typeof row.weighed === 'number' ? row.weighed : 0;
  const [again] = releasesOf({ ...row, weighed: week + REMADE.madeAgainAfter }, random);
  if (again === undefined) return [];
  const scrappedOn = (week + REMADE.scrappedAfter) * 5 + 1;
  return [
    {
      name: `scrapped ${row.number}`,
      happenedOn: scrappedOn,
      recordedOn: scrappedOn,
      by: PEOPLE.lead,
      words: { kind: 'disposition', part: row.number, decision: 'scrapped', inspection: REMADE.inspection },
    },
    ...planRelease({ row, release: again, at: 1, shopOn, random }).map((entry) => ({
      ...entry,
      remark: REMADE.remark,
    })),
  ];
}

/** The arm measured on the bench, and the building in, once every piece that is there has been weighed. */
function planAfterwards(row: PartRow, weighed: readonly Planned[], random: Random): readonly Planned[] {
  const lastDay = Math.max(...weighed.map((entry) => entry.recordedOn));
  const pieces = typeof row.weighed === 'object' ? row.weighed.map((_, at) => at + 1) : undefined;
  const count = pieces?.length ?? row.quantity ?? 1;
  const piece: Words = (row.quantity ?? 1) > 1 ? { piece: count === 1 ? '1' : `1-${count}` } : {};
  const armDay = lastDay + (row.armMeasured ?? 0) * 5;
  const builtInDay = lastDay + (row.builtIn ?? 0) * 5;
  return [
    ...(row.armMeasured === undefined || armDay > LAST_DAY
      ? []
      : [{ ...stamp(`arm ${row.number}`, armDay, PEOPLE.lead), words: armWords(row, netOf(weighed.at(-1)), random) }]),
    ...(row.builtIn === undefined || builtInDay > LAST_DAY
      ? []
      : [
          {
            ...stamp(`built in ${row.number}`, builtInDay, random.oneOf(FITTERS)),
            words: { kind: 'piece installed', part: row.number, ...piece },
          },
        ]),
  ];
}

function stamp(name: string, day: WorkingDay, by: string) {
  return { name, happenedOn: day, recordedOn: day, by };
}

function armWords(row: PartRow, netKg: number, random: Random): Words {
  const [x = 0, , z = 0] = row.at ?? [];
  const trueM = (m: number) => m + 0.015 * random.normal();
  if (row.onSupports !== undefined) return supportWords(row, row.onSupports, { xM: trueM(x), netKg });
  const measured = (m: number) => `${(trueM(m) * 1000).toFixed(0)} mm`;
  return { kind: 'arm measured', part: row.number, x: measured(x), z: measured(z), 'arm uncertainty': '4 mm' };
}

/** One end on a scale, the other on a stand, and then the other way round. */
function supportWords(
  row: PartRow,
  { benchZeroM, firstM, secondM }: NonNullable<PartRow['onSupports']>,
  { xM, netKg }: { readonly xM: number; readonly netKg: number },
): Words {
  const secondKg = (netKg * (xM - benchZeroM - firstM)) / (secondM - firstM);
  const load = (kg: number) => `${(Math.round(kg / 0.02) * 0.02).toFixed(2)} kg`;
  return {
    kind: 'arm measured',
    part: row.number,
    'first load': load(netKg - secondKg),
    'first station': `${firstM.toFixed(3)} m`,
    'second load': load(secondKg),
    'second station': `${secondM.toFixed(3)} m`,
    'bench zero': `${benchZeroM.toFixed(3)} m`,
    'load uncertainty': '0.02 kg',
    'station uncertainty': '2 mm',
  };
}

/** What the last weighed pieces truly weigh. */
function netOf(weighed: Planned | undefined): number {
  return (weighed?.made?.pieces ?? []).reduce((sum, { trimmedKg }) => sum + trimmedKg, 0);
}

const FINE_HAND = PEOPLE.layUp[0];
const FITTERS = [PEOPLE.fitter, PEOPLE.layUp[1]] as const;
const LATE = [
  'Typed in from the sheet on the wall.',
  'Tablet was flat; from my notebook.',
  'Forgot to enter it on the day.',
] as const;

function personAt(process: Process, random: Random): string {
  if (isLaidUp(process)) return random.oneOf(PEOPLE.layUp);
  if (process === 'machined' || process === 'printed') return PEOPLE.fitter;
  return process === 'bought' ? random.oneOf([PEOPLE.systems, PEOPLE.fitter]) : PEOPLE.systems;
}

/** Most are typed in on the day; about one in ten some days later. */
function lateness(day: WorkingDay, random: Random): number {
  const isLate = random.uniform() < 0.1;
  const days = 1 + Math.floor(random.uniform() * 6);
  return isLate && day + days <= LAST_DAY ? days : 0;
}

function piecesWords(pieces: readonly number[]): string {
  const first = pieces[0] ?? 1;
  const last = pieces.at(-1) ?? first;
  return first === last ? String(first) : `${first}-${last}`;
}
