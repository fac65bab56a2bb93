/** A signed checkpoint of the ledger as it stands, as a page for the paper file (rule L10). */

import { useMutation } from '@tanstack/react-query';
import type { AircraftReport } from '#shared/contract/aircraft.ts';
import { say } from '#shared/words/say.ts';
import { askFile, wordsOf } from '../door/ask.ts';
import { Button } from '../pieces/controls.tsx';
import { fileName, saveFile } from '../pieces/save-file.ts';
import { Working } from '../pieces/states.tsx';

export function CheckpointButton({ aircraft }: { readonly aircraft: AircraftReport }) {
  const make = useMutation({
    mutationFn: () => askFile(`/api/aircraft/${aircraft.id}/checkpoint`),
    onSuccess: (page) => saveFile(say`${fileName(aircraft.name)} checkpoint.txt`, page),
  });
  return (
    <>
      <h3>{say`Checkpoint`}</h3>
      <p>{say`A ledger whose end was cut off, or that was rewritten as a whole, still fits in itself. A checkpoint shows it: one page with the last entry, its hash and a signature. Print it and keep it away from this computer; the command verify holds the ledger against it later.`}</p>
      <div>
        <Button onPress={() => make.mutate()} isDisabled={make.isPending}>{say`Make a checkpoint`}</Button>
      </div>
      {make.isPending ? <Working words={say`Walking and signing`} /> : null}
      {make.isError ? (
        <p className="notice bad" role="alert">
          {wordsOf(make.error)}
        </p>
      ) : null}
    </>
  );
}
