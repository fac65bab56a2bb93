/** Adds a photo of a part, from the camera of the tablet or from its files (rule X6). */

import { useMutation, useQueryClient } from '@tanstack/react-query';
import { FileTrigger } from 'react-aria-components';
import { PhotoList } from '#shared/contract/photo.ts';
import { say } from '#shared/words/say.ts';
import { ask, newId, wordsOf } from '../door/ask.ts';
import { Button } from '../pieces/controls.tsx';
import { Working } from '../pieces/states.tsx';
import { madeSmaller } from './make-smaller.ts';
import { photosKey } from './photos-question.ts';

const TYPES = ['image/jpeg', 'image/png', 'image/webp'];

export function AddPhoto(props: {
  readonly aircraftId: string;
  readonly partId: string;
  /** The weighing at which it is taken. */
  readonly entryId?: string;
  readonly slim?: boolean;
}) {
  const { aircraftId, partId, entryId } = props;
  const queries = useQueryClient();
  const add = useMutation({
    mutationFn: async ({ file, id }: { readonly file: File; readonly id: string }) => {
      const stamp = new URLSearchParams({ id, ...(entryId === undefined ? {} : { entry: entryId }) });
      const address = `/api/aircraft/${aircraftId}/parts/${partId}/photos?${stamp}`;
      return ask(address, { method: 'POST', body: await madeSmaller(file), reply: PhotoList });
    },
    onSuccess: (list) => queries.setQueryData(photosKey(aircraftId, partId), list),
  });
  const { variables } = add;
  return (
    <div className="stack-tight no-print">
      <div>
        <FileTrigger
          acceptedFileTypes={TYPES}
          defaultCamera={'environment'}
          onSelect={(files) => {
            const file = files?.item(0);
            if (file != null) add.mutate({ file, id: newId() });
          }}
        >
          <Button slim={props.slim === true} isDisabled={add.isPending}>{say`Add a photo`}</Button>
        </FileTrigger>
      </div>
      {add.isPending ? <Working words={say`Sending the photo`} /> : null}
      <div role="status">{add.isSuccess ? <p className="soft">{say`● The photo is kept.`}</p> : null}</div>
      {add.isError ? (
        <div className="notice bad stack-tight" role="alert">
          <p>{wordsOf(add.error)}</p>
          {variables === undefined ? null : (
            <div>
              <Button slim onPress={() => add.mutate(variables)}>{say`Send it again`}</Button>
            </div>
          )}
        </div>
      ) : null}
    </div>
  );
}
