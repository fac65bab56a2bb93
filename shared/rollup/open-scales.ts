/**
 * What is open about the scales (rules W1, W12): a calibration that has run out, a check weight that failed last, and the weighings that
 * count and rest on such a scale.
 */
import type { OpenItem } from '#shared/contract/open-list.ts';
import { countedBook } from '#shared/ledger/assemblies.ts';
import { type Ledger, type PresentPart, presentParts } from '#shared/ledger/fold.ts';
import { oncePerEntry } from '#shared/ledger/once.ts';
import { latestSeq } from '#shared/ledger/part-state.ts';
import { pieceNetKg } from '#shared/weighing/net.ts';
import { passesCheck, type Scale, type ScaleMark, scaleKey, scaleMarks, scalesOf } from '#shared/weighing/scales.ts';

export function scaleItems(ledger: Ledger, today: string): readonly OpenItem[] {
  const doubts = doubtsOf(ledger);
  return [
    ...[...scalesOf(ledger).values()].flatMap((scale) => ofScale(scale, doubts, today)),
    ...doubts.map(({ item }) => item),
  ];
}

type Doubt = { readonly scale: string; readonly marks: readonly ScaleMark['mark'][]; readonly item: OpenItem };

function ofScale(scale: Scale, doubts: readonly Doubt[], today: string): readonly OpenItem[] {
  const resting = (mark: ScaleMark['mark']) => {
    const on = doubts.filter((one) => one.scale === scaleKey(scale.name) && one.marks.includes(mark));
    const aboutKg = on.reduce((sumKg, { item }) => sumKg + (item.aboutKg ?? 0), 0);
    return on.length === 0 ? {} : { count: on.length, aboutKg };
  };
  const items: OpenItem[] = [];
  const subject = scale.calibrations.at(-1)?.statement.scale ?? scale.name;
  const dueOn = scale.calibrations.at(-1)?.statement.dueOn;
  if (dueOn !== undefined && dueOn < today) {
    const what = 'calibration out of date' as const;
    items.push({ what, of: 'scale', subject, since: dueOn, ...resting(what) });
  }
  const check = scale.checks.at(-1);
  if (check !== undefined && !passesCheck(check.statement)) {
    const what = 'check weight failed' as const;
    items.push({ what, of: 'scale', subject, since: check.happenedOn, ...resting(what) });
  }
  return items;
}

/** The weighings that count and whose scale speaks against them, each to be made again. */
const doubtsOf: (ledger: Ledger) => readonly Doubt[] = oncePerEntry((ledger) => {
  const scales = scalesOf(ledger);
  if (scales.size === 0) return [];
  return presentParts(ledger).flatMap((part) =>
    onScales(ledger, part).flatMap(({ standing, pieces, netKg, quantity }): Doubt[] => {
      const { scale } = standing.statement;
      const marks = scaleMarks(scales, { ...standing, scale }).map(({ mark }) => mark);
      if (scale === undefined || marks.length === 0) return [];
      return [
        {
          scale: scaleKey(scale),
          marks,
          item: {
            what: 'scale in doubt',
            of: 'part',
            subject: part.definition.number,
            name: part.definition.name,
            partId: part.partId,
            since: standing.happenedOn,
            aboutKg: netKg,
            weighing: { seq: latestSeq(standing), pieces: [...pieces], quantity },
          },
        },
      ];
    }),
  );
});

function onScales(ledger: Ledger, part: PresentPart) {
  const own = part.weighings.map(({ standing, pieces }) => ({
    standing,
    pieces,
    netKg: pieceNetKg(standing.statement) * pieces.length,
    quantity: part.definition.quantity,
  }));
  const whole = countedBook(ledger.books.assemblies, part.partId);
  if (whole === undefined) return own;
  const { standing } = whole;
  return [...own, { standing, pieces: [1], netKg: standing.statement.netKg, quantity: 1 }];
}
