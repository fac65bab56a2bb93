/** ZIP files that are none, are too large, or have names in them that lead elsewhere (rule X4). */
import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { unzipArchive, zipArchive } from '#db/archive/zip.ts';
import { everyKind } from '#tests/shared/archive/every-kind.ts';
import { filesOf, foundIn, requestOf, told } from './carried.ts';

const FILES = filesOf(requestOf(everyKind().entries));
const PACKED = zipArchive(FILES, new Date('2026-06-30T12:00:00Z'));

function problemsOf(bytes: Uint8Array, most?: Parameters<typeof unzipArchive>[1]): readonly string[] {
  const unpacked = unzipArchive(bytes, most);
  return unpacked.ok ? foundIn(unpacked.value) : unpacked.problems.map(told);
}

const withMore = (more: Readonly<Record<string, Uint8Array>>) => zipSync({ ...Object.fromEntries(FILES), ...more });

describe('ZIP', () => {
  it('[X4] what was packed is unpacked as it was, also where a folder was packed by hand', () => {
    expect(problemsOf(PACKED)).toEqual([]);
    const inFolder = Object.fromEntries([...FILES].map(([name, bytes]) => [`Dabchick/${name}`, bytes]));
    expect(problemsOf(zipSync(inFolder))).toEqual([]);
    const ofSystem = { '__MACOSX/._note.csv': strToU8('x'), '.DS_Store': strToU8('x'), 'photos/': strToU8('') };
    expect(problemsOf(withMore(ofSystem))).toEqual([]);
  });

  it.each([
    '../note.csv',
    '/etc/passwd.csv',
    'photos/../../x.jpg',
    'C:\\x.csv',
    '..\\x.csv',
    'photos/x.svg',
    'NOTE.csv',
    'a/b.csv',
    'note.csv\u0000.exe',
    'manifest.json/note.csv',
  ])('[X4] a name that leads elsewhere is refused: %j', (name) => {
    expect(problemsOf(withMore({ [name]: strToU8('x') }))).toEqual([
      expect.stringMatching(/^:0:0 archive-name-refused /),
    ]);
  });

  it('[X4] a ZIP that would become too large is refused before it is unpacked', () => {
    const bomb = withMore({ 'bomb.csv': new Uint8Array(40 * 1_048_576) });
    expect(bomb.length).toBeLessThan(400_000);
    const most = { fileBytes: 10 * 1_048_576, allBytes: 20 * 1_048_576 };
    const before = process.memoryUsage().arrayBuffers;
    expect(problemsOf(bomb, most)).toEqual([':0:0 archive-too-large a file of more than 10 MB']);
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(20 * 1_048_576);
    const many = withMore(
      Object.fromEntries('abcdef'.split('').map((name) => [`${name}.csv`, new Uint8Array(5 * 1_048_576)])),
    );
    expect(problemsOf(many, most)).toEqual([':0:0 archive-too-large more than 20 MB when unpacked']);
  });

  it('[X4] a ZIP that says it is smaller than it is gets no more room than it said', () => {
    const lying = Uint8Array.from(withMore({ 'bomb.csv': new Uint8Array(20 * 1_048_576) }));
    const view = new DataView(lying.buffer);
    for (let at = 0; at + 4 < lying.length; at += 1)
      if (view.getUint32(at, true) === 20 * 1_048_576) view.setUint32(at, 100, true);
    expect(problemsOf(lying)).toEqual([expect.stringMatching(/archive-file-strange|archive-unreadable/)]);
  });

  it.each<[string, Uint8Array]>([
    ['nothing', new Uint8Array()],
    ['a text', strToU8('entry,day\r\n')],
    ['one that was cut off', PACKED.slice(0, PACKED.length / 2)],
    ['one without a list of files', zipSync({ 'note.csv': strToU8('x') })],
  ])('[X4] %s is refused in words', (_, bytes) => {
    expect(problemsOf(bytes)).toEqual([expect.stringMatching(/archive-unreadable|archive-file-missing/)]);
  });

  it('[X4] any one byte that is changed is found or means nothing', () => {
    for (let at = 0; at < PACKED.length; at += 97) {
      const bytes = Uint8Array.from(PACKED);
      bytes[at] = (bytes[at] ?? 0) ^ 0x55;
      const unpacked = unzipArchive(bytes);
      if (!unpacked.ok) continue;
      const isSame = [...FILES].every(
        ([name, file]) => Buffer.compare(file, unpacked.value.get(name) ?? new Uint8Array()) === 0,
      );
      expect(foundIn(unpacked.value).length > 0).toBe(!isSame || unpacked.value.size !== FILES.size);
    }
  });
});
