/** What was decided on pieces that were flagged (rule W11), and one bought piece that went back. People and findings are invented. */
import { workingDay } from './calendar.ts';
import type { Planned, Words } from './plan.ts';
import { PEOPLE } from './story.ts';

type Decision = {
  readonly week: number;
  readonly weekday: number;
  readonly part: string;
  readonly piece?: string;
  readonly decision: 'accepted' | 'to be reworked';
  readonly inspection?: string;
};

/** Others wait: the light aileron W-31, the wing skins W-12 and W-21, the aft deck. */
const DECISIONS: readonly Decision[] = [
  {
    week: 45,
    weekday: 3,
    part: 'P-13',
    decision: 'accepted',
    inspection: 'Clamps and slip joint are needed. Nothing to take off.',
  },
  {
    week: 46,
    weekday: 0,
    part: 'H-15',
    decision: 'accepted',
    inspection: 'Tap test sound. Resin in the flange corners, no dry fibre.',
  },
  {
    week: 48,
    weekday: 2,
    part: 'T-15',
    decision: 'accepted',
    inspection: 'One ply more round the horn stays; mass balance to be worked out again.',
  },
  { week: 50, weekday: 3, part: 'W-11', decision: 'accepted', inspection: 'Tap test sound; glossy, no pools.' },
  {
    week: 53,
    weekday: 1,
    part: 'H-31',
    decision: 'accepted',
    inspection: 'Surplus is under the cover and out of the way of the fittings.',
  },
  {
    week: 59,
    weekday: 2,
    part: 'W-41',
    decision: 'to be reworked',
    inspection: 'Resin pools along the rear edge, bag side. To be sanded off before it is trimmed.',
  },
  {
    week: 63,
    weekday: 1,
    part: 'W-41',
    decision: 'accepted',
    inspection: 'Pools are off, weave not touched. No lighter without a new one.',
  },
  { week: 65, weekday: 0, part: 'G-11', piece: '1-2', decision: 'accepted' },
  {
    week: 68,
    weekday: 2,
    part: 'S-12',
    piece: '1',
    decision: 'to be reworked',
    inspection: 'Thick resin in the chine. Sand before it is bonded to the upper shell.',
  },
];

/** A brake that leaked went back; its place counts as estimated until the other one has been weighed. */
const SENT_BACK = { part: 'G-13', piece: '2', week: 50, weighedAgainInWeek: 55 };

export function planDecisions(): readonly Planned[] {
  return [
    ...DECISIONS.map(({ week, weekday, part, piece, decision, inspection }) => {
      const day = workingDay(week, weekday);
      return {
        name: `decision on ${part} in week ${week}`,
        happenedOn: day,
        recordedOn: day,
        by: PEOPLE.lead,
        words: {
          kind: 'disposition',
          part,
          ...(piece === undefined ? {} : { piece }),
          decision,
          ...(inspection === undefined ? {} : { inspection }),
        },
      };
    }),
    ...planSentBack(),
  ];
}

function planSentBack(): readonly Planned[] {
  const { part, piece, week, weighedAgainInWeek } = SENT_BACK;
  const on = (name: string, day: number, words: Words) => ({
    name: `${name} ${part}`,
    happenedOn: day,
    recordedOn: day,
    by: PEOPLE.systems,
    words,
  });
  return [
    on('sent back', workingDay(week, 3), {
      kind: 'piece withdrawn',
      part,
      piece,
      reason: 'Leaks at the piston seal. Sent back under guarantee.',
    }),
    {
      ...on('replaced', workingDay(weighedAgainInWeek, 1), {
        kind: 'weighing',
        part,
        piece,
        gross: '0.789 kg',
        condition: 'finished',
        scale: 'bench',
      }),
      remark: 'The one that came instead. Dry, with its banjo bolt.',
    },
  ];
}
