/**
 * The files of an archive in one ZIP, and out of it (rule X4). Nothing of a ZIP is unpacked before its list of contents has been looked at: how
 * many, how large, and under which names. Names are looked up and never become paths of a disk.
 */
import { type UnzipFileInfo, unzipSync, type Zippable, zipSync } from 'fflate';
import { ARCHIVE_NAME, MANIFEST } from '#shared/archive/manifest.ts';
import { say } from '#shared/words/say.ts';
import { type Answer, type ArchiveFiles, ofWhole } from './archive.ts';

/** Of one file, and of all together, unpacked. */
export const MOST_FILE_BYTES = 128 * 1_048_576;
export const MOST_ALL_BYTES = 1_024 * 1_048_576;
export const MOST_FILES = 50_000;

/** `at`: the moment the files bear. */
export function zipArchive(files: ArchiveFiles, at: Date): Uint8Array {
  const zippable: Zippable = {};
  // A photo is as small as it gets.
  for (const [name, bytes] of files) zippable[name] = [bytes, { level: name.endsWith('.jpg') ? 0 : 6, mtime: at }];
  return zipSync(zippable);
}

export function unzipArchive(
  bytes: Uint8Array,
  most = { fileBytes: MOST_FILE_BYTES, allBytes: MOST_ALL_BYTES },
): Answer<ArchiveFiles> {
  try {
    const listed = contentsOf(bytes);
    const folder = folderOf(listed);
    const wanted = listed.filter(({ name }) => !isOfSystem(name));
    const problem = tooLarge(wanted, most) ?? strangeName(wanted, folder);
    if (problem !== undefined) return { ok: false, problems: [ofWhole('', problem)] };
    const names = new Set(wanted.map(({ name }) => name));
    const unpacked = unzipSync(bytes, { filter: ({ name }) => names.has(name) });
    return {
      ok: true,
      value: new Map(Object.entries(unpacked).map(([name, file]) => [name.slice(folder.length), file])),
    };
  } catch (error) {
    const why = say`it is no whole ZIP file (${error instanceof Error ? error.message : say`damaged`})`;
    return { ok: false, problems: [ofWhole('', { code: 'archive-unreadable', why })] };
  }
}

function contentsOf(bytes: Uint8Array): readonly UnzipFileInfo[] {
  const listed: UnzipFileInfo[] = [];
  unzipSync(bytes, {
    filter: (file) => {
      listed.push(file);
      return false;
    },
  });
  return listed;
}

/** Who packs a folder by hand has it before every name. */
function folderOf(listed: readonly UnzipFileInfo[]): string {
  if (listed.some(({ name }) => name === MANIFEST)) return '';
  const [manifest] = listed.filter(({ name }) => name.split('/').length === 2 && name.endsWith(`/${MANIFEST}`));
  return manifest === undefined ? '' : manifest.name.slice(0, -MANIFEST.length);
}

/** What file managers put beside files without being asked. */
export function isOfSystem(name: string): boolean {
  return name.endsWith('/') || /(?:^|\/)(?:__MACOSX\/|\.[^/.][^/]*$|Thumbs\.db$|desktop\.ini$)/.test(name);
}

function tooLarge(listed: readonly UnzipFileInfo[], most: { readonly fileBytes: number; readonly allBytes: number }) {
  const no = (what: string) => ({ code: 'archive-too-large', what }) as const;
  const megabytes = (bytes: number) => `${Math.floor(bytes / 1_048_576)} MB`;
  if (listed.length > MOST_FILES) return no(`more than ${MOST_FILES.toLocaleString('en-GB')} files`);
  const large = listed.find(({ originalSize }) => originalSize > most.fileBytes);
  if (large !== undefined) return no(`a file of more than ${megabytes(most.fileBytes)}`);
  const allBytes = listed.reduce((sum, { originalSize }) => sum + originalSize, 0);
  return allBytes > most.allBytes ? no(`more than ${megabytes(most.allBytes)} when unpacked`) : undefined;
}

function strangeName(listed: readonly UnzipFileInfo[], folder: string) {
  const seen = new Set<string>();
  for (const { name } of listed) {
    const own = name.startsWith(folder) ? name.slice(folder.length) : '';
    if (seen.has(name) || (own !== MANIFEST && !ARCHIVE_NAME.test(own)))
      return { code: 'archive-name-refused', name } as const;
    seen.add(name);
  }
  return undefined;
}
