/** What is refused of an aircraft that is carried out or brought in (rules X1 to X5), with its words and its remedy; part of the registry. */

import { say } from '#shared/words/say.ts';

export type ArchiveRefusal =
  | { readonly code: 'archive-unreadable'; readonly why: string }
  | { readonly code: 'archive-too-large'; readonly what: string }
  | { readonly code: 'archive-name-refused'; readonly name: string }
  | { readonly code: 'archive-newer'; readonly format: number; readonly known: number }
  | { readonly code: 'archive-manifest-changed'; readonly why: string }
  | { readonly code: 'archive-file-missing' }
  | { readonly code: 'archive-file-strange' }
  | { readonly code: 'archive-saved-anew'; readonly sign: string }
  | { readonly code: 'archive-changed'; readonly what: 'file' | 'headings' | 'quotation marks' | 'row' | 'cell' }
  | { readonly code: 'archive-row-missing'; readonly row: string }
  | { readonly code: 'archive-row-out-of-place'; readonly row: string }
  | { readonly code: 'archive-row-refused'; readonly why: string }
  | { readonly code: 'archive-chain-broken'; readonly seq: number }
  | { readonly code: 'archive-headline-differs' }
  | { readonly code: 'archive-place-taken'; readonly place: string }
  | { readonly code: 'aircraft-here-already' }
  | { readonly code: 'ledger-not-whole'; readonly seq: number; readonly why: string };

type Words = {
  readonly [Code in ArchiveRefusal['code']]: (facts: Extract<ArchiveRefusal, { code: Code }>) => {
    readonly words: string;
    readonly remedy: string;
  };
};

const CARRY_AGAIN = say`Take the file from the copy as it was carried out, or carry the aircraft out once more. What is to be changed is changed in the ledger, by a correction.`;

export const ARCHIVE_WORDS: Words = {
  'archive-unreadable': ({ why }) => ({
    words: say`The aircraft cannot be read from here: ${why}.`,
    remedy: say`Give the folder or the ZIP file in which an aircraft was carried out.`,
  }),
  'archive-too-large': ({ what }) => ({
    words: say`It is larger than an aircraft may be: ${what}.`,
    remedy: say`Give the ZIP file as it was carried out. A folder is read by the command, without a ZIP file.`,
  }),
  'archive-name-refused': ({ name }) => ({
    words: say`A file of the ZIP is named “${name.slice(0, 60)}”, which no file of an aircraft is.`,
    remedy: say`Give the ZIP file as it was carried out; do not use one of which you do not know where it comes from.`,
  }),
  'archive-newer': ({ format, known }) => ({
    words: say`The aircraft was carried out in form ${format}, and this Tarebook reads up to form ${known}.`,
    remedy: say`Bring it into the newer version.`,
  }),
  'archive-manifest-changed': ({ why }) => ({
    words: say`The list of all files is not as it was written: ${why}.`,
    remedy: CARRY_AGAIN,
  }),
  'archive-file-missing': () => ({
    words: say`This file belongs to the aircraft and is not there.`,
    remedy: CARRY_AGAIN,
  }),
  'archive-file-strange': () => ({
    words: say`This file was not carried out with the aircraft.`,
    remedy: say`Take it away.`,
  }),
  'archive-saved-anew': ({ sign }) => ({
    words: say`The file was saved anew by another program: ${sign}.`,
    remedy: CARRY_AGAIN,
  }),
  'archive-changed': ({ what }) => ({
    words:
      what === 'file'
        ? say`The file is not as it was carried out.`
        : what === 'row'
          ? say`This row is not as it was carried out: it has other cells, or its check digits were changed.`
          : what === 'cell'
            ? say`This cell is not as it was carried out.`
            : what === 'headings'
              ? say`The headings are not as they were carried out.`
              : say`The quotation marks are not as they were carried out.`,
    remedy: CARRY_AGAIN,
  }),
  'archive-row-missing': ({ row }) => ({
    words: say`The row of ${row} is missing.`,
    remedy: CARRY_AGAIN,
  }),
  'archive-row-out-of-place': ({ row }) => ({
    words: say`The row of ${row} is out of its place, or there twice.`,
    remedy: CARRY_AGAIN,
  }),
  'archive-row-refused': ({ why }) => ({
    words: say`This row cannot have come from a ledger: ${why}.`,
    remedy: CARRY_AGAIN,
  }),
  'archive-chain-broken': ({ seq }) => ({
    words: say`The chain does not fit at entry ${seq}: the entry or its hash is not the one that was recorded.`,
    remedy: CARRY_AGAIN,
  }),
  'archive-headline-differs': () => ({
    words: say`All entries are whole, and yet the headline does not come out as it was when the aircraft was carried out.`,
    remedy: say`Carry the aircraft out once more with this version, and report this: the rules have changed.`,
  }),
  'archive-place-taken': ({ place }) => ({
    words: say`There is something at ${place} already.`,
    remedy: say`Name a place that does not exist yet.`,
  }),
  'aircraft-here-already': () => ({
    words: say`This very aircraft is here already.`,
    remedy: say`Go on with the one that is here, or bring this one into another store. It cannot have another id: every hash of its chain is made with it.`,
  }),
  'ledger-not-whole': ({ seq, why }) => ({
    words: say`The ledger is not whole at entry ${seq}: ${why}`,
    remedy: say`Run verify, and restore a backup from before the damage.`,
  }),
};
