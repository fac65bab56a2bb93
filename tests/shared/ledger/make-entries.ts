/**
 * Builds chains of entries for tests of the rules: `chain.record(statement, when)` gives each entry the next number and an id of its
 * own. It checks nothing; what may be recorded is what the tests ask.
 */

import type { Material } from '#shared/layup/material.ts';
import type {
  AircraftId,
  Entry,
  EntryId,
  PartId,
  RecordedEntry,
  Statement,
  StatementOf,
} from '#shared/ledger/entry.ts';
import { foldEntries, type Ledger } from '#shared/ledger/fold.ts';
import { aircraftWeighingOf } from '../aircraft-weighing/make-weighings.ts';

export const TODAY = '2026-06-30';
export const ON = '2026-05-01';

/** A UUID that tells what it is for when a test fails. */
export function uuidOf(number: number, family = 0): string {
  const tail = number.toString(16).padStart(12, '0');
  return `00000000-0000-4000-8${family.toString(16).padStart(3, '0')}-${tail}`;
}

export function partIdOf(number: number): PartId {
  return uuidOf(number, 1) as PartId;
}

export const AIRCRAFT_ID = uuidOf(1, 2) as AircraftId;

export type When = { readonly on?: string; readonly by?: string; readonly id?: string; readonly remark?: string };

export class Chain {
  readonly entries: RecordedEntry[] = [];

  record(statement: Statement, when: When = {}): RecordedEntry {
    return this.add({ ...statement, ...this.#stamp(when) });
  }

  /** Corrects an entry; `statement` undefined strikes it out. */
  correct(corrected: RecordedEntry, statement: Statement | undefined, when: When & { replacedOn?: string } = {}) {
    const replacement =
      statement === undefined ? null : { happenedOn: when.replacedOn ?? corrected.entry.happenedOn, statement };
    return this.add({
      ...this.#stamp(when),
      kind: 'correction',
      supersedesId: corrected.entry.id,
      reason: 'typed wrongly',
      replacement,
    });
  }

  add(entry: Entry): RecordedEntry {
    const seq = this.entries.length + 1;
    const recorded = { seq, recordedAt: '2026-06-30T12:00:00.000Z', entry };
    this.entries.push(recorded);
    return recorded;
  }

  fold(upToSeq?: number): Ledger {
    return foldEntries(this.entries, upToSeq);
  }

  #stamp(when: When) {
    const id = (when.id ?? uuidOf(this.entries.length + 1)) as EntryId;
    const remark = when.remark === undefined ? {} : { remark: when.remark };
    return { id, happenedOn: when.on ?? ON, by: when.by ?? 'Ann', ...remark };
  }
}

type Changes<Kind extends Statement['kind']> = Partial<Omit<StatementOf<Kind>, 'kind'>>;

export function partOf(number: number, changes: Changes<'part added'> = {}): StatementOf<'part added'> {
  return {
    kind: 'part added',
    partId: partIdOf(number),
    number: `P-${number}`,
    name: `Part ${number}`,
    group: 'wing',
    quantity: 1,
    process: 'wet lay-up',
    ...changes,
  };
}

export function estimateOf(number: number, changes: Changes<'estimate'> = {}): StatementOf<'estimate'> {
  return {
    kind: 'estimate',
    partId: partIdOf(number),
    massKg: 4,
    evidence: 'estimated',
    growth: 0,
    laterGrowth: 0,
    growthFrom: 'stated',
    flashKg: 0,
    laterKg: 0,
    typed: {},
    ...changes,
  };
}

/** A weighing of pieces that together have the net mass `netKg`, read once without a tare. */
export function weighingOf(number: number, netKg: number, changes: Changes<'weighing'> = {}): StatementOf<'weighing'> {
  return {
    kind: 'weighing',
    partId: partIdOf(number),
    pieces: [1],
    condition: 'finished',
    readings: [{ grossKg: netKg, tareKg: 0, typed: { gross: `${netKg} kg` } }],
    netKg,
    grossResolutionKg: 0.001,
    tareResolutionKg: 0,
    resolutionFrom: 'stated',
    ...changes,
  };
}

export function armOf(number: number, changes: Changes<'arm measured'>): StatementOf<'arm measured'> {
  return { kind: 'arm measured', partId: partIdOf(number), typed: {}, ...changes };
}

export function withdrawnOf(number: number, pieces: number[]): StatementOf<'piece withdrawn'> {
  return { kind: 'piece withdrawn', partId: partIdOf(number), pieces, reason: 'delaminated' };
}

export function installedOf(number: number, pieces: number[]): StatementOf<'piece installed'> {
  return { kind: 'piece installed', partId: partIdOf(number), pieces };
}

export function removedOf(number: number): StatementOf<'part removed'> {
  return { kind: 'part removed', partId: partIdOf(number), reason: 'design changed' };
}

export function datumOf(shiftM: number): StatementOf<'datum moved'> {
  return { kind: 'datum moved', shiftM, datum: 'firewall', reason: 'drawing revised', typed: {} };
}

export function targetsOf(emptyMassKg: number, changes: Changes<'targets'> = {}): StatementOf<'targets'> {
  return {
    kind: 'targets',
    emptyMassKg,
    reserveKg: 0,
    groups: [],
    partLimit: { absoluteKg: 0.02, fraction: 0.06 },
    typed: {},
    ...changes,
  };
}

/** The shop's own allowance on what is laid up wet and only estimated, as every part here is. */
export function allowancesOf(growth: number, changes: Changes<'allowances'> = {}): StatementOf<'allowances'> {
  const shares = [{ process: 'wet lay-up', evidence: 'estimated', growth } as const];
  return { kind: 'allowances', shares, typed: {}, ...changes };
}

export function aircraftOf(changes: Changes<'aircraft'> = {}): StatementOf<'aircraft'> {
  return {
    kind: 'aircraft',
    name: 'Test bird',
    datum: 'spinner',
    massUnit: 'kg',
    lengthUnit: 'm',
    typed: {},
    ...changes,
  };
}

/** One seat, one locker, one tank with a table of arms, and an envelope of four corners around `stationM`. */
export function loadingOf(
  changes: { readonly maximumKg?: number; readonly reason?: string; readonly stationM?: number } = {},
): StatementOf<'loading'> {
  const { maximumKg = 650, reason, stationM = 2 } = changes;
  return {
    kind: 'loading',
    limits: {
      stations: [
        { what: 'seat', name: 'Pilot', xM: stationM - 0.5, leastKg: 55, mostKg: 110, isPilot: true },
        { what: 'baggage', name: 'Locker', xM: stationM + 1, mostKg: 20 },
        {
          what: 'tank',
          name: 'Tank',
          fluid: 'avgas',
          densityKgPerL: 0.72,
          usableL: 90,
          unusableL: 2,
          arm: [
            { quantityL: 0, xM: stationM },
            { quantityL: 90, xM: stationM + 0.1 },
          ],
        },
      ],
      maximumKg,
      envelope: {
        by: 'station',
        points: [
          { massKg: 100, at: stationM - 0.3 },
          { massKg: maximumKg, at: stationM - 0.2 },
          { massKg: maximumKg, at: stationM + 0.2 },
          { massKg: 100, at: stationM + 0.3 },
        ],
      },
      cases: [],
    },
    ...(reason === undefined ? {} : { reason }),
  };
}

export function noteOf(text: string, number?: number): StatementOf<'note'> {
  return { kind: 'note', text, ...(number === undefined ? {} : { partId: partIdOf(number) }) };
}

/** The assembly `number` with the parts `members` in it, net mass read once without a tare. */
export function assemblyOf(
  number: number,
  netKg: number,
  members: readonly number[],
  changes: Changes<'assembly weighing'> = {},
): StatementOf<'assembly weighing'> {
  return {
    kind: 'assembly weighing',
    partId: partIdOf(number),
    members: members.map((member) => ({ partId: partIdOf(member) })),
    condition: 'finished',
    readings: [{ grossKg: netKg, tareKg: 0, typed: { gross: `${netKg} kg` } }],
    netKg,
    grossResolutionKg: 0.01,
    tareResolutionKg: 0,
    resolutionFrom: 'stated',
    typed: {},
    ...changes,
  };
}

export function dispositionOf(
  number: number,
  decision: StatementOf<'disposition'>['decision'],
  changes: Changes<'disposition'> = {},
): StatementOf<'disposition'> {
  return { kind: 'disposition', partId: partIdOf(number), pieces: [1], decision, ...changes };
}

/** Why small differences add up. */
export function sumCauseOf(
  sum: NonNullable<StatementOf<'process cause'>['sum']>,
  changes: Changes<'process cause'> = {},
): StatementOf<'process cause'> {
  return { kind: 'process cause', sum, cause: 'resin-rich', ...changes };
}

export function processCauseOf(
  process: StatementOf<'process cause'>['process'],
  releaseSeq: number,
  changes: Changes<'process cause'> = {},
): StatementOf<'process cause'> {
  return { kind: 'process cause', process, releaseSeq, cause: 'resin-rich', ...changes };
}

/** The whole aircraft on its scales, as it stood: what it came to. */
export function wholeOf(
  massKg: number,
  xM: number,
  changes: Changes<'aircraft weighing'> = {},
): StatementOf<'aircraft weighing'> {
  const { weighed, oilIsEmptyWeight, signedBy, signedOn } = aircraftWeighingOf();
  return {
    ...{ kind: 'aircraft weighing', massKg, massStdKg: 0.1, xM, xStdM: 0.002, missing: [] },
    ...{ weighed, oilIsEmptyWeight, signedBy, signedOn },
    ...changes,
  };
}

export function scaleOf(scale: string, changes: Changes<'scale'> = {}): StatementOf<'scale'> {
  return { kind: 'scale', scale, gainStd: 0, typed: {}, ...changes };
}

export function checkOf(
  scale: string,
  shownKg: number,
  changes: Changes<'check weight'> = {},
): StatementOf<'check weight'> {
  return { kind: 'check weight', scale, referenceKg: 10, shownKg, limitKg: 0.01, typed: {}, ...changes };
}

export function materialOf(material: Material, changes: Changes<'material'> = {}): StatementOf<'material'> {
  return { kind: 'material', material, ...changes };
}
