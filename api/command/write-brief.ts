/** The files of a brief that the command writes (rule B4): all that were asked for, or none; what is there already is never written over. */
import { existsSync } from 'node:fs';
import { rm, writeFile } from 'node:fs/promises';
import { BRIEF_FILES, type BriefFileKind, type Paper } from '#api/brief/file-kinds.ts';
import type { Brief } from '#shared/contract/brief.ts';
import { Refused } from './refused.ts';

export type BriefFileOptions = {
  readonly pdf?: string;
  readonly xlsx?: string;
  readonly csv?: string;
  readonly paper: Paper;
};

type Place = { readonly kind: BriefFileKind; readonly file: string };

export function filesAsked(options: BriefFileOptions): readonly Place[] {
  const named: Partial<Record<BriefFileKind, string>> = options;
  return BRIEF_FILES.flatMap((kind) => {
    const file = named[kind];
    return typeof file === 'string' ? [{ kind, file }] : [];
  });
}

/** Looked at before a brief is made, so that none is made in vain. */
export function refuseTaken(places: readonly Place[]): void {
  const taken = places.filter(
    ({ file }, at) => existsSync(file) || places.some((one, to) => to < at && one.file === file),
  );
  if (taken.length > 0)
    throw new Refused(taken.map(({ kind, file }) => ({ pointer: `--${kind}`, refusal: { code: 'file-taken', file } })));
}

export async function writeBrief(brief: Brief, places: readonly Place[], paper: Paper): Promise<void> {
  if (places.length === 0) return;
  // Other commands need not wait for what draws pages.
  const { briefFile } = await import('#api/brief/brief-file.ts');
  const written: string[] = [];
  for (const { kind, file } of places) {
    const { bytes } = await briefFile(brief, kind, paper);
    try {
      await writeFile(file, bytes, { flag: 'wx' });
      written.push(file);
    } catch (error) {
      const why = (error as NodeJS.ErrnoException).code;
      if (why === undefined) throw error;
      // One that was there in the meantime is somebody else's.
      const own = why === 'EEXIST' ? written : [...written, file];
      await Promise.all(own.map((one) => rm(one, { force: true })));
      throw new Refused([{ pointer: `--${kind}`, refusal: { code: 'file-not-written', file, why } }]);
    }
  }
}
