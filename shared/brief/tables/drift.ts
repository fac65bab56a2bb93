/** What drifts, as tables of a brief (rule B4): parts, processes, weighed assemblies and sums of small differences. */
import type { BriefContent, BriefOwner, BriefPart } from '#shared/contract/brief.ts';
import { type BriefTable, tableOf, tableOfList } from './table.ts';

type Drift = Pick<BriefContent, 'aircraft' | 'drift'>;

export function partsTable({ aircraft, drift }: Drift): BriefTable {
  return tableOfList('parts', aircraft, drift.parts, [
    { heading: 'part', kind: 'text', cell: ({ number }) => number },
    { heading: 'name', kind: 'text', cell: ({ name }) => name },
    { heading: 'group', kind: 'text', cell: ({ group }) => group },
    { heading: 'process', kind: 'text', cell: ({ process }) => process },
    { heading: 'pieces', kind: 'text', cell: piecesWords },
    { heading: 'flag', kind: 'text', cell: ({ flag }) => flag },
    { heading: 'new', kind: 'text', cell: ({ isNew }) => yesNo(isNew) },
    { heading: 'weighed on', kind: 'day', cell: ({ weighedOn }) => weighedOn },
    { heading: 'condition', kind: 'text', cell: ({ condition }) => condition },
    { heading: 'expected of one piece', kind: 'mass', cell: ({ expectedKg }) => expectedKg },
    { heading: 'net of one piece', kind: 'mass', cell: ({ netKg }) => netKg },
    { heading: 'standard uncertainty', kind: 'mass', cell: ({ netStdKg }) => netStdKg },
    { heading: 'difference', kind: 'mass', cell: ({ differenceKg }) => differenceKg },
    { heading: 'difference', kind: 'per cent', cell: ({ differenceFraction }) => differenceFraction },
    { heading: 'limit', kind: 'mass', cell: ({ limitKg }) => limitKg },
    { heading: 'effect on the margin', kind: 'mass', cell: ({ marginEffectKg }) => marginEffectKg },
    { heading: 'effect on the CG', kind: 'CG change', cell: ({ cgEffectM }) => cgEffectM },
    { heading: 'cause', kind: 'text', cell: ({ cause }) => cause ?? 'not stated' },
    { heading: 'cause stated by', kind: 'text', cell: ({ causeBy }) => causeBy },
    { heading: 'decision', kind: 'text', cell: ({ disposition }) => disposition ?? 'not decided' },
    { heading: 'owner', kind: 'text', cell: ({ owner }) => ownerWords(owner) },
    { heading: 'entry', kind: 'count', cell: ({ weighingSeq }) => weighingSeq },
  ]);
}

export function processesTable({ aircraft, drift }: Drift): BriefTable {
  return tableOf('processes', aircraft, drift.processes, [
    { heading: 'process', kind: 'text', cell: ({ process }) => process },
    { heading: 'runs', kind: 'text', cell: ({ signal }) => signal.reading },
    { heading: 'new', kind: 'text', cell: ({ isNew }) => yesNo(isNew) },
    { heading: 'began at part', kind: 'text', cell: ({ signal }) => signal.began.part },
    { heading: 'began on', kind: 'day', cell: ({ signal }) => signal.began.on },
    { heading: 'called at part', kind: 'text', cell: ({ signal }) => signal.part },
    { heading: 'called on', kind: 'day', cell: ({ signal }) => signal.on },
    { heading: 'called by', kind: 'text', cell: ({ signal }) => CHARTS[signal.chart] },
    { heading: 'shift', kind: 'per cent', cell: ({ shiftFraction }) => shiftFraction },
    { heading: 'standard uncertainty', kind: 'per cent', cell: ({ shiftStdFraction }) => shiftStdFraction },
    { heading: 'pieces still to come', kind: 'count', cell: ({ openPieces }) => openPieces },
    { heading: 'effect on the forecast', kind: 'mass', cell: ({ effectKg }) => effectKg },
    { heading: 'standard uncertainty', kind: 'mass', cell: ({ effectStdKg }) => effectStdKg },
    { heading: 'cause', kind: 'text', cell: ({ cause }) => cause?.cause ?? 'not stated' },
    { heading: 'what was found', kind: 'text', cell: ({ cause }) => cause?.found },
    { heading: 'owner', kind: 'text', cell: ({ owner }) => ownerWords(owner) },
  ]);
}

const CHARTS: Readonly<Record<BriefContent['drift']['processes'][number]['signal']['chart'], string>> = {
  ewma: 'weighted mean',
  cusum: 'cumulative sum',
  both: 'both charts',
};

export function assembliesTable({ aircraft, drift }: Drift): BriefTable {
  return tableOfList('assemblies', aircraft, drift.assemblies, [
    { heading: 'part', kind: 'text', cell: ({ number }) => number },
    { heading: 'name', kind: 'text', cell: ({ name }) => name },
    { heading: 'group', kind: 'text', cell: ({ group }) => group },
    { heading: 'flag', kind: 'text', cell: ({ flag }) => flag },
    { heading: 'weighed on', kind: 'day', cell: ({ weighedOn }) => weighedOn },
    { heading: 'condition', kind: 'text', cell: ({ condition }) => condition },
    { heading: 'parts in it', kind: 'count', cell: ({ partCount }) => partCount },
    { heading: 'expected of its parts', kind: 'mass', cell: ({ expectedKg }) => expectedKg },
    { heading: 'net', kind: 'mass', cell: ({ netKg }) => netKg },
    { heading: 'residual', kind: 'mass', cell: ({ residualKg }) => residualKg },
    { heading: 'effect on the margin', kind: 'mass', cell: ({ marginEffectKg }) => marginEffectKg },
    { heading: 'effect on the CG', kind: 'CG change', cell: ({ cgEffectM }) => cgEffectM },
    { heading: 'decision', kind: 'text', cell: ({ disposition }) => disposition ?? 'not decided' },
    { heading: 'decided by', kind: 'text', cell: ({ decidedBy }) => decidedBy },
    { heading: 'entry', kind: 'count', cell: ({ weighingSeq }) => weighingSeq },
  ]);
}

export function smallOnesTable({ aircraft, drift }: Drift): BriefTable {
  return tableOfList('many small ones', aircraft, drift.manySmall, [
    { heading: 'by', kind: 'text', cell: ({ by }) => by },
    { heading: 'name', kind: 'text', cell: ({ name }) => name },
    { heading: 'parts', kind: 'count', cell: ({ partCount }) => partCount },
    { heading: 'sum', kind: 'mass', cell: ({ sumKg }) => sumKg },
    { heading: 'standard deviation of the sum', kind: 'mass', cell: ({ sdKg }) => sdKg },
    { heading: 'effect on the margin', kind: 'mass', cell: ({ marginEffectKg }) => marginEffectKg },
    { heading: 'effect on the CG', kind: 'CG change', cell: ({ cgEffectM }) => cgEffectM },
    { heading: 'cause', kind: 'text', cell: ({ cause }) => cause?.cause ?? 'not stated' },
    { heading: 'cause stated by', kind: 'text', cell: ({ cause }) => cause?.by },
  ]);
}

/** `2 of 4`, or `1 to 3 of 4`: which pieces of how many a weighing is about. */
export function piecesWords({ pieces, quantity }: Pick<BriefPart, 'pieces' | 'quantity'>): string {
  const [first] = pieces;
  const last = pieces.at(-1);
  const isRun = first !== undefined && last !== undefined && pieces.length > 2 && last - first === pieces.length - 1;
  return `${isRun ? `${first} to ${last}` : pieces.join(', ')} of ${quantity}`;
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
