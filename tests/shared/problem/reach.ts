/**
 * For every problem code that belongs to the rules: something a person can do that leads to it, through the real functions. Codes that
 * only the store, the served API or the command can answer are listed beside, so that none is forgotten.
 */
import type { WhatIfChange } from '#shared/contract/forecast.ts';
import { type ProposalWords, proposalFromWords } from '#shared/forecast/proposal-words.ts';
import { rangeBallast } from '#shared/forecast/range-ballast.ts';
import { forecastReport } from '#shared/forecast/report.ts';
import { whatIf } from '#shared/forecast/what-if.ts';
import { placed } from '#shared/geometry/placement.ts';
import { tooLargeToRead } from '#shared/geometry/read-mesh.ts';
import { objectionsTo } from '#shared/ledger/admit.ts';
import { ballastFromWords } from '#shared/loading/ballast-from-words.ts';
import type { LoadingLimits } from '#shared/loading/limits.ts';
import { refusalsOfLimits } from '#shared/loading/refusals.ts';
import type { Refusal, RefusalCode } from '#shared/problem/registry.ts';
import { readLength, readMass, readShare } from '#shared/quantity/typed.ts';
import type { Result } from '#shared/result.ts';
import { readCsv } from '#shared/table/csv.ts';
import { type Mark, markKey, markProblems, proposed } from '#shared/table/grid.ts';
import { importParts } from '#shared/table/parts-file.ts';
import { importWeighings } from '#shared/table/weighings-file.ts';
import { targetsFromWords } from '#shared/target/from-words.ts';
import { readScaleLine, readScaleText } from '#shared/weighing/scale-line.ts';
import { entryFromWords } from '#shared/words/entry-from-words.ts';
import { aircraftWeighingOf } from '../aircraft-weighing/make-weighings.ts';
import { REFUSED_WEIGHINGS } from '../aircraft-weighing/refused-weighings.ts';
import { binaryStl, box, keptGeometry, refusalOf, type Triangles, textStl, utf8 } from '../geometry/make-mesh.ts';
import { MATERIALS, ofLines, PANEL, readSchedule, scheduleOf } from '../layup/make-schedules.ts';
import {
  aircraftOf,
  armOf,
  assemblyOf,
  Chain,
  dispositionOf,
  estimateOf,
  materialOf,
  noteOf,
  ON,
  partIdOf,
  partOf,
  processCauseOf,
  removedOf,
  scaleOf,
  TODAY,
  targetsOf,
  uuidOf,
  weighingOf,
} from '../ledger/make-entries.ts';
import { envelopeOf, limitsOf, PILOT, seatOf, tankOf } from '../loading/make-limits.ts';
import { contextOf, tableOf } from '../table/tables.ts';
import { readerOf } from '../words/words.ts';

type Refusals = readonly Refusal[];

/** Codes that only a file system, a database or the command line can lead to; their tests are in `tests/db` and `tests/api`. */
export const ELSEWHERE: readonly RefusalCode[] = [
  'file-unreadable',
  'file-is-workbook',
  'file-not-text',
  'file-not-json',
  'file-too-large',
  'workbook-unreadable',
  'entry-id-reused',
  'aircraft-unknown',
  'aircraft-name-taken',
  'no-such-entry',
  'period-reversed',
  'folder-missing',
  'nothing-to-import',
  'proposal-id-reused',
  'proposal-moved-on',
  'brief-id-reused',
  'brief-closed',
  'brief-moved-on',
  'brief-unknown',
  'file-taken',
  'file-not-written',
  'weighing-is-signed',
  'weighing-draft-gone',
  'archive-unreadable',
  'archive-too-large',
  'archive-name-refused',
  'archive-newer',
  'archive-manifest-changed',
  'archive-file-missing',
  'archive-file-strange',
  'archive-saved-anew',
  'archive-changed',
  'archive-row-missing',
  'archive-row-out-of-place',
  'archive-row-refused',
  'archive-chain-broken',
  'archive-headline-differs',
  'archive-place-taken',
  'aircraft-here-already',
  'ledger-not-whole',
  'checkpoint-not-one',
  'checkpoint-line',
  'checkpoint-line-missing',
  'checkpoint-forged',
  'checkpoint-other-key',
  'checkpoint-other-aircraft',
  'checkpoint-aircraft-missing',
  'fingerprint-unreadable',
  'key-file-needed',
  'key-file-unreadable',
  'key-file-not-one',
  'key-file-open-to-others',
];

export const REACH: Partial<Record<RefusalCode, () => Refusals>> = {
  'file-empty': () => csv(''),
  'quote-not-closed': () => csv('a,b\n"1,2'),
  'quote-misplaced': () => csv('a,b\n1" x,2'),
  'no-rows': () => csv('a,b'),
  'column-missing': () => parts('number', 'P-9'),
  'column-twice': () => parts('number,part no,group', 'P-9,P-9,wing'),
  'column-unit-unknown': () => parts('number,group,estimate [stone]', 'P-9,wing,4'),
  'cells-too-many': () => parts('number,group', 'P-9,wing,extra'),
  'mesh-too-large': () => given(tooLargeToRead(300e6)),
  'mesh-empty': () => mesh(utf8('')),
  'mesh-not-known': () => mesh(utf8('a part')),
  'mesh-cut-short': () => mesh(binaryStl(box(1, 1, 1)).slice(0, 200)),
  'mesh-ends-early': () => mesh(utf8('solid\nfacet normal 0 0 1\n')),
  'mesh-line-unreadable': () => mesh(utf8('v 1,5 0 0\n')),
  'mesh-not-finite': () => mesh(utf8('v nan 0 0\n')),
  'mesh-no-such-vertex': () => mesh(utf8('v 0 0 0\nf 1 2 3\n')),
  'mesh-without-triangles': () => mesh(binaryStl([])),
  'mesh-too-far': () => mesh(textStl(box(2000, 1, 1))),
  'mesh-without-area': () => mesh(textStl(LINE)),
  'solid-open': () => mesh(textStl(box(1, 1, 1).slice(1)), 'solid'),
  'solid-turned-over': () =>
    mesh(textStl(box(1, 1, 1).map(([a, b, c], at) => (at === 0 ? [a, c, b] : [a, b, c]))), 'solid'),
  'solid-without-volume': () => mesh(textStl(box(1, 1, 0)), 'solid'),
  'axes-along-one-line': () => axes('aft', 'forward', false),
  'axes-mirror-the-part': () => axes('aft', 'left', false),
  'axes-do-not-mirror': () => axes('aft', 'right', true),
  'limits-missing': () => {
    const read = ballastFromWords({ places: [{ x: '1 m' }] }, undefined);
    return read.ok ? [] : read.refusal.map(({ refusal }) => refusal);
  },
  'tank-arm-twice': () => words({ kind: 'loading', limits: { stations: [TANK] } }),
  'number-too-long': () => of(readMass(`${'0'.repeat(90)}4 kg`)),
  'not-a-number': () => of(readMass('heavy')),
  'ambiguous-comma': () => of(readMass('1,234 kg')),
  'unit-missing': () => of(readMass('4')),
  'unit-unknown': () => of(readLength('4 furlong')),
  'out-of-range': () => of(readLength('2000 m')),
  'ambiguous-share': () => of(readShare('0.24')),
  'scale-line-too-long': () => of(readScaleLine('0'.repeat(200))),
  'scale-over-range': () => of(readScaleLine('OL,GS,+999999 kg')),
  'scale-under-range': () => of(readScaleLine('UL')),
  'scale-error': () => of(readScaleLine('Err3')),
  'scale-without-value': () => of(readScaleLine('------ kg')),
  'scale-two-numbers': () => of(readScaleLine('12 kg 1.5')),
  'scale-number-unreadable': () => of(readScaleLine('1.2.3 kg')),
  'scale-comma-unclear': () => of(readScaleLine('12,345 kg')),
  'scale-unit-unknown': () => of(readScaleLine('12 mg')),
  'scale-two-units': () => of(readScaleLine('12 kg lb')),
  'scale-unit-unclear': () => of(readScaleLine('12 G')),
  'scale-word-unknown': () => of(readScaleLine('NOT STABLE 12 kg')),
  'scale-marks-disagree': () => of(readScaleLine('GROSS NET 12 kg')),
  'scale-lines-differ': () => of(readScaleText('12 kg\r\n13 kg')),
  'cell-error': () => marked('error'),
  'cell-without-result': () => marked('no result'),
  'cell-is-date': () => marked('date'),
  'cell-merged': () => marked('merged'),
  missing: () => parts('number,group', ',wing'),
  'not-a-count': () => parts('number,group,qty', 'P-9,wing,0'),
  'text-refused': () => parts('number,group,note', `P-9,wing,${'x'.repeat(2001)}`),
  'not-a-choice': () => parts('number,group,side', 'P-9,wing,up'),
  'not-a-day': () => parts('number,group,date', 'P-9,wing,1/2/2026'),
  'not-an-entry': () => words({ kind: 'correction', entry: 'the last', reason: 'x', replacement: null }),
  'not-piece-numbers': () => weighings('part,gross,condition,piece', 'P-1,4 kg,trimmed,all'),
  'field-unknown': () => words({ kind: 'note', text: 'x', colour: 'red' }),
  'shape-refused': () => words({ kind: 'note', text: 'x', id: 'mine' }),
  negative: () => parts('number,group,estimate,arm uncertainty', 'P-9,wing,4 kg,-1 mm'),
  'estimate-missing': () => parts('number,group,estimate,x', 'P-9,wing,,1 m'),
  'estimate-column-missing': () => parts('number,group,x', 'P-9,wing,1 m'),
  'line-of-sums': () => parts('number,group', 'Total,'),
  'later-above-estimate': () => parts('number,group,estimate,later', 'P-9,wing,4 kg,5 kg'),
  'gross-not-above-tare': () => weighings('part,gross,tare,condition', 'P-1,4 kg,5 kg,trimmed'),
  'readings-differ': () => weighings('part,gross,tare,condition', 'P-1,4 kg/4 kg/4 kg,1 kg/1 kg,trimmed'),
  'pieces-disagree': () => weighings('part,gross,condition,piece,qty', 'P-1,4 kg,trimmed,1,2'),
  'which-piece': () => weighings('part,gross,condition', 'P-1,4 kg,trimmed'),
  'no-such-piece': () => weighings('part,gross,condition,piece', 'P-1,4 kg,trimmed,7'),
  'finish-above-later': () => parts('number,group,estimate,later,finish', 'P-9,wing,4 kg,1 kg,2 kg'),
  'arm-missing': () => next((chain) => chain.record(armOf(1, {}))),
  'arm-stated-twice': () => words({ ...ON_SUPPORTS, x: '2 m' }),
  'arm-ways-mixed': () => words({ ...ON_SUPPORTS, how: 'by hand' }),
  'by-hand-without-uncertainty': () => words({ kind: 'arm measured', part: 'P-1', how: 'by hand', x: '2 m' }),
  'arm-disagrees': () => next((chain) => chain.record(armOf(1, { xM: 2, how: 'balanced on a bar' }))),
  'station-from-geometry': () => words({ ...PLACED, x: '2 m' }),
  'geometry-disagrees': () => next((chain) => chain.record(estimateOf(1, { xM: 9, geometry: PLACED.geometry }))),
  'supports-at-one-place': () => words({ ...ON_SUPPORTS, 'second station': '500 mm' }),
  'supports-bear-nothing': () => words({ ...ON_SUPPORTS, 'first load': '0 kg', 'second load': '0 kg' }),
  ...Object.fromEntries(
    Object.entries(REFUSED_WEIGHINGS).map(([code, sent]) => [code, () => withWords(() => {}, sent)]),
  ),
  'not-as-weighed': () => next((chain) => chain.record({ ...aircraftWeighingOf(), massKg: 400 })),
  'net-disagrees': () => next((chain) => chain.record({ ...weighingOf(1, 4), netKg: 5 })),
  'days-reversed': () =>
    next((chain) => chain.record(scaleOf('bench', { calibratedOn: '2026-03-01', dueOn: '2026-02-01' }))),
  'coverage-missing': () => words({ kind: 'scale', scale: 'bench', 'calibration uncertainty': '0.02 %' }),
  'target-zero': () => targets({ 'empty mass': '0 kg' }),
  'reserve-too-large': () => targets({ 'empty mass': '9 kg', reserve: '9 kg' }),
  'range-reversed': () => targets({ 'empty mass': '9 kg', 'cg forward': '2 m', 'cg aft': '1 m' }),
  'group-twice': () => targets({ 'empty mass': '9 kg' }, ['wing', 'wing']),
  'chord-unknown': () => targets({ 'empty mass': '9 kg', 'cg aft': '30 % MAC' }),
  'chord-half': () => next((chain) => chain.record(aircraftOf({ macM: 1 }))),
  'schedule-empty': () => schedule({ regions: [] }),
  'region-twice': () => schedule({ ...PANEL, regions: [...PANEL.regions, ...PANEL.regions] }),
  'material-twice': () => schedule({ ...PANEL, materials: [FITTING, FITTING] }),
  'material-unknown': () => schedule(ofLines({ is: 'ply', material: 'Silk', layers: '1' })),
  'material-unfit': () => schedule(ofLines({ is: 'ply', material: 'Foam', layers: '1' })),
  'resin-missing': () => schedule({ regions: PANEL.regions }),
  'fraction-twice': () => schedule({ ...PANEL, 'fibre by volume': '50 %' }),
  'fraction-impossible': () => schedule({ ...PANEL, 'fibre by mass': '100 %' }),
  'band-reversed': () => schedule({ ...PANEL, 'band low': '60 %', 'band high': '50 %' }),
  'perimeter-missing': () =>
    schedule(ofLines({ is: 'core', material: 'Foam', coverage: '50 %', bevel: '45', outline: 'other' })),
  'perimeter-too-short': () =>
    schedule(ofLines({ is: 'core', material: 'Foam', perimeter: '1 m', bevel: '45', outline: 'rectangle' })),
  'bevel-too-large': () => schedule(ofLines({ is: 'core', material: 'Foam', bevel: '1', outline: 'rectangle' })),
  'kerfs-above-core': () =>
    schedule(
      ofLines({ is: 'core', material: 'Foam', 'kerf length': '1 m', 'kerf width': '1 mm', 'kerf depth': '20 mm' }),
    ),
  'resin-not-in-part': () =>
    words({
      kind: 'weighing',
      part: 'P-1',
      piece: '1',
      gross: '4 kg',
      condition: 'trimmed',
      'resin mixed': '1 kg',
      'resin left': '1 kg',
    }),
  'laid-up-is-stated': () =>
    withWords(recordMaterials, { kind: 'estimate', part: 'P-1', estimate: '1 kg', layUp: PANEL }),
  'not-as-laid-up': () => next((chain) => chain.record(estimateOf(1, { layUp: scheduleOf(PANEL) }))),
  'envelope-too-few': () => limits({ envelope: envelopeOf() }),
  'envelope-crosses-itself': () => limits({ envelope: envelopeOf([4, 1], [4, 2], [6, 1], [6, 2]) }),
  'envelope-without-area': () => limits({ envelope: envelopeOf([4, 1], [5, 1], [6, 1]) }),
  'envelope-in-two': () => limits({ envelope: envelopeOf([4, 1], [4, 3], [6, 3], [5, 2], [6, 1]) }),
  'seats-too-many': () => limits({ stations: Array.from({ length: 13 }, (_, at) => seatOf(`Seat ${at}`, 1)) }),
  'station-twice': () => limits({ stations: [PILOT, PILOT] }),
  'station-unknown': () => limits({ cases: [{ name: 'A', loads: [{ station: 'Roof', massKg: 1 }], burn: [] }] }),
  'case-twice': () => limits({ cases: [...limitsOf().cases, ...limitsOf().cases] }),
  'least-above-most': () => limits({ stations: [seatOf('Bench', 1, { leastKg: 90, mostKg: 80 })] }),
  'table-not-increasing': () => limits({ stations: [tankOf('Tank', [FULL, FULL])] }),
  'table-beyond-tank': () => limits({ stations: [tankOf('Tank', [{ ...FULL, quantityL: 5 }, FULL], { usableL: 9 })] }),
  'load-in-other-unit': () =>
    limits({ cases: [{ name: 'A', loads: [{ station: 'Pilot', quantityL: 60 }], burn: [] }] }),
  'load-out-of-bounds': () => limits({ cases: [{ name: 'A', loads: [{ station: 'Pilot', massKg: 5 }], burn: [] }] }),
  'fuel-above-capacity': () =>
    limits({ cases: [{ name: 'A', loads: [{ station: 'Wing tanks', quantityL: 900 }], burn: [] }] }),
  'burn-above-fuel': () => limits({ cases: [{ name: 'A', loads: [], burn: [{ tank: 'Wing tanks', quantityL: 1 }] }] }),
  'maximum-below-empty': () => limits({ maximumKg: 300 }),
  'maximum-above-maximum': () => limits({ zeroFuelMaximumKg: 900 }),
  'lateral-reversed': () => limits({ lateral: { leftM: 1, rightM: -1 } }),
  'lateral-without-butt-line': () => limits({ lateral: { leftM: -1, rightM: 1 } }),
  'above-capacity': () =>
    next((chain) => {
      chain.record(scaleOf('Bench', { capacityKg: 3 }));
      chain.record(weighingOf(1, 4, { scale: 'bench' }));
    }),
  'is-an-assembly': () => withChild((chain) => chain.record(weighingOf(3, 4))),
  'has-no-parts': () =>
    words({ kind: 'assembly weighing', part: 'P-1', gross: '4 kg', condition: 'trimmed', 'not yet in': 'none' }),
  'assembly-of-many': () => withChild((chain) => chain.record(assemblyOf(3, 4, [4])), { quantity: 2 }),
  'not-in-assembly': () => withChild((chain) => chain.record(assemblyOf(3, 4, [1]))),
  'in-without-its-assembly': () =>
    withChild((chain) => {
      chain.record(partOf(5, { parentPartId: partIdOf(4) }));
      chain.record(assemblyOf(3, 4, [5]));
    }),
  'nothing-in-it': () =>
    withWords((chain) => withChildIn(chain), {
      kind: 'assembly weighing',
      part: 'P-3',
      gross: '4 kg',
      condition: 'trimmed',
      'not yet in': 'P-4',
    }),
  'not-of-assembly': () => weighings('part,gross,condition,not yet in,lot', 'P-1,4 kg,trimmed,none,L7'),
  'not-weighed': () => next((chain) => chain.record(dispositionOf(1, 'accepted', { pieces: [2] }))),
  'inspection-missing': () =>
    next((chain) => {
      chain.record(weighingOf(1, 3, { pieces: [2] }));
      chain.record(dispositionOf(1, 'accepted', { pieces: [2] }));
    }),
  'no-such-release': () => next((chain) => chain.record(processCauseOf('prepreg', 1))),
  'not-called': () => withWords(() => {}, { kind: 'process cause', process: 'prepreg', cause: 'dry' }),
  'adds-up-to-nothing': () =>
    withWords(() => {}, { kind: 'process cause', 'sum of': 'group', name: 'wing', cause: 'dry' }),
  'process-and-sum': () =>
    withWords(() => {}, {
      ...{ kind: 'process cause', process: 'prepreg', cause: 'dry' },
      ...{ 'sum of': 'group', name: 'wing' },
    }),
  'unknown-part': () => next((chain) => chain.record(noteOf('x', 9))),
  'part-is-removed': () =>
    next((chain) => {
      chain.record(removedOf(1));
      chain.record(noteOf('x', 1));
    }),
  'change-of-no-part': () => scratch({ act: 'remove', partId: partIdOf(9) }),
  'change-takes-too-much': () => scratch({ act: 'add mass', partId: partIdOf(1), massKg: -1000 }),
  'change-moves-no-station': () => scratch({ act: 'move', partId: partIdOf(1), zM: 1 }),
  'ballast-on-wrong-side': () => scratch({ act: 'add part', massKg: 5, xM: 50 }),
  'cg-range-missing': () => ballast(begun()),
  'cg-missing': () => {
    const chain = new Chain();
    chain.record(targetsOf(9, { cgForwardM: 1, cgAftM: 2 }));
    return ballast(chain);
  },
  'proposal-says-nothing': () => proposal({}),
  'saving-stated-twice': () => proposal({ saving: '1 kg', changes: [{ act: 'remove', part: 'P-1' }] }),
  'part-has-entries': () => next((chain) => chain.correct(first(chain), undefined)),
  'number-twice': () => parts('number,group', 'P-9,wing', 'p-9,wing'),
  'number-taken': () => parts('number,group', 'P-1,tail'),
  'row-twice': () => weighings('part,gross,condition,piece', 'P-1,4 kg,trimmed,1', 'P-1,4 kg,trimmed,1'),
  'unknown-assembly': () => parts('number,group,assembly', 'P-9,wing,WING'),
  'assembly-cycle': () => parts('number,group,assembly', 'P-9,wing,P-9'),
  'day-in-future': () => next((chain) => chain.record(noteOf('x'), { on: '2026-07-01' })),
  'reason-missing': () =>
    next((chain) => {
      chain.record(targetsOf(9));
      chain.record(targetsOf(8));
    }),
  'nothing-to-correct': () =>
    next((chain) => chain.correct(new Chain().record(noteOf('x'), { id: partIdOf(99) }), undefined)),
  'already-corrected': () =>
    next((chain) => {
      const note = chain.record(noteOf('x'));
      chain.correct(note, undefined);
      chain.correct(note, undefined);
    }),
  'correction-of-other-kind': () => next((chain) => chain.correct(first(chain), noteOf('x'))),
  'correction-changes-nothing': () => next((chain) => chain.correct(first(chain), partOf(1, { quantity: 2 }))),
};

const LINE: Triangles = [
  [
    [0, 0, 0],
    [1, 1, 1],
    [2, 2, 2],
  ],
];

const PLACED = { kind: 'estimate', part: 'P-1', estimate: '4 kg', geometry: keptGeometry() };

const ON_SUPPORTS = {
  kind: 'arm measured',
  part: 'P-1',
  'first load': '2 kg',
  'first station': '500 mm',
  'second load': '6 kg',
  'second station': '2500 mm',
};

function begun(): Chain {
  const chain = new Chain();
  chain.record(partOf(1, { quantity: 2 }));
  chain.record(estimateOf(1));
  chain.record(weighingOf(1, 4));
  return chain;
}

function first(chain: Chain) {
  const [entry] = chain.entries;
  if (entry === undefined) throw new Error('an empty chain');
  return entry;
}

/** The objections to the last entry that `add` records. */
function next(add: (chain: Chain) => unknown): Refusals {
  const chain = begun();
  add(chain);
  const last = chain.entries.at(-1);
  if (last === undefined) return [];
  return objectionsTo(last.entry, chain.fold(last.seq - 1), TODAY).map(({ refusal }) => refusal);
}

/** An assembly P-3 with P-4 in it. */
function withChildIn(chain: Chain, assembly: Parameters<typeof partOf>[1] = {}): void {
  chain.record(partOf(3, assembly));
  chain.record(partOf(4, { parentPartId: partIdOf(3) }));
}

function withChild(add: (chain: Chain) => unknown, assembly: Parameters<typeof partOf>[1] = {}): Refusals {
  return next((chain) => {
    withChildIn(chain, assembly);
    add(chain);
  });
}

function of(read: Result<unknown, Refusal>): Refusals {
  return read.ok ? [] : [read.refusal];
}

function given(refusal: Refusal | undefined): Refusals {
  return refusal === undefined ? [] : [refusal];
}

function mesh(bytes: Uint8Array, shape: 'shell' | 'solid' = 'shell'): Refusals {
  return given(refusalOf(bytes, { shape }));
}

function axes(xPoints: 'aft', yPoints: 'forward' | 'left' | 'right', isMirrored: boolean): Refusals {
  const result = placed({ xPoints, yPoints, zPoints: 'up', isMirrored, zero: { xM: 0, yM: 0, zM: 0 } });
  return result.ok ? [] : [result.refusal];
}

function ballast(chain: Chain): Refusals {
  const answer = rangeBallast(forecastReport(chain.fold()), 1);
  return answer.ok ? [] : [answer.refusal];
}

function proposal(words: ProposalWords): Refusals {
  const fields = { title: 'Lighter', owner: 'Ann', likelihood: '50 %', due: '2026-07-01', ...words };
  const answer = proposalFromWords(begun().fold(), fields);
  return answer.ok ? [] : answer.refusal.map(({ refusal }) => refusal);
}

/** Ballast would have to lie forward of the parts, and is offered a station behind them. */
function scratch(change: WhatIfChange): Refusals {
  const chain = begun();
  chain.record(partOf(8));
  chain.record(estimateOf(8, { xM: 1 }));
  const answer = whatIf(chain.fold(), { changes: [change], ballastAtM: 60 });
  return answer.ok ? [] : [answer.refusal];
}

function csv(text: string): Refusals {
  const table = readCsv(text);
  return table.ok ? [] : [table.refusal.refusal];
}

function marked(mark: Mark): Refusals {
  const rows = tableOf('number,group', 'P-9,wing');
  const grid = { rows: [rows.heading, ...rows.rows], separator: ',', marks: new Map([[markKey(2, 0), mark]]) } as const;
  return markProblems(grid, proposed(grid.rows)).map(({ refusal }) => refusal);
}

function parts(...lines: string[]): Refusals {
  return importParts(tableOf(...lines), contextOf(begun().entries)).problems.map(({ refusal }) => refusal);
}

function weighings(...lines: string[]): Refusals {
  return importWeighings(tableOf(...lines), contextOf(begun().entries)).problems.map(({ refusal }) => refusal);
}

function targets(fields: Record<string, string>, groups: readonly string[] = []): Refusals {
  const reader = readerOf(fields);
  targetsFromWords(
    reader,
    undefined,
    groups.map((group) => ({ group, massKg: 1, typed: '1 kg' })),
  );
  return reader.problems.map(({ refusal }) => refusal);
}

function recordMaterials(chain: Chain): void {
  for (const material of MATERIALS) chain.record(materialOf(material));
}

const FITTING = { name: 'Bolt', is: 'fitting', mass: '4 g' };

function schedule(sent: unknown): Refusals {
  const read = readSchedule(sent);
  return read.ok ? [] : read.refusal.map(({ refusal }) => refusal);
}

const TANK = { what: 'tank', name: 'Tank', fluid: 'avgas', density: '0.72 kg/L', usable: '9 L', x: '2 m', arms: [{}] };

const FULL = { quantityL: 100, xM: 2 };

function limits(changes: Partial<LoadingLimits>): Refusals {
  const problems = refusalsOfLimits(limitsOf(changes), { emptyKg: 350, hasChord: false });
  return problems.map(({ refusal }) => refusal);
}

function words(sent: unknown): Refusals {
  return withWords(() => undefined, sent);
}

function withWords(add: (chain: Chain) => unknown, sent: unknown): Refusals {
  const chain = begun();
  add(chain);
  const context = { ledger: chain.fold(), day: ON, by: 'Ann', newId: () => uuidOf(77, 7) };
  const entry = entryFromWords(sent, context);
  return entry.ok ? [] : entry.refusal.map(({ refusal }) => refusal);
}
