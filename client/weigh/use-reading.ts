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
  /** The pieces that nobody has chosen; another list once somebody has. */
  readonly offered: readonly number[] | undefined;
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
  /** The one whose label was scanned, where it was. */
  readonly piece: number | undefined;
};

export function useReading({ aircraft, part, parts, begun, piece }: Of): TypedReading {
  const personId = usePerson().id;
  const whose = { aircraftId: aircraft.id, partId: part.partId, personId };
  const anew = () => {
    const first = firstReading(part, parts, aircraft);
    // A label that was scanned has chosen.
    const reading = piece === undefined ? first : { ...first, pieces: [piece] };
    return { id: newId(), reading, isRestored: false, offered: first.pieces };
  };
  const [typed, setTyped] = useState(() => {
    if (begun !== undefined) {
      // The part may have fewer pieces by now.
      const pieces = begun.pieces.filter((one) => one <= part.quantity);
      const reading =
        pieces.length > 0 ? { ...begun, pieces } : { ...begun, pieces: firstReading(part, parts, aircraft).pieces };
      return { id: newId(), reading, isRestored: true, offered: undefined };
    }
    const kept = keptReading(whose);
    return kept === undefined ? anew() : { ...kept, isRestored: true, offered: undefined };
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
      setTyped(anew());
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
