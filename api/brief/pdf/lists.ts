/** The tables of a printed brief (rule B4): what drifts, how groups stand, what is proposed and open, and what the brief was made from. */

import { calledOnceWords, driftingProcesses, sparingProcesses } from '#shared/brief/process-lists.ts';
import { endWords } from '#shared/brief/standing.ts';
import { decisionWords, ownerWords, piecesWords } from '#shared/brief/tables/drift.ts';
import { cutNote } from '#shared/brief/tables/table.ts';
import type { Brief, BriefContent, BriefPart, BriefProcess, BriefProposal } from '#shared/contract/brief.ts';
import type { AssemblyDriftReport, ManySmallReport } from '#shared/contract/drift.ts';
import type { GroupForecastReport } from '#shared/contract/forecast.ts';
import { dayWords, momentWords } from '#shared/words/day.ts';
import { say, term } from '#shared/words/say.ts';
import type { Remark } from './first-page.ts';
import type { Told } from './print-words.ts';
import type { Sheet } from './sheet.ts';
import { printTable, SHAPES, type Shape } from './table.ts';

export function driftLists(sheet: Sheet, { drift }: BriefContent, told: Told, remark: Remark): void {
  sheet.heading(say`Processes that drift`);
  processTable(sheet, driftingProcesses(drift), told);
  const sparing = sparingProcesses(drift);
  if (sparing.length > 0) {
    sheet.heading(say`Processes with allowance to spare`);
    processTable(sheet, sparing, told);
  }
  const once = calledOnceWords(drift);
  if (once !== undefined) sheet.paragraph('P', once, { size: 8 });
  sheet.heading(countedHeading(say`Parts that drift`, drift.parts));
  partTable(sheet, drift.parts.rows, told);
  note(sheet, drift.parts);
  if (drift.assemblies.count > 0) {
    sheet.heading(countedHeading(say`Weighed assemblies off the sum of their parts`, drift.assemblies));
    assemblyTable(sheet, drift.assemblies.rows, told);
    note(sheet, drift.assemblies);
  }
  if (drift.manySmall.count > 0) {
    sheet.heading(countedHeading(say`Small differences that add up`, drift.manySmall));
    smallOnesTable(sheet, drift.manySmall.rows, told);
    note(sheet, drift.manySmall);
  }
  remark('drift');
}

type List = { readonly count: number; readonly rows: readonly unknown[] };

function countedHeading(words: string, { count }: List): string {
  return count === 0 ? words : `${words}: ${count}`;
}

function note(sheet: Sheet, list: List): void {
  const words = cutNote(list);
  if (words !== undefined) sheet.paragraph('P', words, { size: 8 });
}

function isNew(row: { readonly isNew: boolean }): string {
  return row.isNew ? ', new' : '';
}

const READINGS: Readonly<Record<'heavy' | 'light' | 'allowance to spare', Shape>> = {
  heavy: { points: 'up', isFilled: true },
  light: { points: 'down', isFilled: true },
  'allowance to spare': { points: 'down', isFilled: false },
};

function processTable(sheet: Sheet, rows: readonly BriefProcess[], told: Told): void {
  printTable<BriefProcess>(
    sheet,
    [
      {
        ...{ heading: say`process`, share: 24, shape: ({ signal }) => READINGS[signal.reading] },
        cell: (row) => `${row.process}: ${row.signal.reading}${isNew(row)}`,
      },
      { heading: say`since`, share: 18, cell: ({ signal: { began } }) => `${began.part}, ${dayWords(began.on)}` },
      {
        ...{ heading: say`shift, %`, share: 13, isNumber: true },
        cell: ({ shiftFraction: at, shiftStdFraction: std }) =>
          std === undefined ? told.perCentChange(at) : `${told.perCentChange(at)} ± ${told.perCent(std)}`,
      },
      { heading: say`pieces to come`, share: 10, isNumber: true, cell: ({ openPieces }) => String(openPieces) },
      {
        heading: say`effect, ${told.massUnit}`,
        share: 12,
        isNumber: true,
        cell: ({ effectKg }) => told.massChange(effectKg),
      },
      {
        ...{ heading: say`cause`, share: 24 },
        cell: ({ cause }) =>
          cause === undefined ? 'not stated' : [cause.cause, cause.found].filter(Boolean).join(': '),
      },
      { heading: say`owner`, share: 16, cell: ({ owner }) => ownerWords(owner) },
    ],
    rows,
    say`No process has been seen to change.`,
  );
}

function partTable(sheet: Sheet, rows: BriefContent['drift']['parts']['rows'], told: Told): void {
  printTable<BriefPart>(
    sheet,
    [
      {
        heading: say`part`,
        share: 28,
        cell: ({ number, name, ...pieces }) => `${number} ${name}, ${piecesWords(pieces)}`,
      },
      { heading: say`flag`, share: 17, shape: ({ flag }) => SHAPES[flag], cell: (row) => `${row.flag}${isNew(row)}` },
      { heading: say`weighed`, share: 14, cell: ({ weighedOn }) => dayWords(weighedOn) },
      {
        heading: say`off by, ${told.massUnit}`,
        share: 12,
        isNumber: true,
        cell: ({ differenceKg }) => told.massChange(differenceKg),
      },
      {
        heading: say`off by, %`,
        share: 10,
        isNumber: true,
        cell: ({ differenceFraction }) => told.perCentChange(differenceFraction),
      },
      {
        heading: say`effect on margin, ${told.massUnit}`,
        share: 12,
        isNumber: true,
        cell: ({ marginEffectKg }) => told.massChange(marginEffectKg),
      },
      {
        heading: say`CG, ${told.lengthUnit}`,
        share: 12,
        isNumber: true,
        cell: ({ cgEffectM }) => told.cgChange(cgEffectM),
      },
      {
        ...{ heading: say`cause; note`, share: 24 },
        cell: ({ cause, note }) =>
          [cause === undefined ? say`not stated` : term(cause), ...(note === undefined ? [] : [say`“${note}”`])].join(
            '; ',
          ),
      },
      {
        ...{ heading: say`owner; decision`, share: 24 },
        cell: (row) => `${ownerWords(row.owner)}; ${decisionWords(row)}`,
      },
    ],
    rows,
    say`No weighing is beyond its limit.`,
  );
}

function assemblyTable(sheet: Sheet, rows: BriefContent['drift']['assemblies']['rows'], told: Told): void {
  printTable<AssemblyDriftReport>(
    sheet,
    [
      { heading: say`assembly`, share: 36, cell: ({ number, name }) => `${number} ${name}` },
      { heading: say`flag`, share: 20, shape: ({ flag }) => SHAPES[flag], cell: ({ flag }) => flag },
      { heading: say`weighed`, share: 14, cell: ({ weighedOn }) => dayWords(weighedOn) },
      {
        heading: say`residual, ${told.massUnit}`,
        share: 14,
        isNumber: true,
        cell: ({ residualKg }) => told.massChange(residualKg),
      },
      {
        heading: say`effect on margin, ${told.massUnit}`,
        share: 14,
        isNumber: true,
        cell: ({ marginEffectKg }) => told.massChange(marginEffectKg),
      },
      {
        heading: say`CG, ${told.lengthUnit}`,
        share: 12,
        isNumber: true,
        cell: ({ cgEffectM }) => told.cgChange(cgEffectM),
      },
      { heading: say`decision`, share: 24, cell: ({ disposition }) => disposition ?? 'not decided' },
    ],
    rows,
  );
}

function smallOnesTable(sheet: Sheet, rows: BriefContent['drift']['manySmall']['rows'], told: Told): void {
  printTable<ManySmallReport>(
    sheet,
    [
      { heading: say`of`, share: 40, cell: ({ by, name }) => `${by} ${name}` },
      { heading: say`parts`, share: 10, isNumber: true, cell: ({ partCount }) => String(partCount) },
      { heading: say`sum, ${told.massUnit}`, share: 14, isNumber: true, cell: ({ sumKg }) => told.massChange(sumKg) },
      {
        heading: say`effect on margin, ${told.massUnit}`,
        share: 14,
        isNumber: true,
        cell: ({ marginEffectKg }) => told.massChange(marginEffectKg),
      },
      { heading: say`cause`, share: 24, cell: ({ cause }) => cause?.cause ?? 'not stated' },
    ],
    rows,
  );
}

export function groupList(sheet: Sheet, { groups }: BriefContent, told: Told): void {
  sheet.heading(say`Groups against their targets`);
  printTable<GroupForecastReport>(
    sheet,
    [
      { heading: say`group`, share: 30, cell: ({ group }) => group },
      { heading: say`parts`, share: 9, isNumber: true, cell: ({ partCount }) => String(partCount) },
      {
        heading: say`predicted, ${told.massUnit}`,
        share: 15,
        isNumber: true,
        cell: ({ predictedKg }) => told.mass(predictedKg),
      },
      {
        heading: say`forecast, ${told.massUnit}`,
        share: 18,
        isNumber: true,
        cell: (row) => told.massWithStd(row.forecastKg, row.forecastStdKg),
      },
      {
        heading: say`target, ${told.massUnit}`,
        share: 15,
        isNumber: true,
        cell: ({ targetKg }) => told.mass(targetKg),
      },
      {
        ...{ heading: say`margin of the forecast, ${told.massUnit}`, share: 20, isNumber: true },
        // A word where it is below nothing, so that nobody has to look for the sign.
        cell: ({ marginKg }) => `${(marginKg ?? 0) < 0 ? say`over: ` : ''}${told.massChange(marginKg)}`,
      },
    ],
    groups,
    say`There is no group yet.`,
  );
}

export function proposalList(sheet: Sheet, { proposals }: BriefContent, told: Told, remark: Remark): void {
  sheet.heading(countedHeading('Proposals', proposals));
  printTable<BriefProposal>(
    sheet,
    [
      { heading: say`proposal`, share: 40, cell: (row) => `${row.title}${isNew(row)}` },
      { heading: say`owner`, share: 16, cell: ({ owner }) => owner },
      {
        heading: say`state`,
        share: 14,
        cell: ({ state, unfit }) => (unfit.length === 0 ? state : say`${state}, no longer fits`),
      },
      {
        heading: say`due`,
        share: 18,
        cell: ({ due, isOverdue }) => (isOverdue ? say`${dayWords(due)}, overdue` : dayWords(due)),
      },
      {
        heading: say`saving, ${told.massUnit}`,
        share: 14,
        isNumber: true,
        cell: ({ savingKg }) => told.massChange(savingKg),
      },
      { heading: say`likelihood, %`, share: 12, isNumber: true, cell: ({ likelihood }) => told.perCent(likelihood) },
    ],
    proposals.rows,
    say`Nothing is proposed.`,
  );
  note(sheet, proposals);
  const { count, allSavingKg, weightedSavingKg } = proposals.forecast;
  if (count > 0)
    sheet.paragraph(
      'P',
      say`In the sums: ${count}. Together they would save ${told.mass(allSavingKg)} ${told.massUnit}, and ${told.mass(weightedSavingKg)} ${told.massUnit} by their likelihood.`,
      { size: 8 },
    );
  remark('proposals');
}

export function openList(sheet: Sheet, { open }: BriefContent): void {
  sheet.heading(say`Still to be done`, 20);
  const counts = open.counts.map(({ what, count }) => `${what}: ${count}`);
  const overdue = open.overdueProposals === 0 ? [] : [say`overdue proposals: ${open.overdueProposals}`];
  const all = [...counts, ...overdue];
  sheet.paragraph('P', all.length === 0 ? say`Nothing is open.` : `${all.join('; ')}.`);
}

/** What it was made from, so that anybody can hold it against the ledger. */
export function madeFrom(sheet: Sheet, { content, issued, briefId }: Brief): void {
  const { from, to, aircraft } = content;
  sheet.heading(say`What this was made from`, 40);
  const recorded = to.recordedAt === undefined ? '' : say`, recorded ${momentWords(to.recordedAt)}`;
  const lines = [
    say`As known at ${endWords(to)}${recorded}. Hash of that entry: ${to.hash ?? say`none`}`,
    from.hash === undefined
      ? say`Since ${endWords(from)}.`
      : say`Since ${endWords(from)}. Hash of that entry: ${from.hash}`,
    ...(aircraft.datum === '' ? [] : [say`Stations are counted from: ${aircraft.datum}`]),
    say`Brief ${briefId}${issued === undefined ? '' : `. Hash of the brief: ${issued.hash}`}`,
  ];
  for (const line of lines) sheet.paragraph('P', line, { size: 7.5 });
}
