/** Saves a weighing from the screen, or keeps it on this device. */
import { useMutation } from '@tanstack/react-query';
import type { AircraftReport, RecordedReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { ledgerMoved } from '../door/queries.ts';
import { usePerson } from '../frame/signed-in.ts';
import type { Reading } from '../weigh/reading.ts';
import { today } from '../words/days.ts';
import type { NewQueued, Queued } from './queued.ts';
import { recordWeighing } from './record.ts';
import type { Stopped } from './send.ts';

export type ToSave = {
  readonly id: string;
  readonly words: Readonly<Record<string, unknown>>;
  readonly reading: Reading;
};

type Saving<With> = {
  readonly aircraft: AircraftReport;
  readonly part: PartReport;
  /** The refused one that is put right: it keeps its place and its day. */
  readonly again: Queued | undefined;
  readonly onRecorded: (report: RecordedReport, given: With) => void;
  readonly onKept: (one: NewQueued, why: Stopped | undefined) => void;
};

export function useSave<With>({ aircraft, part, again, onRecorded, onKept }: Saving<With>) {
  const { id: personId, name, initials } = usePerson();
  return useMutation({
    mutationFn: async ({ id, words, reading }: ToSave & { readonly given: With }) => {
      const one: NewQueued = {
        id,
        aircraftId: aircraft.id,
        aircraftName: aircraft.name,
        partId: part.partId,
        partNumber: part.number,
        partName: part.name,
        person: { id: personId, name, initials },
        words,
        reading,
        weighedAt: again?.weighedAt ?? new Date().toISOString(),
        day: again?.day ?? today(),
        hasFailed: false,
        refused: undefined,
      };
      return { one, outcome: await recordWeighing(one, again) };
    },
    onSuccess: ({ one, outcome }, { given }) => {
      if (outcome.is === 'kept') return onKept(one, outcome.why);
      ledgerMoved(aircraft.id);
      onRecorded(outcome.report, given);
    },
  });
}
