/** One page for the crew and one for the lead, to hang up beside the scale and the desk. Each must fit on one sheet of A4 and of Letter. */
import { say } from '#shared/words/say.ts';
import type { GuideFor } from '../guide/which.ts';

type Guide = {
  readonly title: string;
  readonly sections: readonly {
    readonly title: string;
    readonly isInOrder: boolean;
    readonly lines: readonly string[];
  }[];
};

export const GUIDE_WORDS: Readonly<Record<GuideFor, Guide>> = {
  crew: {
    title: say`A part on the scale: one page for the crew`,
    sections: [
      {
        title: say`Before the first part of the day`,
        isInOrder: false,
        lines: [
          say`The scale stands firm and level, out of the draught, has been on long enough to settle, and shows zero.`,
          say`Put the check weight on and record it: “Check weight”, beside the search on Weigh. Outside its limit: tell an engineer and weigh nothing more on that scale.`,
        ],
      },
      {
        title: say`Weigh`,
        isInOrder: true,
        lines: [
          say`Find the part: scan its label, or type its number or a word of its name.`,
          say`Put it on so that nothing else carries or touches it. What it lies in or hangs from is the tare; one that is kept from the part before says so under its field.`,
          say`Type what the scale shows, with the scale’s own unit, and the tare. All its digits: 4.60, not 4.6.`,
          say`Say in what condition it is: as released, trimmed, fitted or finished. A part may be weighed in each.`,
          say`Where a part has several pieces: say which are on the scale.`,
          say`Read the judgement. “In line” and “watch” are fine. “Drifting” is news and no fault of yours: if you know why, say so under Why.`,
          say`“Sure?” means that it looks like a slip, such as another unit, a forgotten tare or another part. Look once more, then answer it.`,
          say`Save. “Saved” names the part, its piece and the entry. Then the next part.`,
        ],
      },
      {
        title: say`When something is not as it should be`,
        isInOrder: false,
        lines: [
          say`Saved something wrong? Tell an engineer the number of the entry: it is corrected with its reason and nothing is lost. Weighing again does not undo it.`,
          say`No network? Go on weighing. What waits is shown on the screen and goes up by itself; leave it on this tablet until it has.`,
          say`Refused? The words say what to do. The reading stays on the tablet until you save or drop it.`,
          say`The figure will not settle, or another one comes each time? Do not save it. Look for draught, a cable, a hand, a wall.`,
          say`A very light part can be a weak part, with a dry laminate or a missing ply: have it inspected.`,
        ],
      },
      {
        title: say`You first`,
        isInOrder: false,
        lines: [
          say`Lift with two, or with a hoist, and by the shop’s practice. Gloves and glasses at fresh edges. Nobody stands under what hangs.`,
        ],
      },
    ],
  },
  lead: {
    title: say`The weight of the aircraft: one page for the lead`,
    sections: [
      {
        title: say`Once, at the beginning`,
        isInOrder: true,
        lines: [
          say`Set-up: datum, units, groups, targets for empty weight and CG with a reserve, scales and their calibration, people and roles.`,
          say`Parts: bring the list from a spreadsheet, with an estimate, a process and a station for each; lay-ups where there are any.`,
          say`Loading: stations, tanks and envelope. It gives the range of the empty CG, which can be recorded as the target.`,
          say`Print the labels. Let the crew weigh one part each while you watch.`,
        ],
      },
      {
        title: say`Every week`,
        isInOrder: true,
        lines: [
          say`Open: give every drifting part a cause, every process that changed a reason, every overdue thing an owner.`,
          say`Ledger: predicted and forecast empty weight against the target, with their bands; CG against its range; what changed since last week, by cause.`,
          say`Processes: which one runs heavy or light, from which part on. A cause found in the first week costs one part, in the tenth it costs ten.`,
          say`What if: try a cure, keep it as a proposal with an owner and a day.`,
          say`Parts not weighed yet: what to weigh next narrows the forecast most.`,
          say`Brief: remarks, issue, show it to the team.`,
        ],
      },
      {
        title: say`When the aircraft is complete`,
        isInOrder: false,
        lines: [
          say`Aircraft weighing: its checklist, two runs that agree, fluids by what was dipped, what was aboard and what was missing. It becomes the basis of the ledger once it is signed.`,
          say`Reconcile it with the parts: is the difference real, and where must it sit?`,
          say`Loading again, with the weighed figures: worst forward and worst aft, and what cures them.`,
        ],
      },
      {
        title: say`So that it can be relied on`,
        isInOrder: false,
        lines: [
          say`Nothing is ever deleted. A slip is corrected with its reason, and both stay in sight.`,
          say`Keep backups on another machine. Verify the ledger now and then (Set-up), and always before a paper is signed.`,
          say`Growth allowances and limits begin as common practice: adjust them to your shop when it has shown what it does.`,
        ],
      },
    ],
  },
};
