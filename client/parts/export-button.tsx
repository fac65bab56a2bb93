/** The parts list as a file, in the form in which the import takes it back. */

import { useMutation } from '@tanstack/react-query';
import { type AircraftReport, PartsListReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { ask, wordsOf } from '../door/ask.ts';
import { Button } from '../pieces/controls.tsx';

export function ExportButton({ aircraft }: { readonly aircraft: AircraftReport }) {
  const list = useMutation({
    mutationFn: () => ask(`/api/aircraft/${aircraft.id}/parts-list`, { reply: PartsListReport }),
    onSuccess: ({ csv }) => save(say`${fileName(aircraft.name)} parts.csv`, csv),
  });
  return (
    <>
      <Button slim onPress={() => list.mutate()} isDisabled={list.isPending}>{say`Export`}</Button>
      {list.isError ? (
        <p className="notice bad" role="alert">
          {wordsOf(list.error)}
        </p>
      ) : null}
    </>
  );
}

/** Without the signs that some file systems refuse. */
function fileName(name: string): string {
  return name.replace(/[^\p{L}\p{N} ._-]+/gu, ' ').trim();
}

function save(name: string, csv: string): void {
  // The mark at its beginning tells a spreadsheet program that the text is UTF-8; the import passes over it.
  const address = URL.createObjectURL(new Blob(['\uFEFF', csv], { type: 'text/csv;charset=utf-8' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  URL.revokeObjectURL(address);
}
