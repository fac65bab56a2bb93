/**
 * What is sent to a door so that it is refused, by the code of the refusal. Each table belongs to doors of its own, and all of it is sent to
 * the ledger that `BEGUN` makes; its aircraft states no chord. The figures are invented.
 */
import type { RefusalCode } from '#shared/problem/registry.ts';
import { newId } from '#tests/api/door-shop.ts';
import { REFUSED_WEIGHINGS } from '#tests/shared/aircraft-weighing/refused-weighings.ts';
import { keptGeometry } from '#tests/shared/geometry/make-mesh.ts';
import { LOADINGS } from './reach-loading.ts';

type Sent = Readonly<Record<string, unknown>>;
type ByCode = Partial<Record<RefusalCode, Sent>>;

const weighing = { kind: 'weighing', part: 'W', piece: '1', gross: '4 kg', condition: 'finished' };
const targets = { kind: 'targets', 'empty mass': '50 kg' };
const supports = { kind: 'arm measured', part: 'LONE', 'first load': '1 kg', 'second load': '1 kg' };
const apart = { 'first station': '0 m', 'second station': '1 m' };
const assembly = { kind: 'assembly weighing', part: 'BOX', gross: '9 kg', condition: 'finished' };
const scale = { kind: 'scale', scale: 'bench' };
const correct = (entry: number, replacement: object | null) => ({
  kind: 'correction',
  entry,
  reason: 'x',
  replacement,
});

const geometry = keptGeometry();
const onGeometry = { kind: 'estimate', part: 'LONE', estimate: '4 kg', geometry };
const lying = (placement: Partial<typeof geometry.placement>) => ({
  ...onGeometry,
  geometry: { ...geometry, placement: { ...geometry.placement, ...placement } },
});

const foam = { is: 'core', material: 'Foam' };
const panel = (...lines: readonly Sent[]) => ({ name: 'Panel', area: '1 m²', perimeter: '4 m', lines });
const skin = panel({ is: 'ply', material: 'Twill', layers: '1' });
const wetted = { resin: 'Epoxy', 'fibre by mass': '60 %' };
const laidUp = (layUp: Sent) => ({ kind: 'estimate', part: 'LONE', layUp });
const bolt = { name: 'Bolt', is: 'fitting', mass: '4 g' };
const kerfs = { 'kerf length': '1 m', 'kerf width': '1 mm', 'kerf depth': '20 mm' };

/** Entries. */
export const ENTRIES: ByCode = {
  'number-too-long': { ...weighing, gross: `${'0'.repeat(90)}4 kg` },
  'not-a-number': { ...weighing, gross: 'heavy' },
  'ambiguous-comma': { ...weighing, gross: '1,234 kg' },
  'unit-missing': { ...weighing, gross: '4' },
  'unit-unknown': { ...weighing, gross: '4 stone' },
  'out-of-range': { ...weighing, gross: '1e9 kg' },
  'ambiguous-share': { kind: 'estimate', part: 'W', estimate: '4 kg', allowance: '0.24' },
  missing: { kind: 'note' },
  'not-a-count': { kind: 'part added', number: 'N', group: 'g', quantity: '0' },
  'text-refused': { kind: 'note', text: 'a\0b' },
  'not-a-choice': { kind: 'wedding' },
  'not-a-day': { kind: 'note', text: 'x', happenedOn: '3.5.2026' },
  'group-twice': { kind: 'targets', 'empty mass': '9 kg', groups: { wing: '1 kg', 'wing ': '2 kg' } },
  'not-an-entry': { kind: 'correction', entry: 'the last', reason: 'x', replacement: null },
  'not-piece-numbers': { ...weighing, piece: 'all' },
  'field-unknown': { kind: 'note', text: 'x', colour: 'red' },
  'shape-refused': { kind: 'note', text: ['x'] },
  negative: { kind: 'estimate', part: 'W', estimate: '4 kg', 'arm uncertainty': '-1 mm' },
  'estimate-missing': correct(3, { part: 'W', x: '1 m' }),
  'later-above-estimate': { kind: 'estimate', part: 'W', estimate: '4 kg', later: '5 kg' },
  'finish-above-later': { kind: 'estimate', part: 'W', estimate: '4 kg', later: '1 kg', finish: '2 kg' },
  'arm-stated-twice': { ...supports, ...apart, x: '1 m' },
  'arm-ways-mixed': { ...supports, ...apart, how: 'by hand' },
  'by-hand-without-uncertainty': { kind: 'arm measured', part: 'LONE', how: 'by hand', x: '1 m' },
  'supports-at-one-place': { ...supports, 'first station': '1 m', 'second station': '1 m' },
  'supports-bear-nothing': { ...supports, ...apart, 'first load': '0 kg', 'second load': '0 kg' },
  'days-reversed': { ...scale, calibrated: '2026-05-01', 'calibration due': '2026-04-01' },
  'coverage-missing': { ...scale, 'calibration uncertainty': '0.1 %' },
  'above-capacity': { ...weighing, part: 'LONE', gross: '12 kg', scale: 'bench' },
  'is-an-assembly': { ...weighing, part: 'BOX' },
  'has-no-parts': { ...assembly, part: 'LONE' },
  'assembly-of-many': { ...assembly, part: 'W' },
  'not-in-assembly': { ...assembly, 'not yet in': 'LONE' },
  'nothing-in-it': { ...assembly, 'not yet in': 'SKIN' },
  'not-weighed': { kind: 'disposition', part: 'W', piece: '1', decision: 'accepted' },
  'inspection-missing': { kind: 'disposition', part: 'LONE', piece: '1', decision: 'accepted' },
  'no-such-release': { kind: 'process cause', process: 'prepreg', release: '1', cause: 'dry' },
  'not-called': { kind: 'process cause', process: 'prepreg', cause: 'dry' },
  'adds-up-to-nothing': { kind: 'process cause', 'sum of': 'group', name: 'nowhere', cause: 'dry' },
  'process-and-sum': { kind: 'process cause', process: 'prepreg', 'sum of': 'group', name: 'nowhere', cause: 'dry' },
  'gross-not-above-tare': { ...weighing, tare: '5 kg' },
  'readings-differ': { ...weighing, gross: '4 kg / 4 kg / 4 kg', tare: '1 kg / 1 kg' },
  'pieces-disagree': { ...weighing, piece: '1-2', pieces: '3' },
  'which-piece': { ...weighing, piece: undefined },
  'no-such-piece': { ...weighing, piece: '5' },
  'arm-missing': { kind: 'arm measured', part: 'W' },
  'target-zero': { ...targets, 'empty mass': '0 kg' },
  'reserve-too-large': { ...targets, reserve: '50 kg' },
  'range-reversed': { ...targets, 'cg forward': '3 m', 'cg aft': '2 m' },
  'chord-unknown': { ...targets, 'cg aft': '30 % MAC' },
  'chord-half': { kind: 'aircraft', name: 'A', datum: 'd', mac: '1 m' },
  'unknown-part': { ...weighing, part: 'X' },
  'part-is-removed': { ...weighing, part: 'gone' },
  'part-has-entries': correct(2, null),
  'number-taken': { kind: 'part added', number: 'w', group: 'g' },
  'assembly-cycle': correct(2, { number: 'W', group: 'g', quantity: '4', assembly: 'RIB' }),
  'day-in-future': { kind: 'note', text: 'x', happenedOn: '2999-01-01' },
  'reason-missing': targets,
  'nothing-to-correct': correct(99, null),
  'already-corrected': correct(7, null),
  'correction-changes-nothing': correct(3, { part: 'W', estimate: '4 kg' }),
  'station-from-geometry': { ...onGeometry, x: '2 m' },
  'axes-along-one-line': lying({ yPoints: 'forward' }),
  'axes-mirror-the-part': lying({ yPoints: 'left' }),
  'axes-do-not-mirror': lying({ isMirrored: true }),
  'schedule-empty': laidUp({ regions: [] }),
  'region-twice': laidUp({ ...wetted, regions: [skin, skin] }),
  'material-twice': laidUp({ ...wetted, materials: [bolt, bolt], regions: [skin] }),
  'material-unknown': laidUp({ regions: [panel({ is: 'coat', material: 'Silver' })] }),
  'material-unfit': laidUp({ regions: [panel({ is: 'coat', material: 'Foam' })] }),
  'resin-missing': laidUp({ regions: [skin] }),
  'fraction-twice': laidUp({ ...wetted, 'fibre by volume': '50 %', regions: [skin] }),
  'fraction-impossible': laidUp({ ...wetted, 'fibre by mass': '100 %', regions: [skin] }),
  'band-reversed': laidUp({ ...wetted, 'band low': '60 %', 'band high': '50 %', regions: [skin] }),
  'perimeter-missing': laidUp({ regions: [panel({ ...foam, coverage: '50 %', bevel: '45', outline: 'other' })] }),
  'perimeter-too-short': laidUp({
    regions: [panel({ ...foam, perimeter: '1 m', bevel: '45', outline: 'rectangle' })],
  }),
  'bevel-too-large': laidUp({ regions: [panel({ ...foam, bevel: '1', outline: 'rectangle' })] }),
  'kerfs-above-core': laidUp({ ...wetted, regions: [panel({ ...foam, ...kerfs })] }),
  ...REFUSED_WEIGHINGS,
  'laid-up-is-stated': { ...laidUp({ ...wetted, regions: [skin] }), estimate: '1 kg' },
  ...LOADINGS,
  'resin-not-in-part': { ...weighing, part: 'LONE', 'resin mixed': '1 kg', 'resin left': '1 kg' },
};

/** Lists to be imported. */
export const LISTS: ByCode = {
  'file-empty': { parts: { text: '' } },
  'file-too-large': { parts: { text: `number,group\n${'A,wing\n'.repeat(20_001)}` } },
  'quote-not-closed': { parts: { text: 'number,group\n"A,wing' } },
  'quote-misplaced': { parts: { text: 'number,group\nA" b,wing' } },
  'no-rows': { parts: { text: 'number,group' } },
  'column-missing': { parts: { text: 'number,name\nA,Rib' } },
  'column-twice': { parts: { text: 'number,part no,group\nA,A,wing' } },
  'column-unit-unknown': { parts: { text: 'number,group,estimate [stone]\nA,wing,1' } },
  'cells-too-many': { parts: { text: 'number,group\nA,wing,more' } },
  'estimate-column-missing': { parts: { text: 'number,group,x\nA,wing,1 m' } },
  'line-of-sums': { parts: { text: 'number,group\nTotal,' } },
  'number-twice': { parts: { text: 'number,group\nA,wing\na,wing' } },
  'unknown-assembly': { parts: { text: 'number,group,assembly\nA,wing,NONE' } },
  'row-twice': { weighings: { text: 'part,gross,condition\nLONE,4 kg,trimmed\nLONE,4 kg,trimmed' } },
  'not-of-assembly': { weighings: { text: 'part,gross,condition,not yet in,lot\nBOX,4 kg,trimmed,none,L7' } },
  'group-twice': { targets: { text: 'target,value\nempty mass,9 kg\ngroup wing,1 kg\ngroup wing,2 kg' } },
};

const heavier = { act: 'add mass', part: 'W', mass: '1 kg' };

/** Scratch changes, to the door of what if. */
export const WHAT_IFS: ByCode = {
  'change-takes-too-much': { changes: [{ ...heavier, mass: '-1000 kg' }] },
  'change-moves-no-station': { changes: [{ act: 'move', part: 'W', z: '1 m' }] },
};

/** Stations for ballast. The CG is known once a part is put somewhere. */
export const BALLASTS: ByCode = {
  'cg-missing': { station: '1 m' },
  'ballast-on-wrong-side': { station: '9 m', changes: [{ act: 'set arm', part: 'W', x: '3 m' }] },
};

export const PROPOSAL = { title: 'Lighter', owner: 'Ann', likelihood: '50 %', due: '2026-07-01', saving: '1 kg' };

/** Proposals. */
export const PROPOSALS: ByCode = {
  'proposal-says-nothing': { ...PROPOSAL, saving: undefined },
  'saving-stated-twice': { ...PROPOSAL, changes: [heavier] },
};

export const NOTE_ID = newId();

/** The ledger in which all of this goes wrong; entry 1 is the aircraft. */
export const BEGUN: readonly Sent[] = [
  { kind: 'part added', number: 'W', group: 'wing', quantity: '4' },
  { kind: 'estimate', part: 'W', estimate: '4 kg' },
  { kind: 'part added', number: 'RIB', group: 'wing', assembly: 'W' },
  { kind: 'part added', number: 'GONE', group: 'wing' },
  { kind: 'part removed', part: 'GONE', reason: 'left out' },
  { kind: 'note', text: 'to be struck out' },
  correct(7, null),
  { ...targets, 'cg forward': '1 m', 'cg aft': '2 m' },
  { kind: 'note', text: 'first', id: NOTE_ID },
  { kind: 'part added', number: 'BOX', group: 'wing' },
  { kind: 'part added', number: 'SKIN', group: 'wing', assembly: 'BOX' },
  { kind: 'part added', number: 'CAP', group: 'wing', assembly: 'SKIN' },
  { kind: 'part added', number: 'LONE', group: 'wing' },
  { kind: 'estimate', part: 'LONE', estimate: '4 kg' },
  { ...weighing, part: 'LONE', gross: '2 kg' },
  { ...scale, capacity: '10 kg' },
  { kind: 'material', name: 'Twill', is: 'fabric', areal: '200 g/m²', density: '1800 kg/m³' },
  { kind: 'material', name: 'Epoxy', is: 'resin', density: '1200 kg/m³' },
  { kind: 'material', name: 'Foam', is: 'core', density: '75 kg/m³', thickness: '10 mm', uptake: '300 g/m²' },
];
