/**
 * A scale's line on its way into a field (rule W13): pasted, typed by a scale that acts as a keyboard, or come through a serial port. What leaves
 * no question is put into the field as number and unit; else somebody is asked first, and nothing is put meanwhile.
 */
import { useState } from 'react';
import { readMass } from '#shared/quantity/typed.ts';
import type { MassUnit } from '#shared/quantity/units.ts';
import { readScaleText, type ScaleReading } from '#shared/weighing/scale-line.ts';
import { lineRefusalInWords } from '#shared/weighing/scale-line-refusal.ts';
import { isBareNumber } from '../../pieces/typed-units.ts';
import { LINE_WORDS } from '../../words/scale-lines.ts';

export type LineState<Name extends string> = { readonly name: Name; readonly text: string } & (
  | { readonly kind: 'refused'; readonly words: string; readonly asComma: string | undefined }
  | { readonly kind: 'asked'; readonly reading: ScaleReading; readonly doubts: readonly string[] }
  | { readonly kind: 'taken'; readonly reading: ScaleReading }
);

export type ScaleLine<Name extends string> = {
  readonly state: LineState<Name> | undefined;
  /** Reads a line; answers whether it was taken at once. */
  readonly offer: (name: Name, text: string, decimalComma?: boolean) => boolean;
  /** Of a field that somebody is done typing into: what is no number with a unit may be a line. */
  readonly settle: (name: Name) => boolean;
  readonly take: (unit: MassUnit | undefined) => void;
  readonly leave: () => void;
  readonly forget: () => void;
};

export function useScaleLine<Name extends string>(given: {
  readonly typedIn: (name: Name) => string;
  readonly put: (name: Name, text: string) => void;
  /** What about a reading does not fit this field. */
  readonly doubtOf: (name: Name, reading: ScaleReading) => string | undefined;
}): ScaleLine<Name> {
  const { typedIn, put, doubtOf } = given;
  const [state, setState] = useState<LineState<Name>>();
  const takeReading = (name: Name, text: string, reading: ScaleReading, unit: MassUnit) => {
    put(name, `${reading.digits} ${unit}`);
    setState({ kind: 'taken', name, text, reading: { ...reading, unit } });
  };
  const offer = (name: Name, text: string, decimalComma = false): boolean => {
    const read = readScaleText(text, { decimalComma });
    if (!read.ok) {
      const other = decimalComma ? undefined : readScaleText(text, { decimalComma: true });
      const asComma =
        read.refusal.code === 'scale-comma-unclear' && other?.ok === true ? other.value.digits : undefined;
      setState({ kind: 'refused', name, text, words: lineRefusalInWords(read.refusal), asComma });
      return false;
    }
    const reading = read.value;
    const doubt = doubtOf(name, reading);
    const doubts = [
      ...(reading.isStable === false ? [LINE_WORDS.notStable] : []),
      ...(doubt === undefined ? [] : [doubt]),
    ];
    if (reading.unit !== undefined && doubts.length === 0) {
      takeReading(name, text, reading, reading.unit);
      return true;
    }
    setState({ kind: 'asked', name, text, reading, doubts });
    return false;
  };
  const asked = state?.kind === 'asked' ? state : undefined;
  return {
    state,
    offer,
    settle: (name) => {
      const text = typedIn(name);
      if (isPlain(text) || (state !== undefined && state.name === name && state.text === text)) return false;
      return offer(name, text);
    },
    take: (stated) => {
      const unit = asked?.reading.unit ?? stated;
      if (asked !== undefined && unit !== undefined) takeReading(asked.name, asked.text, asked.reading, unit);
    },
    leave: () => {
      if (state !== undefined && typedIn(state.name) === state.text) put(state.name, '');
      setState(undefined);
    },
    forget: () => setState(undefined),
  };
}

/** What a field takes as it is: numbers as people type them, several readings parted by strokes. */
export function isPlain(text: string): boolean {
  return text.split('/').every((one) => one.trim() === '' || (/\d/.test(one) && isBareNumber(one)) || hasItsUnit(one));
}

/** `G` may be gross. */
export function hasItsUnit(text: string): boolean {
  return readMass(text).ok && !/\d\s*G\s*$/.test(text);
}
