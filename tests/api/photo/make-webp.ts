/** Pictures in WebP, made by the encoder of the library that reads them, and what is in a JPEG. */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import decodeJpeg, { init as initJpeg } from '@jsquash/jpeg/decode.js';
import encode, { init } from '@jsquash/webp/encode.js';

const { resolve } = createRequire(import.meta.url);
/** Node has it, and its types have not. */
const { WebAssembly: host } = globalThis as unknown as {
  readonly WebAssembly: { compile(bytes: Uint8Array): Promise<never> };
};

/** The left half in one colour, the right one in another: red, green, blue and how opaque, each up to 255. */
export async function webpOf(width: number, height: number, halves: readonly [Colour, Colour]): Promise<Uint8Array> {
  await init(await host.compile(await readFile(resolve('@jsquash/webp/codec/enc/webp_enc.wasm'))));
  const data = new Uint8ClampedArray(4 * width * height);
  for (let at = 0; at < width * height; at += 1) data.set(halves[at % width < width / 2 ? 0 : 1], 4 * at);
  return new Uint8Array(await encode({ data, width, height } as never, { lossless: 1, exact: 1 }));
}

/** How to ask for a pixel of a JPEG: red, green, blue. */
export async function pixelsOf(jpeg: Uint8Array): Promise<(x: number, y: number) => readonly number[]> {
  await initJpeg(await host.compile(await readFile(resolve('@jsquash/jpeg/codec/dec/mozjpeg_dec.wasm'))));
  const { data, width } = await decodeJpeg(Uint8Array.from(jpeg).buffer);
  return (x, y) => [...data.subarray(4 * (x + y * width), 4 * (x + y * width) + 3)];
}

type Colour = readonly [number, number, number, number];
