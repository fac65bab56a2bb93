/**
 * The keys of every screen in one list, reached by "?" wherever nothing is typed, and by a button at the foot of the page. It handles no key
 * but that one; the keys of the table of parts are told beside the code that has them.
 */

import { useEffect, useState } from 'react';
import { say } from '#shared/words/say.ts';
import { LAY_UP_KEYS } from '../layup/keys.ts';
import { CORNER_KEYS } from '../loading/keys.ts';
import { GRID_KEYS } from '../parts/use-grid-keys.ts';
import { Button } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';

type Keys = {
  readonly screen: string;
  readonly keys: readonly (readonly [keys: string, does: string])[];
};

const ALL_KEYS: readonly Keys[] = [
  {
    screen: say`Everywhere`,
    keys: [
      ['?', say`this list, where nothing is typed`],
      [say`Tab, Shift and Tab`, say`to the next or the one before`],
      [say`Enter`, say`follow a link, press a button, send a form`],
      [say`Arrows`, say`within a choice of a few`],
      [say`Tab, then Enter, on a new page`, say`past the row of screens to the content`],
    ],
  },
  {
    screen: say`A question in front of the screen`,
    keys: [[say`Escape`, say`put it away; what was typed in a form is kept`]],
  },
  {
    screen: say`Weigh`,
    keys: [
      [say`Enter in Gross`, say`on to the tare`],
      [say`Enter in Tare`, say`save the weighing, once it is judged and no doubt is open`],
      [say`Figures, point or comma`, say`the same as the large keys on the screen`],
      [
        say`A line pasted, or typed by a scale`,
        say`read as number, unit and marks; asked about where it leaves a question`,
      ],
    ],
  },
  { screen: say`Parts, in the table`, keys: GRID_KEYS },
  { screen: say`The lay-up of a part`, keys: LAY_UP_KEYS },
  { screen: say`Loading, in the corners of the envelope`, keys: CORNER_KEYS },
  {
    screen: say`A brief on a projector`,
    keys: [
      [say`Page down, right, down, space`, say`the next subject`],
      [say`Page up, left, up`, say`the one before`],
      [say`Home, End`, say`the first, the last`],
      [say`Escape`, say`back to the page`],
    ],
  },
  {
    screen: say`Bring a list, in a row`,
    keys: [
      [say`Enter`, say`take what was typed`],
      [say`Escape`, say`leave the cell as it was`],
    ],
  },
];

export function KeysButton() {
  const [isOpen, setOpen] = useState(false);
  useEffect(() => {
    const listen = (event: KeyboardEvent) => {
      if (event.key !== '?' || event.defaultPrevented || event.ctrlKey || event.metaKey || isTypedInto(event)) return;
      event.preventDefault();
      setOpen(true);
    };
    addEventListener('keydown', listen);
    return () => removeEventListener('keydown', listen);
  }, []);
  return (
    <>
      <Button slim kind="quiet" onPress={() => setOpen(true)}>{say`Keys of the keyboard (?)`}</Button>
      <Dialog title={say`Keys of the keyboard`} isOpen={isOpen} isWide onClose={() => setOpen(false)}>
        {ALL_KEYS.map(({ screen, keys }) => (
          <section key={screen} className="stack-tight" aria-label={screen}>
            <h3>{screen}</h3>
            <dl className="key-list">
              {keys.map(([names, does]) => (
                <div key={names}>
                  <dt>{names}</dt>
                  <dd>{does}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
        <div className="acts">
          <Button kind="main" onPress={() => setOpen(false)}>{say`Done`}</Button>
        </div>
      </Dialog>
    </>
  );
}

/** A field takes its own keys, and so does a cell of the table; a question that is open is answered first. */
function isTypedInto({ target }: KeyboardEvent): boolean {
  if (document.querySelector(say`[role="dialog"], [role="alertdialog"]`) !== null) return true;
  return (
    target instanceof Element && target.closest('input, textarea, select, [role="grid"], [role="treegrid"]') !== null
  );
}
