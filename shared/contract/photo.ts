/** Photos of parts across the wire (rule X6). */
import { z } from 'zod';
import { plainText } from '#shared/ledger/plain-text.ts';
import { MOST_REMARK } from '#shared/photo/limits.ts';

export const PhotoReport = z.object({
  id: z.string(),
  partId: z.string(),
  /** The weighing that it was taken at. */
  entryId: z.string().optional(),
  by: z.string(),
  recordedAt: z.string(),
  remark: z.string().optional(),
  widthPx: z.int(),
  heightPx: z.int(),
  sha256: z.string(),
  removal: z.object({ by: z.string(), recordedAt: z.string(), reason: z.string() }).optional(),
});
export type PhotoReport = z.infer<typeof PhotoReport>;

export const PhotoList = z.object({ photos: z.array(PhotoReport) });

/** What goes along with the bytes, in the address: its own id, so that a photo sent twice is there once. */
export const PhotoStamp = z.strictObject({
  id: z.uuid().toLowerCase(),
  entry: z.uuid().toLowerCase().optional(),
  remark: plainText(MOST_REMARK).optional(),
});

export const PhotoRemoval = z.strictObject({ reason: plainText(400) });
