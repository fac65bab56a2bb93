/** The doors to photos of parts (rule X6). What is sent is never what is kept: it is made anew before anything of it is stored. */
import { createHash } from 'node:crypto';
import { createRoute, z } from '@hono/zod-openapi';
import type { MiddlewareHandler } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import {
  aircraftAt,
  type DoorApp,
  type DoorContext,
  type DoorEnv,
  json,
  jsonBody,
  needs,
  personAt,
  REFUSED,
} from '#api/door.ts';
import { params, read } from '#api/ledger/read-ledger.ts';
import { Problem } from '#api/problem/problem.ts';
import { keepPhoto, photoBytes, photosOfPart, removePhoto } from '#db/photo/photos.ts';
import { PhotoList, PhotoRemoval, PhotoStamp } from '#shared/contract/photo.ts';
import type { EntryId, PartId } from '#shared/ledger/entry.ts';
import { MOST_PHOTOS, MOST_SENT_BYTES } from '#shared/photo/limits.ts';

/** Photos are sent to this path as they are. */
export const PHOTO_PATH = /^\/api\/aircraft\/[^/]+\/parts\/[^/]+\/photos$/;

const ofPart = params.extend({ partId: z.uuid().toLowerCase() });
const ofPhoto = params.extend({ photoId: z.uuid().toLowerCase() });

const limit = bodyLimit({
  maxSize: MOST_SENT_BYTES,
  onError: () => {
    throw new Problem('photo-too-large');
  },
});

/** No form of another page can say so without asking first. What the bytes are is looked at in the bytes. */
const saysPicture: MiddlewareHandler<DoorEnv> = async (c, next) => {
  if (!/^image\/(?:jpeg|png|webp)$/i.test(c.req.header('Content-Type') ?? '')) throw new Problem('photo-type');
  await next();
};

function needsForPhotos() {
  const { middleware, ...role } = needs('crew');
  const all: MiddlewareHandler<DoorEnv>[] = [middleware, saysPicture, limit];
  return { ...role, middleware: all };
}

const list = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/parts/{partId}/photos',
  summary: 'The photos of a part, oldest first; those that were removed with who, when and why',
  ...needs('viewer'),
  request: { params: ofPart },
  responses: { 200: json(PhotoList, 'The photos without their bytes'), ...REFUSED },
});

const show = createRoute({
  method: 'get',
  path: '/api/aircraft/{aircraftId}/photos/{photoId}',
  summary: 'A photo that was not removed, as JPEG; small for a list',
  ...needs('viewer'),
  request: { params: ofPhoto, query: z.strictObject({ size: z.literal('small').optional() }) },
  responses: { 200: { description: 'The photo', content: { 'image/jpeg': { schema: z.string() } } }, ...REFUSED },
});

const add = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/parts/{partId}/photos',
  summary: 'Add a photo (JPEG, PNG or WebP, up to 12 MB). It is made anew: what it says of place and camera goes',
  ...needsForPhotos(),
  request: {
    params: ofPart,
    query: PhotoStamp,
    body: { required: true, content: { 'image/jpeg': { schema: z.string() } } },
  },
  responses: { 201: json(PhotoList, 'The photos of the part with it'), ...REFUSED },
});

const remove = createRoute({
  method: 'post',
  path: '/api/aircraft/{aircraftId}/photos/{photoId}/removal',
  summary: 'Mark a photo as removed, with a reason; it is shown no more',
  ...needs('engineer'),
  request: { params: ofPhoto, ...jsonBody(PhotoRemoval) },
  responses: { 200: json(z.object({ removed: z.literal(true) }), 'It is removed'), ...REFUSED },
});

export function photoDoors(app: DoorApp): void {
  app.openapi(list, async (c) => {
    const { partId } = c.req.valid('param');
    await mustHavePart(c, partId);
    return c.json({ photos: [...(await photosOf(c, partId))] }, 200);
  });

  app.openapi(show, async (c) => {
    const { photoId: id } = c.req.valid('param');
    const isSmall = c.req.valid('query').size === 'small';
    const bytes = await photoBytes(c.get('services').db, { aircraftId: aircraftAt(c).id, id, isSmall });
    if (bytes === undefined) throw new Problem('not-found');
    const answer: Response = c.body(Uint8Array.from(bytes), 200, {
      'Content-Type': 'image/jpeg',
      'Content-Disposition': 'inline; filename="photo.jpg"',
      'Content-Security-Policy': "default-src 'none'; sandbox",
      // The bytes of an id never change; whether they are still shown is asked each time.
      'Cache-Control': 'private, no-cache, no-transform',
    });
    return answer as never;
  });

  app.openapi(add, async (c) => {
    const { partId } = c.req.valid('param');
    const { id, entry, remark } = c.req.valid('query');
    await mustHavePart(c, partId, entry);
    const before = await photosOf(c, partId);
    if (before.some((photo) => photo.id === id)) return c.json({ photos: [...before] }, 201);
    if (before.filter(({ removal }) => removal === undefined).length >= MOST_PHOTOS) throw new Problem('photos-enough');
    const { db, photos } = c.get('services');
    const made = await photos.remake(new Uint8Array(await c.req.arrayBuffer()));
    if ('refused' in made) throw new Problem(made.refused);
    const sha256 = createHash('sha256').update(made.remade.bytes).digest('hex');
    const by = personAt(c).initials;
    const photo = { aircraftId: aircraftAt(c).id, partId, id, entryId: entry, by, remark, sha256, ...made.remade };
    const isKept = await keepPhoto(db, photo);
    const after = await photosOf(c, partId);
    // Sent twice at once is there once; the id of a photo of another part is none for this one.
    if (!isKept && !after.some((one) => one.id === id)) throw new Problem('photo-id-taken');
    return c.json({ photos: [...after] }, 201);
  });

  app.openapi(remove, async (c) => {
    const { photoId: id } = c.req.valid('param');
    const { reason } = c.req.valid('json');
    const mark = { aircraftId: aircraftAt(c).id, id, by: personAt(c).initials, reason };
    if (!(await removePhoto(c.get('services').db, mark))) throw new Problem('not-found');
    return c.json({ removed: true as const }, 200);
  });
}

function photosOf(c: DoorContext, partId: string) {
  return photosOfPart(c.get('services').db, { aircraftId: aircraftAt(c).id, partId });
}

/** The part must be one of the ledger, and the entry one of that part. */
async function mustHavePart(c: DoorContext, partId: string, entryId?: string): Promise<void> {
  const isThere = await read(c, undefined, (ledger) => {
    if (!ledger.books.byPart.has(partId as PartId)) return false;
    if (entryId === undefined) return true;
    const entry = ledger.entryById.get(entryId as EntryId)?.entry;
    return entry !== undefined && 'partId' in entry && entry.partId === partId;
  });
  if (!isThere) throw new Problem('not-found');
}
