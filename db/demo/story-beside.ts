/** What the shop of the invented demonstration aircraft keeps beside its ledger: proposals, and two briefs. Invented, as the story is. */
import type { BriefRemarks } from '#shared/contract/brief.ts';
import type { ProposalWords } from '#shared/forecast/proposal-words.ts';
import { type WorkingDay, workingDay } from './calendar.ts';
import { PEOPLE } from './story.ts';

/** `after` names the entry of the story that was the last one when this was said. */
type Said = { readonly after: string; readonly by: string };

export type ProposalSaid = Said & {
  readonly is: 'proposal';
  /** Said again of one name, it is stated anew. */
  readonly name: string;
  readonly due: WorkingDay;
  readonly words: Omit<ProposalWords, 'due'>;
};

export type BriefMade = Said & {
  readonly is: 'brief';
  readonly name: string;
  readonly remarks: BriefRemarks;
  readonly isIssued: boolean;
};

const PADDLE = {
  is: 'proposal',
  ...{ name: 'paddle', by: PEOPLE.systems, due: workingDay(50, 4) },
  words: {
    ...{ title: 'Stow the folding paddle with the baggage', owner: PEOPLE.systems, likelihood: '90 %' },
    changes: [{ act: 'remove', part: 'F-22' }],
  },
} as const;

const MESH = {
  is: 'proposal',
  ...{ name: 'mesh', by: PEOPLE.lead, due: workingDay(81, 4) },
  words: { title: 'Lighter flow mesh for what is left to infuse', owner: 'NAB', likelihood: '60 %' },
} as const;

/** In the order in which it was said. */
export const BESIDE: readonly (ProposalSaid | BriefMade)[] = [
  { ...PADDLE, after: 'targets 3' },
  {
    ...{ ...PADDLE, after: 'removed F-22' },
    words: { ...PADDLE.words, likelihood: '100 %', state: 'done', changes: undefined },
  },
  { ...MESH, after: 'note 9', words: { ...MESH.words, saving: '1.2 kg' } },
  {
    is: 'brief',
    ...{ name: 'infusion', after: 'note 9', by: PEOPLE.lead, isIssued: true },
    remarks: {
      all: 'First one for the whole shop. What the page says of infused parts comes first this week; everything else can wait for it.',
      drift:
        'None of these came out heavy by accident. Hardener, mesh, heater and gauge are looked at together before the right wing skins are laid up.',
    },
  },
  {
    ...{ ...MESH, after: 'note 14' },
    words: {
      ...{ ...MESH.words, saving: '0.4 kg', likelihood: '50 %' },
      reason: 'Most of it is infused by now: less is left to save, and the mesh has not been tried yet.',
    },
  },
  {
    is: 'proposal',
    ...{ name: 'propeller', after: 'note 14', by: PEOPLE.lead, due: workingDay(83, 4) },
    words: {
      ...{ title: 'A fixed wooden propeller instead of the one on the list', owner: PEOPLE.fitter, likelihood: '40 %' },
      changes: [{ act: 'set mass', part: 'P-16', mass: '8.3 kg', uncertainty: '0.5 kg' }],
    },
  },
  {
    is: 'brief',
    ...{ name: 'decide', after: 'note 14', by: PEOPLE.lead, isIssued: false },
    remarks: { proposals: 'Mesh or propeller, or both: to be decided by all of us, with what each costs in time.' },
  },
];
