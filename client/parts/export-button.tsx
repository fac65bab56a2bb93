/** The parts list as a file, in the form in which the import takes it back. */

import { useMutation } from '@tanstack/react-query';
import { type AircraftReport, PartsListReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { ask, wordsOf } from '../door/ask.ts';
import { Button } from '../pieces/controls.tsx';
import { fileName, saveFile } from '../pieces/save-file.ts';

export function ExportButton({ aircraft }: { readonly aircraft: AircraftReport }) {
  const list = useMutation({
    mutationFn: () => ask(`/api/aircraft/${aircraft.id}/parts-list`, { reply: PartsListReport }),
    // The mark at its beginning tells a spreadsheet program that the text is UTF-8; the import passes over it.
    onSuccess: ({ csv }) =>
      saveFile(
        say`${fileName(aircraft.name)} parts.csv`,
        new Blob(['\uFEFF', csv], { type: 'text/csv;charset=utf-8' }),
      ),
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
