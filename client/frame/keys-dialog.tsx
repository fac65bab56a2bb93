/**
 * The keys of every screen in one list, reached by "?" wherever nothing is typed, and by a button at the foot of the page. It handles no key
 * but that one; the keys of the table of parts are told beside the code that has them.
 */
import { useEffect, useState } from 'react';
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
    screen: 'Everywhere',
    keys: [
      ['?', 'this list, where nothing is typed'],
      ['Tab, Shift and Tab', 'to the next or the one before'],
      ['Enter', 'follow a link, press a button, send a form'],
      ['Arrows', 'within a choice of a few'],
      ['Tab, then Enter, on a new page', 'past the row of screens to the content'],
    ],
  },
  {
    screen: 'A question in front of the screen',
    keys: [['Escape', 'put it away; what was typed in a form is kept']],
  },
  {
    screen: 'Weigh',
    keys: [
      ['Enter in Gross', 'on to the tare'],
      ['Enter in Tare', 'save the weighing, once it is judged and no doubt is open'],
      ['Figures, point or comma', 'the same as the large keys on the screen'],
      ['A line pasted, or typed by a scale', 'read as number, unit and marks; asked about where it leaves a question'],
    ],
  },
  { screen: 'Parts, in the table', keys: GRID_KEYS },
  { screen: 'The lay-up of a part', keys: LAY_UP_KEYS },
  { screen: 'Loading, in the corners of the envelope', keys: CORNER_KEYS },
  {
    screen: 'A brief on a projector',
    keys: [
      ['Page down, right, down, space', 'the next subject'],
      ['Page up, left, up', 'the one before'],
      ['Home, End', 'the first, the last'],
      ['Escape', 'back to the page'],
    ],
  },
  {
    screen: 'Bring a list, in a row',
    keys: [
      ['Enter', 'take what was typed'],
      ['Escape', 'leave the cell as it was'],
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
      <Button slim kind="quiet" onPress={() => setOpen(true)}>
        Keys of the keyboard (?)
      </Button>
      <Dialog title="Keys of the keyboard" isOpen={isOpen} isWide onClose={() => setOpen(false)}>
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
          <Button kind="main" onPress={() => setOpen(false)}>
            Done
          </Button>
        </div>
      </Dialog>
    </>
  );
}

/** A field takes its own keys, and so does a cell of the table; a question that is open is answered first. */
function isTypedInto({ target }: KeyboardEvent): boolean {
  if (document.querySelector('[role="dialog"], [role="alertdialog"]') !== null) return true;
  return (
    target instanceof Element && target.closest('input, textarea, select, [role="grid"], [role="treegrid"]') !== null
  );
}
