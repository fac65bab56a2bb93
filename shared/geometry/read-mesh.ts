/**
 * A mesh from the bytes of a file (rule E5). What a file is, its content says: its name is only asked where the content is none of them.
 * No unit is read, since none of these formats has one.
 */

import { showFixed } from '#shared/quantity/show.ts';
import { type Result, refuse } from '#shared/result.ts';
import { say } from '#shared/words/say.ts';
import type { Mesh, Stepwise } from './mesh.ts';
import { readObj } from './obj.ts';
import type { MeshFileRefusal } from './refusal.ts';
import { binaryStlLength, isBinaryStl, readBinaryStl } from './stl-binary.ts';
import { readTextStl } from './stl-text.ts';
import { TextCursor } from './text-cursor.ts';

/** The largest file that is read. */
export const MOST_MESH_BYTES = 200_000_000;

export type MeshFile = { readonly name: string; readonly bytes: Uint8Array };

/** What can be said of a file by its length alone, before any of it is read. */
export function tooLargeToRead(byteLength: number): MeshFileRefusal | undefined {
  if (byteLength === 0) return { code: 'mesh-empty' };
  if (byteLength <= MOST_MESH_BYTES) return undefined;
  const megabytes = (bytes: number) => say`${showFixed(bytes / 1e6, 0)} MB`;
  return { code: 'mesh-too-large', megabytes: megabytes(byteLength), most: megabytes(MOST_MESH_BYTES) };
}

export function* readMesh({ name, bytes }: MeshFile): Stepwise<Result<Mesh, MeshFileRefusal>> {
  const tooLarge = tooLargeToRead(bytes.length);
  if (tooLarge !== undefined) return refuse(tooLarge);
  if (isBinaryStl(bytes)) return yield* readBinaryStl(bytes);
  if (looksLikeText(bytes)) {
    switch (firstStatement(bytes)) {
      case 'solid':
        return yield* readTextStl(bytes);
      case 'v':
        return yield* readObj(bytes);
      default:
        return refuse(isBlank(bytes) ? { code: 'mesh-empty' } : { code: 'mesh-not-known' });
    }
  }
  const length = binaryStlLength(bytes);
  if (length === undefined || !/\.stl$/i.test(name.trim())) return refuse({ code: 'mesh-not-known' });
  return refuse({ code: 'mesh-cut-short', ...length, found: bytes.length });
}

const LOOKED_AT = 4096;

/** No control character but blanks among the first bytes. A word in another alphabet is text as well. */
function looksLikeText(bytes: Uint8Array): boolean {
  const looked = bytes.subarray(0, LOOKED_AT);
  return looked.every((byte) => byte >= 32 || (byte >= 9 && byte <= 13));
}

function isBlank(bytes: Uint8Array): boolean {
  return bytes.every((byte) => byte === 32 || (byte >= 9 && byte <= 13));
}

/** Statements of OBJ that may stand before the first vertex. */
const OBJ_HEADS = ['v', 'vt', 'vn', 'vp', 'f', 'g', 'o', 's', 'mtllib', 'usemtl'];

/** `solid`, or `v` for any statement of an OBJ; undefined where the text is neither. */
function firstStatement(bytes: Uint8Array): 'solid' | 'v' | undefined {
  const cursor = new TextCursor(bytes);
  while (!cursor.ended) {
    if (cursor.toWord()) {
      const word = cursor.word();
      if (word === 'solid') return 'solid';
      if (OBJ_HEADS.includes(word)) return 'v';
      if (!word.startsWith('#')) return undefined;
    }
    cursor.nextLine();
  }
  return undefined;
}
