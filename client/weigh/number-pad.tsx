/** Large keys for gloved fingers. The keyboard and a scale's typed line go into the same fields. */
import { Button } from 'react-aria-components';

const KEYS = ['7', '8', '9', '4', '5', '6', '1', '2', '3', '.', '0', 'back'] as const;

export function NumberPad({ onKey }: { readonly onKey: (key: string) => void }) {
  return (
    <div className="number-pad" role="group" aria-label="Number pad">
      {KEYS.map((key) => (
        <Button key={key} className="button" onPress={() => onKey(key)} aria-label={key === 'back' ? 'Delete' : key}>
          {key === 'back' ? '⌫' : key}
        </Button>
      ))}
    </div>
  );
}
