/** Backups as they cross the wire (rule Z6). */
import { z } from 'zod';

/** Somebody asked for it, the schedule made it, or an upgrade did before it moved the data forward. */
export const BackupWhy = z.enum(['asked', 'scheduled', 'before upgrade']);
export type BackupWhy = z.infer<typeof BackupWhy>;

/** `name` is that of its file in the server's folder of backups. */
export const KeptBackup = z.object({ name: z.string(), why: BackupWhy, madeAt: z.iso.datetime(), bytes: z.int() });
export type KeptBackup = z.infer<typeof KeptBackup>;

/** `failure`: why the last one that was to be made by the schedule was not; gone once one is made. */
export const BackupState = z.object({
  folder: z.string(),
  everyHours: z.number().optional(),
  keep: z.int(),
  isMaking: z.boolean(),
  failure: z.object({ at: z.iso.datetime(), words: z.string(), remedy: z.string() }).optional(),
  backups: z.array(KeptBackup),
});
export type BackupState = z.infer<typeof BackupState>;

/** `sha256` is that of the file. */
export const BackupReport = KeptBackup.extend({
  sha256: z.string(),
  aircraft: z.array(
    z.object({
      id: z.uuid(),
      name: z.string(),
      entryCount: z.int(),
      headHash: z.string(),
      headline: z.object({ predictedKg: z.number(), cgXM: z.number().nullable() }).nullable(),
    }),
  ),
});
export type BackupReport = z.infer<typeof BackupReport>;
