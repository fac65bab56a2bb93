/** The list of all files of a carried aircraft, and what must come out of them (rule X2). */
import { z } from 'zod';
import { HeadlineReport } from '#shared/contract/reports.ts';

/** The form in which an aircraft is carried; a program reads this one and those before it. */
export const ARCHIVE_FORMAT = 1;
export const MANIFEST = 'manifest.json';
export const ABOUT = 'about.txt';

const hash = z.string().regex(/^[0-9a-f]{64}$/, 'must be a SHA-256 in lower-case hexadecimal digits');

/** The names that a file may have, the manifest's own apart; there are no folders but that of the photos. */
export const ARCHIVE_NAME = /^(?:about\.txt|[a-z][a-z-]{0,40}\.csv|photos\/[0-9a-f-]{36}(?:-small)?\.jpg)$/;

export const Manifest = z.strictObject({
  format: z.int().min(1),
  /** The version of Tarebook that wrote it. */
  version: z.string().max(40),
  aircraft: z.strictObject({
    id: z.uuid().toLowerCase(),
    name: z.string().trim().min(1).max(200),
    isInvented: z.boolean(),
  }),
  exportedAt: z.iso.datetime(),
  exportedBy: z.string().max(60),
  entryCount: z.int().min(0),
  /** Of the last entry; where there is none, the one that an empty chain begins with. */
  headHash: hash,
  headline: HeadlineReport,
  /** SHA-256 of the headline in its canonical spelling. */
  headlineHash: hash,
  files: z
    .array(
      z.strictObject({
        name: z.string().regex(ARCHIVE_NAME, 'is no name of a file that belongs to an aircraft'),
        rows: z.int().min(0).optional(),
        bytes: z.int().min(0),
        sha256: hash,
      }),
    )
    .max(100_000),
  /** What is not in here. */
  leftBehind: z.array(z.string().max(200)).max(20),
  /** SHA-256 of all of the above in its canonical spelling. */
  check: hash,
});
export type Manifest = z.infer<typeof Manifest>;
