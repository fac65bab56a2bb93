/** A backup taken apart and put together again, as somebody would who knows how: every list fits, whatever was changed. */
import { createHash } from 'node:crypto';
import { closeSync, openSync, writeFileSync } from 'node:fs';
import { gunzipSync, gzipSync } from 'node:zlib';
import { sha256Of } from '#db/archive/write-archive.ts';
import { type Manifest, manifestText } from '#db/backup/manifest.ts';
import { readTar, TAR_END, tarHeader, tarPadding } from '#db/backup/tar.ts';

type Member = { name: string; bytes: Uint8Array };

export function membersOf(path: string): Member[] {
  const fd = openSync(path, 'r');
  try {
    return [...readTar(fd)];
  } finally {
    closeSync(fd);
  }
}

export function writeMembers(path: string, members: readonly Member[]): void {
  const parts = members.flatMap(({ name, bytes }) => [
    tarHeader({ name, bytes: bytes.length, atS: 0 }),
    bytes,
    new Uint8Array(tarPadding(bytes.length)),
  ]);
  writeFileSync(path, Buffer.concat([...parts, TAR_END]));
}

export type Forgery = {
  /** A row of a table as it is to be, with its number from 0; undefined takes it away. */
  readonly row?: (table: string, row: Record<string, unknown>, at: number) => Record<string, unknown> | undefined;
  readonly manifest?: (manifest: Manifest) => void;
};

export function forge(from: string, to: string, { row = (_, kept) => kept, manifest: change }: Forgery): void {
  const members = membersOf(from);
  const manifest = JSON.parse(Buffer.from(members.pop()?.bytes ?? []).toString()) as Manifest;
  const seen = new Map<string, string[]>();
  for (const member of members) {
    const table = member.name.split('/')[1];
    if (table === undefined) continue;
    const before = seen.get(table) ?? [];
    const lines = gunzipSync(member.bytes).toString().trimEnd().split('\n');
    const kept = lines.flatMap((line, at) => {
      const is = row(table, JSON.parse(line), before.length + at);
      // A row that is left alone keeps its spelling.
      if (is === undefined) return [];
      return [JSON.stringify(is) === JSON.stringify(JSON.parse(line)) ? line : JSON.stringify(is)];
    });
    seen.set(table, [...before, ...kept]);
    member.bytes = gzipSync(kept.map((line) => `${line}\n`).join(''));
  }
  manifest.tables = manifest.tables.map(({ name }) => {
    const lines = seen.get(name) ?? [];
    const sha256 = createHash('sha256')
      .update(lines.map((line) => `${line}\n`).join(''))
      .digest('hex');
    return { name, rows: lines.length, sha256 };
  });
  manifest.members = members.map(({ name, bytes }) => ({ name, bytes: bytes.length, sha256: sha256Of(bytes) }));
  change?.(manifest);
  const { check: _, ...rest } = manifest;
  writeMembers(to, [...members, { name: 'manifest.json', bytes: Buffer.from(manifestText(rest)) }]);
}
