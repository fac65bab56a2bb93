/** Asks for the photos of a part. */
import { queryOptions } from '@tanstack/react-query';
import { PhotoList } from '#shared/contract/photo.ts';
import { ask } from '../door/ask.ts';

export const photosKey = (aircraftId: string, partId: string) => ['aircraft', aircraftId, 'photos', partId] as const;

export function photosQuestion(aircraftId: string, partId: string) {
  return queryOptions({
    queryKey: photosKey(aircraftId, partId),
    queryFn: ({ signal }) => ask(`/api/aircraft/${aircraftId}/parts/${partId}/photos`, { reply: PhotoList, signal }),
  });
}
