/** How labels were printed last on this device: the paper in the printer is mostly the same. */
import { useState } from 'react';
import { z } from 'zod';
import { ROLLS, SHEETS } from '#shared/label/sheet.ts';
import { Condition } from '#shared/ledger/entry.ts';

const KEY = 'tarebook labels';
const text = z.string().max(20);

const Kept = z.object({
  paper: z.enum(['sheet', 'roll']),
  /** As they were typed. */
  sheet: z.object({
    columns: text,
    rows: text,
    widthMm: text,
    heightMm: text,
    leftMm: text,
    topMm: text,
    acrossMm: text,
    downMm: text,
  }),
  roll: z.object({ widthMm: text, heightMm: text }),
  first: text,
  condition: Condition,
  eachPiece: z.boolean(),
});
export type LabelSettings = z.infer<typeof Kept>;

/** The figures of a size, as they are typed. */
export function asTyped<Size extends object>(size: Size): Record<keyof Size & string, string> {
  return Object.fromEntries(Object.entries(size).map(([name, value]) => [name, String(value)])) as Record<
    keyof Size & string,
    string
  >;
}

const [firstSheet, , , threeByEight] = SHEETS;
const [, firstRoll] = ROLLS;

function firstSettings(): LabelSettings {
  const sheet = threeByEight ?? firstSheet;
  if (sheet === undefined || firstRoll === undefined) throw new Error('there is a size of each kind');
  return {
    paper: 'sheet',
    sheet: asTyped(sheet),
    roll: asTyped(firstRoll),
    first: '1',
    condition: 'as released',
    eachPiece: true,
  };
}

export function useLabelSettings(): [LabelSettings, (changed: Partial<LabelSettings>) => void] {
  const [settings, setSettings] = useState(recall);
  const change = (changed: Partial<LabelSettings>) => {
    const next = { ...settings, ...changed };
    try {
      localStorage.setItem(KEY, JSON.stringify(next));
    } catch {
      // A device that keeps nothing still prints.
    }
    setSettings(next);
  };
  return [settings, change];
}

function recall(): LabelSettings {
  try {
    const read = Kept.safeParse(JSON.parse(localStorage.getItem(KEY) ?? 'null'));
    if (read.success) return read.data;
  } catch {
    // A note of another version: the first settings are as good.
  }
  return firstSettings();
}
