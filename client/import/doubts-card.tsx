/** How many readings look like a slip of the hand, by kind, each kind to be confirmed at once (rule W4). */
import { counted, LOCALE, say } from '#shared/words/say.ts';
import { Button } from '../pieces/controls.tsx';
import type { Sure } from './doubts.ts';
import { slipWords } from './words.ts';

export function DoubtsCard(props: { readonly sure: Sure; readonly onNext: () => void }) {
  const { doubts, confirmKind } = props.sure;
  if (doubts.kinds.length === 0) return null;
  const open = doubts.openLines.length;
  return (
    <section className="notice warn stack-tight doubts" aria-label={say`Doubts`}>
      <div className="row doubts-head">
        <p role="status">
          <strong>
            {open === 0 ? say`Every doubt is confirmed.` : say`${counted(open, 'line', 'lines')} to be looked at again`}
          </strong>
          {open === 0 ? '' : say`: put the row right, leave it out, or confirm it. All of one kind together:`}
        </p>
        {open === 0 ? null : <Button slim onPress={props.onNext}>{say`Next doubt`}</Button>}
      </div>
      <ul className="doubt-kinds">
        {doubts.kinds.map(({ slip, count, open: openOfKind }) => (
          <li key={slip} className="doubt-kind">
            <span>
              {slipWords(slip)}: {counted(count, 'line', 'lines')}
            </span>
            {openOfKind === 0 ? (
              <span>{say`✓ confirmed`}</span>
            ) : (
              <Button
                slim
                onPress={() => confirmKind(slip)}
                aria-label={`${rightWords(openOfKind)}: ${slipWords(slip)}`}
              >
                {rightWords(openOfKind)}
              </Button>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

function rightWords(count: number): string {
  return count === 1 ? say`It is right` : say`All ${count.toLocaleString(LOCALE)} are right`;
}
