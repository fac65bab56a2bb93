/** What is said of a line that came from a scale (rule W13). */

import type { ScaleReading } from '#shared/weighing/scale-line.ts';
import { say } from '#shared/words/say.ts';

/** `12.34 kg, at rest, gross`. */
export function saidOf({ digits, unit, isStable, load }: ScaleReading): string {
  const figure = digits.replace('-', '\u2212');
  return [
    unit === undefined ? figure : `${figure}\u00a0${unit}`,
    ...(isStable === undefined ? [] : [isStable ? say`at rest` : say`not at rest`]),
    ...(load === undefined ? [] : [load]),
  ].join(', ');
}

export const LINE_WORDS = {
  read: say`Read from the scale:`,
  noUnit: say`The line gives no unit. Which one does the scale show?`,
  notStable: say`The scale was not at rest. Wait until it is, or take the figure all the same.`,
  netBesideTare: say`The scale says net: a tare is off already, and the one typed here would come off as well.`,
  other: (load: 'gross' | 'net' | 'tare') => `The scale says that this is a ${load}.`,
  leave: say`Leave it`,
  take: (figure: string) => `Take ${figure}`,
  comma: (digits: string) => `It is ${digits}`,
} as const;
