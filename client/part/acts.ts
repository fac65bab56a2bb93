/** What can be done to a part from its page: for each kind of entry the fields that a person fills in. */
import type { PartPageReport } from '#shared/contract/part.ts';
import { estimateInWords } from '#shared/estimate/in-words.ts';
import { Disposition, Evidence } from '#shared/ledger/entry.ts';
import type { Shown } from '../pieces/units.ts';

export type ActField = {
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  /** Stands behind a bare number. */
  readonly unit?: string;
  readonly choices?: readonly string[];
  readonly isLong?: boolean;
};

export type Act = {
  readonly kind: 'estimate' | 'arm measured' | 'piece installed' | 'piece withdrawn' | 'disposition' | 'note';
  readonly words: string;
  readonly title: string;
  readonly record: string;
  readonly role: 'engineer' | 'crew';
  readonly fields: readonly ActField[];
  readonly begin: Readonly<Record<string, string>>;
};

export function actsOf(page: PartPageReport, { units }: Shown): readonly Act[] {
  const { number, quantity } = page.part;
  const mass = { unit: units.mass };
  const length = { unit: units.length };
  const piece: ActField = { name: 'piece', label: 'Piece', hint: `1 to ${quantity}; several as 1, 3 or 2-4.` };
  const pieces = quantity === 1 ? [] : [piece];
  const flagged = page.weighings.find(
    ({ countsFor, judgement }) => countsFor.length > 0 && judgement?.flag !== 'in line',
  );
  return [
    {
      ...{ kind: 'estimate', words: 'Revise the estimate', title: `Estimate of ${number}`, role: 'engineer' },
      record: 'Record the estimate',
      fields: [
        { name: 'estimate', label: `Installed mass each (${units.mass})`, ...mass },
        { name: 'std uncertainty', label: `Standard uncertainty (${units.mass} or %)`, ...mass },
        { name: 'x', label: `Arm x (${units.length})`, ...length },
        { name: 'y', label: `Arm y (${units.length})`, ...length },
        { name: 'z', label: `Arm z (${units.length})`, ...length },
        { name: 'arm uncertainty', label: `Uncertainty of the arm (${units.length})`, ...length },
        { name: 'evidence', label: 'Evidence', choices: Evidence.options },
        { name: 'allowance', label: 'Growth allowance (%)', unit: '%', hint: 'Left empty: the shop’s default.' },
        { name: 'later allowance', label: 'Allowance on later (%)', unit: '%' },
        { name: 'flash', label: `Flash (${units.mass})`, hint: 'Comes off after release.', ...mass },
        { name: 'later', label: `Later (${units.mass})`, hint: 'Goes on after trim.', ...mass },
        { name: 'finish', label: `Of it, finish (${units.mass})`, hint: 'Goes on after fitting out.', ...mass },
      ],
      begin: { evidence: 'estimated', ...(page.estimates[0] === undefined ? {} : estimateInWords(page.estimates[0])) },
    },
    {
      ...{ kind: 'arm measured', words: 'Measure the arm', title: `Arm of ${number}`, role: 'engineer' },
      ...{ record: 'Record the arm', fields: [], begin: {} },
    },
    {
      ...{ kind: 'piece installed', words: 'Build in', title: `Build in ${number}`, role: 'engineer' },
      ...{ record: 'Record it as built in', fields: pieces, begin: {} },
    },
    {
      ...{
        kind: 'piece withdrawn',
        words: 'Withdraw a piece',
        title: `Withdraw a piece of ${number}`,
        role: 'engineer',
      },
      record: 'Withdraw it',
      fields: [
        ...pieces,
        { name: 'reason', label: 'Reason', hint: 'Until a new one is weighed, the estimate counts.' },
      ],
      begin: {},
    },
    {
      ...{ kind: 'disposition', words: 'Decide', title: `What becomes of ${number}`, role: 'engineer' },
      record: 'Record the decision',
      fields: [
        ...pieces,
        { name: 'decision', label: 'Decision', choices: Disposition.options },
        { name: 'inspection', label: 'Inspected', hint: 'A light piece is not accepted without it.', isLong: true },
      ],
      begin: {
        decision: 'accepted',
        ...(quantity > 1 && flagged !== undefined ? { piece: flagged.countsFor.join(', ') } : {}),
      },
    },
    {
      ...{ kind: 'note', words: 'Add a note', title: `Note on ${number}`, role: 'crew' },
      ...{ record: 'Record the note', fields: [{ name: 'text', label: 'Note', isLong: true }], begin: {} },
    },
  ];
}

export const ARM_WAYS = [
  { value: 'station', words: 'A station' },
  { value: 'supports', words: 'On two supports' },
] as const;
export type ArmWay = (typeof ARM_WAYS)[number]['value'];

/** Rule W6: a station, or the loads on two supports from which it follows. */
export function armFields(way: ArmWay, { units }: Shown): readonly ActField[] {
  const length = { unit: units.length };
  const mass = { unit: units.mass };
  const across: readonly ActField[] = [
    { name: 'y', label: `y (${units.length})`, ...length },
    { name: 'z', label: `z (${units.length})`, ...length },
  ];
  if (way === 'station')
    return [
      { name: 'x', label: `x (${units.length})`, ...length },
      { name: 'arm uncertainty', label: `Standard uncertainty (${units.length})`, ...length },
      ...across,
    ];
  return [
    { name: 'first load', label: `First load, net (${units.mass})`, ...mass },
    { name: 'first station', label: `First support at (${units.length})`, ...length },
    { name: 'second load', label: `Second load, net (${units.mass})`, ...mass },
    { name: 'second station', label: `Second support at (${units.length})`, ...length },
    { name: 'bench zero', label: `Bench zero at (${units.length})`, hint: 'Its station in the aircraft.', ...length },
    ...across,
  ];
}
