/** Which form of a section is open. Once it is closed, the button that opened it has the keyboard again. */

import { useState } from 'react';
import type { RecordedReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';

export type OpenForm<Name extends string> = {
  readonly open: Name | undefined;
  readonly show: (name: Name) => void;
  /** `words`: what was done. */
  readonly close: (words?: string) => void;
  readonly done: string | undefined;
  /** An entry that is told here was put right. */
  readonly corrected: (recorded: RecordedReport) => void;
  /** What a button that opens `name` needs. */
  readonly opens: (name: Name) => { readonly onPress: () => void; readonly autoFocus: boolean };
};

export function useOpenForm<Name extends string>(): OpenForm<Name> {
  const [open, setOpen] = useState<Name>();
  const [last, setLast] = useState<Name>();
  const [done, setDone] = useState<string>();
  const show = (name: Name) => {
    setOpen(name);
    setLast(name);
    setDone(undefined);
  };
  return {
    open,
    show,
    close: (words) => {
      setOpen(undefined);
      setDone(words);
    },
    done,
    corrected: ({ entry }) =>
      setDone(say`Corrected: entry ${entry.seq} says so, and the one before it stays in the ledger.`),
    opens: (name) => ({ onPress: () => show(name), autoFocus: last === name }),
  };
}
