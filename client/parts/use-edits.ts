/**
 * What is typed into the cells and not yet in the rows. It stays, whatever becomes of the cell: scrolled away, left for another screen,
 * refused by the server. It goes when it was recorded and the rows say so, or when somebody drops it.
 */
import { useEffect, useMemo, useState } from 'react';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import type { PartReport } from '#shared/contract/reports.ts';
import { newId, wordsOf } from '../door/ask.ts';
import { ledgerMoved } from '../door/queries.ts';
import type { Shown } from '../pieces/units.ts';
import type { Column } from './columns.tsx';
import { LeavesLayUp, reviseEstimate } from './record.ts';

export type CellEdit = {
  readonly partId: string;
  readonly column: string;
  readonly text: string;
  readonly id: string;
  readonly state: 'typed' | 'sending' | 'refused' | 'sent';
  readonly words?: string;
  /** Told what it leaves behind: the next time it is recorded. */
  readonly isAsked?: boolean;
  /** The entry it became. */
  readonly seq?: number;
};

export type Edits = {
  readonly byCell: ReadonlyMap<string, CellEdit>;
  readonly type: (part: PartReport, column: Column, text: string) => void;
  readonly drop: (part: PartReport, column: Column) => void;
  readonly dropAll: () => void;
  readonly record: (part: PartReport, column: Column) => Promise<boolean>;
  readonly recorded: (part: PartReport, column: Column, seq: number) => void;
};

export function cellKey(partId: string, column: string): string {
  return `${partId} ${column}`;
}

const kept = new Map<string, ReadonlyMap<string, CellEdit>>();

/** What was on its way when the screen was left may have arrived or not: it is sent again under its own id. */
function keptOf(aircraftId: string): ReadonlyMap<string, CellEdit> {
  const edits = [...(kept.get(aircraftId) ?? [])];
  return new Map(edits.map(([key, edit]) => [key, edit.state === 'sending' ? { ...edit, state: 'typed' } : edit]));
}

/** `seq`: the last entry that the rows know of. */
export function useEdits(aircraft: AircraftReport, shown: Shown, seq: number | undefined): Edits {
  const [all, setByCell] = useState<ReadonlyMap<string, CellEdit>>(() => keptOf(aircraft.id));
  const byCell = useMemo(() => withoutKnown(all, seq ?? 0), [all, seq]);
  useEffect(() => {
    kept.set(aircraft.id, byCell);
  }, [aircraft.id, byCell]);

  const put = (key: string, change: (before: CellEdit | undefined) => CellEdit | undefined) =>
    setByCell((before) => {
      const next = new Map(before);
      const edit = change(before.get(key));
      if (edit === undefined) next.delete(key);
      else next.set(key, edit);
      return next;
    });
  const type: Edits['type'] = ({ partId }, { id: column }, text) =>
    put(cellKey(partId, column), (before) =>
      before?.text === text ? before : { partId, column, text, id: newId(), state: 'typed' },
    );
  const drop: Edits['drop'] = (part, column) => put(cellKey(part.partId, column.id), () => undefined);
  const recorded: Edits['recorded'] = (part, column, at) =>
    put(cellKey(part.partId, column.id), (before) => before && { ...before, state: 'sent', seq: at });
  const record: Edits['record'] = async (part, column) => {
    const key = cellKey(part.partId, column.id);
    const edit = byCell.get(key);
    if (edit === undefined || edit.state === 'sending' || column.edit?.records !== 'estimate') return false;
    put(key, () => ({ ...edit, state: 'sending' }));
    try {
      const at = await reviseEstimate(column.edit, {
        aircraft,
        part,
        id: edit.id,
        text: edit.text,
        shown,
        isSure: edit.isAsked === true,
      });
      recorded(part, column, at);
      ledgerMoved(aircraft.id);
      return true;
    } catch (error) {
      // The cell may have been typed into anew meanwhile: the refusal is of what was sent.
      const told: Partial<CellEdit> =
        error instanceof LeavesLayUp
          ? { state: 'typed', words: error.message, isAsked: true }
          : { state: 'refused', words: wordsOf(error) };
      put(key, (now) => (now?.id === edit.id ? { ...edit, ...told } : now));
      return false;
    }
  };
  const dropAll = () =>
    setByCell((before) => new Map([...before].filter(([, { state }]) => state === 'sending' || state === 'sent')));
  return { byCell, type, drop, dropAll, record, recorded };
}

function withoutKnown(edits: ReadonlyMap<string, CellEdit>, seq: number): ReadonlyMap<string, CellEdit> {
  const left = [...edits].filter(([, edit]) => edit.state !== 'sent' || (edit.seq ?? 0) > seq);
  return left.length === edits.size ? edits : new Map(left);
}
