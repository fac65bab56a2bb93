/** What the table of parts looks like on this device, and where somebody was in it before they looked at one part. */
import { useEffect, useState } from 'react';
import { COLUMNS } from './columns.tsx';

const SHOWN_COLUMNS = 'tarebook parts columns';

export function useShownColumns(): [ReadonlySet<string>, (shown: ReadonlySet<string>) => void] {
  const [shown, setShown] = useState<ReadonlySet<string>>(columnsRemembered);
  const remember = (next: ReadonlySet<string>) => {
    localStorage.setItem(SHOWN_COLUMNS, JSON.stringify([...next]));
    setShown(next);
  };
  return [shown, remember];
}

export const FIRST_COLUMNS: ReadonlySet<string> = new Set(
  COLUMNS.filter(({ isAtFirstShown }) => isAtFirstShown).map(({ id }) => id),
);

function columnsRemembered(): ReadonlySet<string> {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(SHOWN_COLUMNS) ?? 'null');
    if (Array.isArray(kept)) return new Set(['number', ...kept.filter((id) => typeof id === 'string')]);
  } catch {
    // A note of another version, or of another program: the first columns are as good.
  }
  return FIRST_COLUMNS;
}

export type Filter = {
  readonly search: string;
  readonly group: string;
  readonly process: string;
  readonly flag: string;
  readonly open: string;
};

export const NO_FILTER: Filter = { search: '', group: '', process: '', flag: '', open: '' };

export type View = Filter & {
  readonly isTree: boolean;
  readonly sort: { readonly column: string; readonly isDown: boolean };
  /** Assemblies that keep their parts to themselves, by number. */
  readonly closed: ReadonlySet<string>;
  readonly active: { readonly partId: string | undefined; readonly column: string };
};

export const FIRST_VIEW: View = {
  ...NO_FILTER,
  isTree: true,
  sort: { column: 'number', isDown: false },
  closed: new Set(),
  active: { partId: undefined, column: 'number' },
};

const views = new Map<string, View>();

/** Kept while the page is open, for each aircraft: who comes back from a part finds the table as it was left. */
export function useView(aircraftId: string): [View, (change: Partial<View>) => void] {
  const [view, setView] = useState<View>(() => views.get(aircraftId) ?? FIRST_VIEW);
  useEffect(() => {
    views.set(aircraftId, view);
  }, [aircraftId, view]);
  return [view, (change) => setView((before) => ({ ...before, ...change }))];
}
