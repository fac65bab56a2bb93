/** The reading that is being typed: kept on the device from the first figure on, and one entry however often it has to be sent (rule L3). */
import { useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { newId } from '../door/ask.ts';
import { usePerson } from '../frame/signed-in.ts';
import { firstReading } from './first-reading.ts';
import { dropReading, keepReading, keptReading } from './kept.ts';
import type { Reading } from './reading.ts';

export type TypedReading = {
  readonly id: string;
  readonly reading: Reading;
  /** It was typed before, and stands here again. */
  readonly isRestored: boolean;
  readonly change: (changed: Partial<Reading>) => void;
  /** Saved, or not wanted: nothing of it is kept. */
  readonly forget: () => void;
  /** Begins anew. */
  readonly drop: () => void;
  /** The same figures, of another part. */
  readonly giveTo: (other: PartReport) => void;
};

type Of = {
  readonly aircraft: AircraftReport;
  readonly part: PartReport;
  readonly parts: readonly PartReport[];
  /** What it begins with, where it is not typed anew. */
  readonly begun: Reading | undefined;
};

export function useReading({ aircraft, part, parts, begun }: Of): TypedReading {
  const personId = usePerson().id;
  const whose = { aircraftId: aircraft.id, partId: part.partId, personId };
  const [typed, setTyped] = useState(() => {
    if (begun !== undefined) {
      // The part may have fewer pieces by now.
      const pieces = begun.pieces.filter((piece) => piece <= part.quantity);
      const reading =
        pieces.length > 0 ? { ...begun, pieces } : { ...begun, pieces: firstReading(part, parts, aircraft).pieces };
      return { id: newId(), reading, isRestored: true };
    }
    const kept = keptReading(whose);
    return kept === undefined
      ? { id: newId(), reading: firstReading(part, parts, aircraft), isRestored: false }
      : { ...kept, isRestored: true };
  });
  const forget = () => dropReading(whose);
  return {
    ...typed,
    change: (changed) => {
      const next = { ...typed, id: newId(), reading: { ...typed.reading, ...changed } };
      keepReading(whose, next);
      setTyped(next);
    },
    forget,
    drop: () => {
      forget();
      setTyped({ id: newId(), reading: firstReading(part, parts, aircraft), isRestored: false });
    },
    giveTo: (other) => {
      const { pieces, notYetIn } = firstReading(other, parts, aircraft);
      forget();
      keepReading(
        { ...whose, partId: other.partId },
        { id: newId(), reading: { ...typed.reading, pieces, notYetIn, cause: '' } },
      );
    },
  };
}
