/** The words of finding a part by its label: what a code turns out to be, and what stands between the page and the camera. */

import type { Found } from '#shared/label/code.ts';
import { say } from '#shared/words/say.ts';

type NotFound = Exclude<Found<{ readonly number: string; readonly quantity: number }>, { is: 'part' }>;

/** `aircraft`: the name of the other aircraft, where this person may see it. */
export function notFoundWords(found: NotFound, aircraft: string | undefined): string {
  switch (found.is) {
    case 'of another aircraft':
      return aircraft === undefined
        ? say`This label is of a part of another aircraft.`
        : say`This label is of a part of ${aircraft}.`;
    case 'gone':
      return say`The part of this label is not in the list any more. Ask the engineer what became of it.`;
    case 'no such piece':
      return say`${found.part.number} has ${found.part.quantity === 1 ? say`one piece` : say`${found.part.quantity} pieces`}, and the label is of piece ${found.piece}.`;
    case 'no label':
      return say`This code is no label of a part. Find the part by its number or name.`;
  }
}

export type CameraTrouble = 'insecure' | 'refused' | 'none' | 'busy' | 'broken';

export const CAMERA_TROUBLE: Readonly<Record<CameraTrouble, { readonly words: string; readonly remedy: string }>> = {
  insecure: {
    words: say`The browser lends its camera to pages that came over https alone.`,
    remedy: say`Open Tarebook by its https address; where it has none, whoever runs the server starts it with --tls local. A scanner that types, and number or name, work here as well.`,
  },
  refused: {
    words: say`The browser was told to keep the camera from this page.`,
    remedy: say`Allow the camera beside the page’s address, or in the tablet’s settings, and try again.`,
  },
  none: {
    words: say`No camera was found.`,
    remedy: say`Find the part by its number or name, or with a scanner that types.`,
  },
  busy: {
    words: say`The camera is not to be had: another program may be using it.`,
    remedy: say`Close what uses it, and try again.`,
  },
  broken: {
    words: say`The camera could not be started.`,
    remedy: say`Try again, or find the part by its number or name.`,
  },
};
