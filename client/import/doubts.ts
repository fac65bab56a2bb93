/** The doubts about the rows of a list, and which of them somebody has confirmed (rule W4). A row that is changed is asked about again. */
import { useCallback, useMemo, useState } from 'react';
import type { ListPreview } from '#shared/contract/import.ts';

export type RowDoubts = { readonly words: readonly string[]; readonly isConfirmed: boolean };

export type Kind = { readonly slip: string; readonly count: number; readonly open: number };

export type Doubts = {
  readonly byLine: ReadonlyMap<number, RowDoubts>;
  readonly kinds: readonly Kind[];
  /** Lines that are still to be confirmed, in their order. */
  readonly openLines: readonly number[];
};

export type Sure = {
  readonly doubts: Doubts;
  /** All doubts about one row, or all of one kind. */
  readonly confirmLine: (line: number) => void;
  readonly confirmKind: (slip: string) => void;
  /** The row says something else now, or it is another list. */
  readonly forget: (line: number | undefined) => void;
};

const NONE: ListPreview['doubts'] = [];

export function useDoubts(told: ListPreview['doubts'] = NONE): Sure {
  const [sure, setSure] = useState<ReadonlySet<string>>(new Set());
  const doubts = useMemo(() => doubtsIn(told, sure), [told, sure]);
  const confirm = useCallback(
    (isMeant: (line: number, slip: string) => boolean) => {
      const meant = told.flatMap(({ slip, words, lines }) =>
        lines.filter((line) => isMeant(line, slip)).map((line) => keyOf(line, words)),
      );
      setSure((before) => new Set([...before, ...meant]));
    },
    [told],
  );
  return {
    doubts,
    confirmLine: useCallback((line) => confirm((one) => one === line), [confirm]),
    confirmKind: useCallback((slip) => confirm((_, one) => one === slip), [confirm]),
    forget: useCallback((line) => {
      const isOf = (key: string) => line === undefined || key.startsWith(keyOf(line, ''));
      setSure((before) => new Set([...before].filter((key) => !isOf(key))));
    }, []),
  };
}

function keyOf(line: number, words: string): string {
  return `${line} ${words}`;
}

function doubtsIn(told: ListPreview['doubts'], sure: ReadonlySet<string>): Doubts {
  const byLine = new Map<number, { words: string[]; isConfirmed: boolean }>();
  const kinds = new Map<string, { slip: string; count: number; open: number }>();
  for (const { slip, words, lines } of told) {
    const kind = kinds.get(slip) ?? { slip, count: 0, open: 0 };
    kinds.set(slip, kind);
    for (const line of lines) {
      const isSure = sure.has(keyOf(line, words));
      kind.count += 1;
      if (!isSure) kind.open += 1;
      const row = byLine.get(line) ?? { words: [], isConfirmed: true };
      row.words.push(words);
      row.isConfirmed &&= isSure;
      byLine.set(line, row);
    }
  }
  const openLines = [...byLine].filter(([, { isConfirmed }]) => !isConfirmed).map(([line]) => line);
  return { byLine, kinds: [...kinds.values()], openLines: openLines.sort((a, b) => a - b) };
}
