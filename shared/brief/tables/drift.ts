/** What drifts, as tables of a brief (rule B4): parts, processes, weighed assemblies and sums of small differences. */

import type { BriefContent, BriefOwner, BriefPart } from '#shared/contract/brief.ts';
import { say, term } from '#shared/words/say.ts';
import { type BriefTable, tableOf, tableOfList } from './table.ts';

type Drift = Pick<BriefContent, 'aircraft' | 'drift'>;

export function partsTable({ aircraft, drift }: Drift): BriefTable {
  return tableOfList('parts', aircraft, drift.parts, [
    { heading: say`part`, kind: 'text', cell: ({ number }) => number },
    { heading: say`name`, kind: 'text', cell: ({ name }) => name },
    { heading: say`group`, kind: 'text', cell: ({ group }) => group },
    { heading: say`process`, kind: 'text', cell: ({ process }) => process },
    { heading: say`pieces`, kind: 'text', cell: piecesWords },
    { heading: say`flag`, kind: 'text', cell: ({ flag }) => flag },
    { heading: say`new`, kind: 'text', cell: ({ isNew }) => yesNo(isNew) },
    { heading: say`weighed on`, kind: 'day', cell: ({ weighedOn }) => weighedOn },
    { heading: say`condition`, kind: 'text', cell: ({ condition }) => condition },
    { heading: say`expected of one piece`, kind: 'mass', cell: ({ expectedKg }) => expectedKg },
    { heading: say`net of one piece`, kind: 'mass', cell: ({ netKg }) => netKg },
    { heading: say`standard uncertainty`, kind: 'mass', cell: ({ netStdKg }) => netStdKg },
    { heading: say`difference`, kind: 'mass', cell: ({ differenceKg }) => differenceKg },
    { heading: say`difference`, kind: 'per cent', cell: ({ differenceFraction }) => differenceFraction },
    { heading: say`limit`, kind: 'mass', cell: ({ limitKg }) => limitKg },
    { heading: say`effect on the margin`, kind: 'mass', cell: ({ marginEffectKg }) => marginEffectKg },
    { heading: say`effect on the CG`, kind: 'CG change', cell: ({ cgEffectM }) => cgEffectM },
    { heading: say`cause`, kind: 'text', cell: ({ cause }) => cause ?? 'not stated' },
    { heading: say`cause stated by`, kind: 'text', cell: ({ causeBy }) => causeBy },
    { heading: say`decision`, kind: 'text', cell: decisionWords },
    { heading: say`note`, kind: 'text', cell: ({ note }) => note },
    { heading: say`owner`, kind: 'text', cell: ({ owner }) => ownerWords(owner) },
    { heading: say`entry`, kind: 'count', cell: ({ weighingSeq }) => weighingSeq },
  ]);
}

export function processesTable({ aircraft, drift }: Drift): BriefTable {
  return tableOf('processes', aircraft, drift.processes, [
    { heading: say`process`, kind: 'text', cell: ({ process }) => process },
    { heading: say`runs`, kind: 'text', cell: ({ signal }) => signal.reading },
    { heading: say`new`, kind: 'text', cell: ({ isNew }) => yesNo(isNew) },
    { heading: say`began at part`, kind: 'text', cell: ({ signal }) => signal.began.part },
    { heading: say`began on`, kind: 'day', cell: ({ signal }) => signal.began.on },
    { heading: say`called at part`, kind: 'text', cell: ({ signal }) => signal.part },
    { heading: say`called on`, kind: 'day', cell: ({ signal }) => signal.on },
    { heading: say`called by`, kind: 'text', cell: ({ signal }) => CHARTS[signal.chart] },
    { heading: say`shift`, kind: 'per cent', cell: ({ shiftFraction }) => shiftFraction },
    { heading: say`standard uncertainty`, kind: 'per cent', cell: ({ shiftStdFraction }) => shiftStdFraction },
    { heading: say`pieces still to come`, kind: 'count', cell: ({ openPieces }) => openPieces },
    { heading: say`effect on the forecast`, kind: 'mass', cell: ({ effectKg }) => effectKg },
    { heading: say`standard uncertainty`, kind: 'mass', cell: ({ effectStdKg }) => effectStdKg },
    { heading: say`cause`, kind: 'text', cell: ({ cause }) => cause?.cause ?? 'not stated' },
    { heading: say`what was found`, kind: 'text', cell: ({ cause }) => cause?.found },
    { heading: say`owner`, kind: 'text', cell: ({ owner }) => ownerWords(owner) },
  ]);
}

const CHARTS: Readonly<Record<BriefContent['drift']['processes'][number]['signal']['chart'], string>> = {
  ewma: 'weighted mean',
  cusum: 'cumulative sum',
  both: 'both charts',
};

export function assembliesTable({ aircraft, drift }: Drift): BriefTable {
  return tableOfList('assemblies', aircraft, drift.assemblies, [
    { heading: say`part`, kind: 'text', cell: ({ number }) => number },
    { heading: say`name`, kind: 'text', cell: ({ name }) => name },
    { heading: say`group`, kind: 'text', cell: ({ group }) => group },
    { heading: say`flag`, kind: 'text', cell: ({ flag }) => flag },
    { heading: say`weighed on`, kind: 'day', cell: ({ weighedOn }) => weighedOn },
    { heading: say`condition`, kind: 'text', cell: ({ condition }) => condition },
    { heading: say`parts in it`, kind: 'count', cell: ({ partCount }) => partCount },
    { heading: say`expected of its parts`, kind: 'mass', cell: ({ expectedKg }) => expectedKg },
    { heading: say`net`, kind: 'mass', cell: ({ netKg }) => netKg },
    { heading: say`residual`, kind: 'mass', cell: ({ residualKg }) => residualKg },
    { heading: say`effect on the margin`, kind: 'mass', cell: ({ marginEffectKg }) => marginEffectKg },
    { heading: say`effect on the CG`, kind: 'CG change', cell: ({ cgEffectM }) => cgEffectM },
    { heading: say`decision`, kind: 'text', cell: ({ disposition }) => disposition ?? 'not decided' },
    { heading: say`decided by`, kind: 'text', cell: ({ decidedBy }) => decidedBy },
    { heading: say`entry`, kind: 'count', cell: ({ weighingSeq }) => weighingSeq },
  ]);
}

export function smallOnesTable({ aircraft, drift }: Drift): BriefTable {
  return tableOfList(say`many small ones`, aircraft, drift.manySmall, [
    { heading: say`by`, kind: 'text', cell: ({ by }) => by },
    { heading: say`name`, kind: 'text', cell: ({ name }) => name },
    { heading: say`parts`, kind: 'count', cell: ({ partCount }) => partCount },
    { heading: say`sum`, kind: 'mass', cell: ({ sumKg }) => sumKg },
    { heading: say`standard deviation of the sum`, kind: 'mass', cell: ({ sdKg }) => sdKg },
    { heading: say`effect on the margin`, kind: 'mass', cell: ({ marginEffectKg }) => marginEffectKg },
    { heading: say`effect on the CG`, kind: 'CG change', cell: ({ cgEffectM }) => cgEffectM },
    { heading: say`cause`, kind: 'text', cell: ({ cause }) => cause?.cause ?? 'not stated' },
    { heading: say`cause stated by`, kind: 'text', cell: ({ cause }) => cause?.by },
  ]);
}

/** `2 of 4`, or `1 to 3 of 4`: which pieces of how many a weighing is about. */
export function piecesWords({ pieces, quantity }: Pick<BriefPart, 'pieces' | 'quantity'>): string {
  const [first] = pieces;
  const last = pieces.at(-1);
  const isRun = first !== undefined && last !== undefined && pieces.length > 2 && last - first === pieces.length - 1;
  return say`${isRun ? say`${first} to ${last}` : pieces.join(', ')} of ${quantity}`;
}

/** `accepted by NV: tap test sound`. */
export function decisionWords({ disposition, decidedBy, inspection }: Partial<BriefPart>): string {
  if (disposition === undefined) return say`not decided`;
  const by =
    decidedBy === undefined || decidedBy === '' ? term(disposition) : say`${term(disposition)} by ${decidedBy}`;
  return inspection === undefined || inspection === '' ? by : `${by}: ${inspection}`;
}

const OWNER_AS: Readonly<Record<BriefOwner['as'], string>> = {
  proposal: 'proposal',
  decision: 'decided',
  cause: 'stated the cause',
};

export function ownerWords(owner: BriefOwner | undefined): string {
  return owner === undefined ? 'nobody' : `${owner.name} (${OWNER_AS[owner.as]})`;
}

function yesNo(is: boolean): string {
  return is ? 'yes' : 'no';
}
