/** Large keys for gloved fingers. The keyboard and a scale's typed line go into the same fields. */

import { Button } from 'react-aria-components';
import { say } from '#shared/words/say.ts';

const KEYS = ['7', '8', '9', '4', '5', '6', '1', '2', '3', '.', '0', 'back'] as const;

export function NumberPad(props: {
  readonly onKey: (key: string) => void;
  /** Digits alone, as of a PIN. */
  readonly isWhole?: boolean;
}) {
  const { onKey, isWhole = false } = props;
  return (
    <div className={`number-pad ${isWhole ? 'whole' : ''}`} role="group" aria-label={say`Number pad`}>
      {KEYS.filter((key) => !isWhole || key !== '.').map((key) => (
        <Button key={key} className="button" onPress={() => onKey(key)} aria-label={key === 'back' ? say`Delete` : key}>
          {key === 'back' ? <BackMark /> : key}
        </Button>
      ))}
    </div>
  );
}

/** Drawn, since the sign for it is missing from some tablets' type. */
function BackMark() {
  return (
    <svg
      width="30"
      height="22"
      viewBox="0 0 30 22"
      fill="none"
      stroke="currentColor"
      strokeWidth="2"
      aria-hidden="true"
    >
      <path d="M10 2h17a1 1 0 0 1 1 1v16a1 1 0 0 1-1 1H10l-8-9z" strokeLinejoin={'round'} />
      <path d="m14 7 8 8m0-8-8 8" strokeLinecap={'round'} />
    </svg>
  );
}
