/** Where the key that signs checkpoints is kept: named, or in the data folder. In memory and beside PostgreSQL it has no place of its own. */
import { keyFileIn } from '#db/checkpoint/key-file.ts';
import type { StorePlace } from '#db/engine/open-store.ts';

export const KEY_FILE_VARIABLE = 'TAREBOOK_CHECKPOINT_KEY';

export function keyFileOf(named: string | undefined, place: StorePlace): string | undefined {
  if (named !== undefined && named !== '') return named;
  return place.kind === 'folder' ? keyFileIn(place.path) : undefined;
}
