/** Every kind of entry as it is asked for on a screen: its name in plain words, when it is wanted, and its fields. */

import { allowanceField, COMMON_GROWTH } from '#shared/estimate/allowance.ts';
import { COMMON_ERRORS, ERROR_FIELDS } from '#shared/estimate/shop-errors.ts';
import { MATERIAL_KINDS } from '#shared/layup/material.ts';
import type { Statement } from '#shared/ledger/entry.ts';
import { Disposition, Evidence, Process, Side } from '#shared/ledger/entry.ts';
import { showPercent } from '#shared/quantity/show.ts';
import { LENGTH_UNITS, MASS_UNITS } from '#shared/quantity/units.ts';
import { say, term } from '#shared/words/say.ts';
import { alike, CONDITIONS, driftCausesOr, orNone } from '../words/choices.ts';
import type { FieldSpec } from './field-spec.ts';

export type Kind = Statement['kind'];

export type KindSpec = {
  readonly title: string;
  /** When somebody wants this one. */
  readonly hint: string;
  readonly fields: readonly FieldSpec[];
  /** Above the fields that are folded away. */
  readonly more?: string;
};

const PART: FieldSpec = { name: 'part', label: say`Part`, is: 'part', isWide: true };
const PIECE: FieldSpec = { name: 'piece', label: say`Piece`, is: 'pieces' };
const SCALE_NAME: FieldSpec = {
  name: 'scale',
  label: say`Name of the scale`,
  is: 'text',
  suggest: 'scales',
  isWide: true,
};
const REASON: FieldSpec = { name: 'reason', label: say`Why`, is: 'long', isWide: true };

export const STATIONS: readonly FieldSpec[] = [
  { name: 'x', label: say`Station x`, is: 'length', hint: say`Aft of the datum is positive.` },
  { name: 'y', label: say`Station y`, is: 'length' },
  { name: 'z', label: say`Station z`, is: 'length' },
  { name: 'arm uncertainty', label: say`Station’s uncertainty`, is: 'length' },
];

const ALLOWANCES: readonly FieldSpec[] = Process.options.flatMap((process) =>
  Evidence.options.map((evidence) => ({
    name: allowanceField(process, evidence),
    label: `${term(process)}, ${term(evidence)}`,
    is: 'share' as const,
    hint: say`Left empty: ${showPercent(COMMON_GROWTH[process][evidence])} %.`,
  })),
);

const ERRORS: readonly FieldSpec[] = [
  {
    name: ERROR_FIELDS.processShiftStd,
    label: say`A process misses by`,
    is: 'share',
    hint: say`One standard deviation, before it has released anything. Left empty: ${showPercent(COMMON_ERRORS.processShiftStd)} %.`,
  },
  {
    name: ERROR_FIELDS.pieceToPieceStd,
    label: say`A piece differs by`,
    is: 'share',
    hint: say`One standard deviation, where an estimate states none. Left empty: ${showPercent(COMMON_ERRORS.pieceToPieceStd)} %.`,
  },
];

const ON_SCALE: readonly FieldSpec[] = [
  {
    name: 'condition',
    label: say`Weighed as`,
    is: 'choice',
    options: CONDITIONS,
    isWide: true,
  },
  { name: 'gross', label: say`Gross`, is: 'mass', hint: say`Several readings of one load: 4.12 / 4.13 / 4.12.` },
  { name: 'tare', label: say`Tare`, is: 'mass' },
];

export const CARRIED: readonly FieldSpec[] = [
  { name: 'scale', label: say`Scale`, is: 'text', suggest: 'scales', isMore: true },
  { name: 'fixture', label: say`Fixture`, is: 'text', hint: say`What carried the load.`, isMore: true },
];
export const MADE_WITH: readonly FieldSpec[] = [
  { name: 'lot', label: say`Lot`, is: 'text', isMore: true },
  { name: 'batch', label: say`Batch`, is: 'text', isMore: true },
  { name: 'operator', label: say`Operator`, is: 'text', isMore: true },
  { name: 'temperature', label: say`Temperature`, is: 'temperature', isMore: true },
  { name: 'humidity', label: say`Humidity`, is: 'share', isMore: true },
  {
    name: 'resin mixed',
    label: say`Resin mixed`,
    is: 'mass',
    hint: say`Of an infusion, for all that is on the scale.`,
    isMore: true,
  },
  { name: 'resin left', label: say`Resin left over`, is: 'mass', hint: say`In the pot, never fed in.`, isMore: true },
  {
    name: 'resin in lines',
    label: say`Resin in lines`,
    is: 'mass',
    hint: say`In hoses, runners and the trap.`,
    isMore: true,
  },
];
const RESOLUTION: FieldSpec = {
  name: 'resolution',
  label: say`Resolution of the scale`,
  is: 'mass',
  hint: say`Left empty, the digits typed stand for it.`,
  isMore: true,
};

export const KIND_SPECS: Readonly<Record<Kind, KindSpec>> = {
  estimate: {
    title: say`Estimate revised`,
    hint: say`A part is estimated or calculated anew.`,
    more: say`Flash, and what goes on later`,
    fields: [
      PART,
      { name: 'estimate', label: say`Installed mass, each`, is: 'mass' },
      {
        name: 'std uncertainty',
        label: say`Its uncertainty`,
        is: 'mass or share',
        hint: say`Standard uncertainty, a mass or a per cent. Left empty, what the shop takes for granted: 3 % as a rule.`,
      },
      { name: 'evidence', label: say`It is`, is: 'choice', options: alike(Evidence.options), isWide: true },
      {
        name: 'allowance',
        label: say`Growth allowance`,
        is: 'share',
        hint: say`Left empty, the shop’s default is taken.`,
      },
      ...STATIONS,
      { name: 'flash', label: say`Flash, trimmed off`, is: 'mass', isMore: true },
      {
        name: 'later',
        label: say`Goes on later`,
        is: 'mass',
        hint: say`Of the installed mass: bond, paint, fittings.`,
        isMore: true,
      },
      { name: 'finish', label: say`Of that, after fitting out`, is: 'mass', isMore: true },
      { name: 'later allowance', label: say`Allowance on what goes on later`, is: 'share', isMore: true },
    ],
  },
  'arm measured': {
    title: say`Arm measured`,
    hint: say`Where a part has its CG, by tape, on two supports, on a bar or by hand.`,
    fields: [
      PART,
      ...STATIONS,
      {
        name: 'balance point',
        label: say`It balances at`,
        is: 'length',
        hint: say`The bar’s station, counted from the bench zero.`,
      },
      {
        name: 'balance uncertainty',
        label: say`Uncertainty of that point`,
        is: 'length',
        hint: say`How far the bar can be moved before the part tips.`,
      },
      { name: 'first load', label: say`Load F1`, is: 'mass', hint: say`Net, without the support itself.` },
      { name: 'first station', label: say`Station x1`, is: 'length' },
      { name: 'second load', label: say`Load F2`, is: 'mass' },
      { name: 'second station', label: say`Station x2`, is: 'length' },
      {
        name: 'bench zero',
        label: say`Station of the bench zero`,
        is: 'length',
        hint: say`Where stations on the bench are counted from. Left empty: the datum.`,
        isWide: true,
      },
      {
        name: 'load uncertainty',
        label: say`Uncertainty of a load`,
        is: 'mass',
        hint: say`Left empty, the digits typed say it.`,
      },
      { name: 'station uncertainty', label: say`Uncertainty of x1, x2`, is: 'length' },
    ],
  },
  'part added': {
    title: say`Part added`,
    hint: say`A part that is not on the list yet.`,
    fields: [
      { name: 'number', label: say`Part number`, is: 'text' },
      { name: 'name', label: say`Name`, is: 'text' },
      { name: 'group', label: say`Group`, is: 'text', suggest: 'groups' },
      { name: 'quantity', label: say`Pieces`, is: 'count', hint: say`Left empty: one.` },
      { name: 'process', label: say`Process`, is: 'picker', options: orNone(Process.options, say`not said`) },
      { name: 'side', label: say`Side`, is: 'picker', options: orNone(Side.options, say`not said`) },
      {
        name: 'assembly',
        label: say`Belongs to assembly`,
        is: 'assembly',
        hint: say`Left empty: to the aircraft itself.`,
        isWide: true,
      },
    ],
  },
  'part removed': {
    title: say`Part removed`,
    hint: say`A part that the aircraft will not have.`,
    fields: [PART, REASON],
  },
  'piece installed': { title: say`Piece built in`, hint: say`From stock into the aircraft.`, fields: [PART, PIECE] },
  'piece withdrawn': {
    title: say`Piece withdrawn`,
    hint: say`A piece no longer counts; the estimate does until the next one is weighed.`,
    fields: [PART, PIECE, REASON],
  },
  disposition: {
    title: say`Decision on a piece`,
    hint: say`Accepted, to be reworked or scrapped.`,
    fields: [
      PART,
      PIECE,
      { name: 'decision', label: say`Decision`, is: 'choice', options: alike(Disposition.options), isWide: true },
      {
        name: 'inspection',
        label: say`What was inspected and found`,
        is: 'long',
        hint: say`Needed to accept a light piece: a light part can be a weak part.`,
        isWide: true,
      },
    ],
  },
  'process cause': {
    title: say`Cause of a process’s change`,
    hint: say`Why the parts of a process come out heavier or lighter than they did, or why many small differences add up.`,
    more: say`Many small ones instead`,
    fields: [
      { name: 'process', label: say`Process`, is: 'picker', options: orNone(Process.options, 'choose') },
      {
        name: 'release',
        label: say`Entry of the release`,
        is: 'text',
        hint: say`Left empty: the one at which it was called.`,
      },
      { name: 'cause', label: say`Cause`, is: 'picker', options: driftCausesOr('choose') },
      {
        name: 'found',
        label: say`What was found`,
        is: 'long',
        hint: say`Needed to make sense of “other”.`,
        isWide: true,
      },
      {
        name: 'sum of',
        label: say`Sum of`,
        is: 'picker',
        options: orNone(['group', 'process', 'lot'], say`no sum: the process above`),
        isMore: true,
      },
      { name: 'name', label: say`Its name`, is: 'text', hint: say`It is explained as it stands now.`, isMore: true },
    ],
  },
  weighing: {
    title: say`Weighing`,
    hint: say`On the Weigh screen.`,
    more: say`More about this weighing`,
    fields: [
      PART,
      PIECE,
      ...ON_SCALE,
      {
        name: 'cause',
        label: say`Cause, where it drifts`,
        is: 'picker',
        options: driftCausesOr(say`not stated`),
      },
      ...CARRIED,
      ...MADE_WITH,
      RESOLUTION,
    ],
  },
  'assembly weighing': {
    title: say`Assembly weighed`,
    hint: say`A part that has parts of its own, as it stands on the scale.`,
    more: say`Measured CG, scale and fixture`,
    fields: [
      { ...PART, label: say`Assembly`, is: 'assembly' },
      ...ON_SCALE,
      { name: 'not yet in', label: say`Not yet in it`, is: 'not yet in', isWide: true },
      ...STATIONS.map((field) => ({ ...field, isMore: true })),
      ...CARRIED,
      RESOLUTION,
    ],
  },
  'aircraft weighing': {
    title: say`Aircraft weighed`,
    hint: say`The whole aircraft on its scales; on a screen of its own.`,
    fields: [
      { name: 'signed by', label: say`Signed by`, is: 'text', isWide: true },
      { name: 'signed on', label: say`Signed on`, is: 'day' },
      { name: 'signed as', label: say`Licence or authority`, is: 'text' },
    ],
  },
  'check weight': {
    title: say`Check weight`,
    hint: say`A known mass on a scale, at the start of a shift.`,
    fields: [
      SCALE_NAME,
      { name: 'reference', label: say`The check weight is`, is: 'mass', hint: say`As it is marked.` },
      { name: 'shown', label: say`The scale shows`, is: 'mass' },
      {
        name: 'limit',
        label: say`It passes within`,
        is: 'mass',
        hint: say`Left empty: what OIML R 76 allows a class III scale in service, where the scale’s resolution is known.`,
        isWide: true,
      },
    ],
  },
  scale: {
    title: say`Scale and calibration`,
    hint: say`A new scale, or a new certificate.`,
    fields: [
      { ...SCALE_NAME, hint: say`As the crew calls it: bench, floor, crane.` },
      { name: 'capacity', label: say`Capacity`, is: 'mass', hint: say`A gross above it is refused.` },
      { name: 'resolution', label: say`Resolution`, is: 'mass', hint: say`The smallest step of the display.` },
      { name: 'calibrated', label: say`Calibrated on`, is: 'day' },
      { name: 'calibration due', label: say`Valid until`, is: 'day', hint: say`A weighing after that day is marked.` },
      {
        name: 'calibration uncertainty',
        label: say`Uncertainty on the certificate`,
        is: 'share',
        hint: say`A per cent of what is shown, or a mass at the capacity: 3 g.`,
      },
      {
        name: 'coverage',
        label: say`Coverage factor k`,
        is: 'text',
        hint: say`Stands beside it on the certificate: 1 for a standard uncertainty, 2 for an expanded one of about 95 %.`,
        isWide: true,
      },
    ],
  },
  targets: {
    title: say`Targets`,
    hint: say`Empty weight, CG range and limits, set or revised.`,
    more: say`Targets of groups`,
    fields: [
      { name: 'empty mass', label: say`Empty-weight target`, is: 'mass' },
      { name: 'reserve', label: say`Reserve`, is: 'mass', hint: say`Kept back for what nobody has thought of yet.` },
      {
        name: 'cg forward',
        label: say`CG range, forward end`,
        is: 'station or share',
        hint: say`A station, or a per cent of the MAC: 18\u00a0%\u00a0MAC.`,
      },
      { name: 'cg aft', label: say`CG range, aft end`, is: 'station or share' },
      {
        name: 'part limit',
        label: say`Part limit, as a mass`,
        is: 'mass',
        hint: say`A part drifts beyond the larger of the two.`,
      },
      {
        name: 'part limit share',
        label: say`Part limit, as a share`,
        is: 'share',
        hint: say`Of its estimate. Common practice is 6\u00a0%.`,
      },
      { ...REASON, hint: say`Needed where targets were set before.` },
      { name: 'groups', label: say`Targets of groups`, is: 'groups', isMore: true, isWide: true },
    ],
  },
  allowances: {
    title: say`Growth allowances`,
    hint: say`What the shop adds to an estimate that states no allowance of its own.`,
    fields: [...ALLOWANCES, ...ERRORS, { ...REASON, hint: say`Needed where the shop has set its own before.` }],
  },
  loading: {
    title: say`Loading limits`,
    hint: say`Stations, envelope and cases, stated as a whole on the Loading screen.`,
    fields: [],
  },
  material: {
    title: say`Material`,
    hint: say`What parts are laid up of. Schedules copy its figures, and keep them when the list changes.`,
    fields: [
      { name: 'name', label: say`Name`, is: 'text', isWide: true },
      { name: 'is', label: say`It is`, is: 'choice', options: orNone(MATERIAL_KINDS, 'choose') },
      { name: 'areal', label: say`Mass per area`, is: 'text', hint: say`Of fabrics and coats: 200 g/m².` },
      { name: 'density', label: say`Density`, is: 'text', hint: say`Of a fabric that of the fibre: 1780 kg/m³.` },
      { name: 'thickness', label: say`Thickness`, is: 'text', hint: say`Of a core: 6.35 mm.` },
      { name: 'uptake', label: say`Resin taken up by one face`, is: 'text', hint: say`Of a core: 300 g/m².` },
      { name: 'uptake uncertainty', label: say`Uptake’s uncertainty`, is: 'share' },
      { name: 'mass', label: say`Mass of one`, is: 'mass', hint: say`Of a fitting.` },
      {
        name: 'uncertainty',
        label: say`Uncertainty`,
        is: 'share',
        hint: say`One standard uncertainty, as a share of the figure.`,
      },
      {
        name: 'withdrawn',
        label: say`On the list`,
        is: 'choice',
        options: [
          { value: '', words: say`offered` },
          { value: 'yes', words: say`withdrawn` },
        ],
      },
    ],
  },
  'datum moved': {
    title: say`Datum moved`,
    hint: say`All stations are counted anew.`,
    fields: [
      { name: 'shift', label: say`By how much, positive aft`, is: 'length', hint: say`Towards the nose with a minus.` },
      {
        name: 'datum',
        label: say`The new datum in words`,
        is: 'text',
        hint: say`For example: front face of the main frame.`,
        isWide: true,
      },
      REASON,
    ],
  },
  note: {
    title: say`Note`,
    hint: say`Something worth keeping, of a part or of the aircraft.`,
    fields: [
      { ...PART, hint: say`Left empty: of the aircraft.` },
      { name: 'text', label: say`In words`, is: 'long', isWide: true },
    ],
  },
  aircraft: {
    title: say`Aircraft described`,
    hint: say`Name, datum and units.`,
    fields: [
      { name: 'name', label: say`Name`, is: 'text', isWide: true },
      {
        name: 'datum',
        label: say`Datum`,
        is: 'long',
        hint: say`In words, where stations are counted from. Moving it is an entry of its own.`,
        isWide: true,
      },
      {
        name: 'levelling',
        label: say`Levelling reference`,
        is: 'long',
        hint: say`What is level when the aircraft is: a rail, two pads, a line on the frame.`,
        isWide: true,
      },
      { name: 'mac', label: say`MAC`, is: 'length', hint: say`The length of the mean aerodynamic chord.` },
      { name: 'lemac', label: say`Leading edge of MAC`, is: 'length', hint: say`Its station.` },
      { name: 'mass unit', label: say`Masses are shown in`, is: 'choice', options: alike(MASS_UNITS) },
      {
        name: 'length unit',
        label: say`Lengths are shown in`,
        is: 'choice',
        options: alike(LENGTH_UNITS),
      },
      {
        name: 'oil in empty weight',
        label: say`Oil is part of the empty weight`,
        is: 'choice',
        options: [
          { value: '', words: say`not said: yes` },
          { value: 'yes', words: say`yes` },
          { value: 'no', words: say`no` },
        ],
        hint: say`Older certification bases take it out. Stated on every report.`,
      },
    ],
  },
};

/** What is recorded on the Ledger, as it is laid out to choose from. Weighings of single parts have their own screen. */
export const KIND_GROUPS: readonly { readonly title: string; readonly kinds: readonly Kind[] }[] = [
  { title: say`Parts`, kinds: ['estimate', 'arm measured', 'part added', 'part removed'] },
  { title: say`Pieces`, kinds: ['disposition', 'process cause', 'piece installed', 'piece withdrawn'] },
  { title: say`Scales and weighings`, kinds: ['assembly weighing', 'check weight', 'scale'] },
  { title: say`The aircraft`, kinds: ['targets', 'datum moved', 'note'] },
];

/** What a field of a kind is called, for where its figure is read. */
export function labelOf(kind: Kind, field: string): string {
  return KIND_SPECS[kind].fields.find(({ name }) => name === field)?.label ?? field;
}
