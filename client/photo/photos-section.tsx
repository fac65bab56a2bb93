/** The photos of a part: small in a row, one large in front, and the way to take one away (rule X6). */

import { useMutation, useQuery, useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { z } from 'zod';
import type { PhotoReport } from '#shared/contract/photo.ts';
import { dayWords } from '#shared/words/day.ts';
import { say } from '#shared/words/say.ts';
import { ask, wordsOf } from '../door/ask.ts';
import { useMay } from '../frame/signed-in.ts';
import { Button, Field } from '../pieces/controls.tsx';
import { Dialog } from '../pieces/dialog.tsx';
import { Failed, Waiting } from '../pieces/states.tsx';
import { NO_PHOTOS, REMOVING, WHAT_IS_KEPT } from '../words/photos.ts';
import { AddPhoto } from './add-photo.tsx';
import { photosKey, photosQuestion } from './photos-question.ts';
import './photos.css';

type Props = { readonly aircraftId: string; readonly partId: string; readonly number: string };

export function PhotosSection({ aircraftId, partId, number }: Props) {
  const photos = useQuery(photosQuestion(aircraftId, partId));
  const mayAdd = useMay('crew');
  const [open, setOpen] = useState<PhotoReport>();
  const shown = photos.data?.photos.filter(({ removal }) => removal === undefined) ?? [];
  return (
    <section className="card stack" aria-label={say`Photos`}>
      <h2>{say`Photos`}</h2>
      {photos.isPending ? <Waiting what={say`the photos`} /> : null}
      {photos.isLoadingError ? <Failed error={photos.error} again={() => void photos.refetch()} /> : null}
      {photos.isSuccess && shown.length === 0 ? <p className="soft">{NO_PHOTOS}</p> : null}
      {shown.length === 0 ? null : (
        <ul className="photos">
          {shown.map((photo) => (
            <li key={photo.id}>
              <button type="button" className="photo" onClick={() => setOpen(photo)}>
                <img src={`${addressOf(aircraftId, photo)}?size=small`} alt={altOf(photo, number)} loading="lazy" />
              </button>
            </li>
          ))}
        </ul>
      )}
      {mayAdd ? (
        <>
          <AddPhoto aircraftId={aircraftId} partId={partId} slim />
          <p className="soft small no-print">{WHAT_IS_KEPT}</p>
        </>
      ) : null}
      {open === undefined ? null : (
        <Large {...{ aircraftId, partId, number }} photo={open} onClose={() => setOpen(undefined)} />
      )}
    </section>
  );
}

function Large(props: Props & { readonly photo: PhotoReport; readonly onClose: () => void }) {
  const { aircraftId, partId, number, photo, onClose } = props;
  const mayRemove = useMay('engineer');
  const [reason, setReason] = useState<string>();
  const queries = useQueryClient();
  const remove = useMutation({
    mutationFn: () =>
      ask(`${addressOf(aircraftId, photo)}/removal`, {
        method: 'POST',
        body: { reason },
        reply: z.object({ removed: z.literal(true) }),
      }),
    onSuccess: async () => {
      await queries.invalidateQueries({ queryKey: photosKey(aircraftId, partId) });
      onClose();
    },
  });
  return (
    <Dialog title={say`Photo of ${number}`} isOpen isWide isForm={reason !== undefined} onClose={onClose}>
      <img className="photo-large" src={addressOf(aircraftId, photo)} alt={altOf(photo, number)} />
      <p className="soft">
        {photo.by}, {dayWords(photo.recordedAt)}
        {photo.remark === undefined ? '' : `: ${photo.remark}`}
      </p>
      {reason === undefined ? null : (
        <>
          <p>{REMOVING}</p>
          <Field label={say`Why it is removed`} value={reason} onChange={setReason} isRequired />
          {remove.isError ? (
            <p className="notice bad" role="alert">
              {wordsOf(remove.error)}
            </p>
          ) : null}
        </>
      )}
      <div className="row">
        {mayRemove && reason === undefined ? <Button onPress={() => setReason('')}>{say`Remove it`}</Button> : null}
        {reason === undefined ? null : (
          <Button
            onPress={() => remove.mutate()}
            isDisabled={reason.trim() === '' || remove.isPending}
          >{say`Remove the photo`}</Button>
        )}
        <Button onPress={onClose}>{say`Close`}</Button>
      </div>
    </Dialog>
  );
}

function addressOf(aircraftId: string, { id }: PhotoReport): string {
  return `/api/aircraft/${aircraftId}/photos/${id}`;
}

function altOf({ remark, recordedAt, by }: PhotoReport, number: string): string {
  return `${number}, ${remark ?? say`photo`}, ${dayWords(recordedAt)}, ${by}`;
}
