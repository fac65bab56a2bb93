/** The set-up of an aircraft as plain data: what it is, where its datum went, and every revision of its targets. */
import type { SetUpReport } from '#shared/contract/set-up.ts';
import { lastStated } from '#shared/layup/list.ts';
import { aimNgOf, type Ledger, predictedOf, standingsOf } from '#shared/ledger/fold.ts';
import type { Standing } from '#shared/ledger/part-state.ts';
import { type MassNg, toKg } from '#shared/quantity/exact.ts';
import { aircraftOf } from './report.ts';

export function setUpReport(ledger: Ledger): Omit<SetUpReport, 'seq'> {
  const predictedNg = predictedOf(ledger).massNg;
  return {
    description: descriptionOf(ledger),
    moves: [...standingsOf(ledger, 'datum moved')]
      .sort((a, b) => a.seq - b.seq)
      .map((standing) => {
        const { shiftM, datum, reason } = standing.statement;
        return { ...stampOf(ledger, standing), shiftM, datum, reason };
      }),
    materials: lastStated(ledger).map((standing) => {
      const { material, isWithdrawn } = standing.statement;
      return { ...stampOf(ledger, standing), material, isWithdrawn: isWithdrawn === true };
    }),
    revisions: standingsOf(ledger, 'targets').map((standing, at) => {
      const { emptyMassKg, reserveKg, cgForwardM, cgAftM, groups, partLimit, reason, typed } = standing.statement;
      return {
        ...stampOf(ledger, standing),
        revision: at + 1,
        ...{ emptyMassKg, reserveKg, cgForwardM, cgAftM, groups, partLimit, reason, typed },
        marginKg: toKg(((aimNgOf(standing.statement) ?? 0n) - predictedNg) as MassNg),
      };
    }),
    allowances: standingsOf(ledger, 'allowances').map((standing) => {
      const { shares, processShiftStd, pieceToPieceStd, reason, typed } = standing.statement;
      return { ...stampOf(ledger, standing), shares, processShiftStd, pieceToPieceStd, reason, typed };
    }),
  };
}

function descriptionOf(ledger: Ledger): SetUpReport['description'] {
  const standing = standingsOf(ledger, 'aircraft').at(-1);
  const present = aircraftOf(ledger);
  if (standing === undefined || present === undefined) return undefined;
  const { name, datum, levelling, macM, lemacM, massUnit, lengthUnit, typed } = present;
  return { ...stampOf(ledger, standing), name, datum, levelling, macM, lemacM, massUnit, lengthUnit, typed };
}

/** Who made the entry, and the last of those that correct it. */
function stampOf(ledger: Ledger, { seq, happenedOn }: Pick<Standing<never>, 'seq' | 'happenedOn'>) {
  const first = ledger.entries.find((recorded) => recorded.seq === seq)?.entry;
  const latestId = first === undefined ? undefined : ledger.roots.get(first.id)?.latestId;
  const latest = latestId === undefined ? undefined : ledger.entryById.get(latestId);
  return { seq, latestSeq: latest?.seq ?? seq, happenedOn, by: first?.by ?? '' };
}
