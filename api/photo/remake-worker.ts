/**
 * The thread in which a photo is decoded and made anew (rule X6). What comes out is a JPEG of pixels alone, turned as it was held: nothing of the
 * bytes that were sent is in it, so neither is the place where it was taken. It ends with its one task.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { parentPort } from 'node:worker_threads';
import decodeJpeg, { init as initJpegDecoder } from '@jsquash/jpeg/decode.js';
import encodeJpeg, { init as initJpegEncoder } from '@jsquash/jpeg/encode.js';
import decodePng, { init as initPng } from '@jsquash/png/decode.js';
import resize, { initResize } from '@jsquash/resize';
import decodeWebp, { init as initWebp } from '@jsquash/webp/decode.js';
import { isPlainJpeg } from '#shared/photo/jpeg.ts';
import {
  MOST_PHOTO_BYTES,
  MOST_SENT_PIXELS,
  MOST_SIDE_PX,
  MOST_SMALL_BYTES,
  MOST_SMALL_SIDE_PX,
} from '#shared/photo/limits.ts';
import { type SentKind, sentPicture } from '#shared/photo/sent-size.ts';

export type Remade = {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly bytes: Uint8Array;
  readonly smallBytes: Uint8Array;
};
export type FromRemakeWorker =
  | { readonly remade: Remade }
  | { readonly refused: 'photo-unreadable' | 'photo-too-many-pixels' };

type Pixels = { readonly data: Uint8ClampedArray; readonly width: number; readonly height: number };

/** The codecs hand pixels over as the browser's own kind. */
class PlainPixels implements Pixels {
  readonly data: Uint8ClampedArray;
  readonly width: number;
  readonly height: number;
  readonly colorSpace = 'srgb';

  constructor(data: Uint8ClampedArray, width: number, height?: number) {
    this.data = data;
    this.width = width;
    this.height = height ?? data.length / 4 / width;
  }
}
Object.assign(globalThis, { ImageData: PlainPixels });

parentPort?.once('message', async (bytes: Uint8Array) => {
  parentPort?.postMessage(await remake(bytes));
});

/** From good to small; the last is small enough for any photo of that size. */
const QUALITIES = [82, 70, 55, 40, 25];

async function remake(bytes: Uint8Array): Promise<FromRemakeWorker> {
  const picture = sentPicture(bytes);
  if (picture === undefined) return { refused: 'photo-unreadable' };
  if (picture.widthPx * picture.heightPx > MOST_SENT_PIXELS) return { refused: 'photo-too-many-pixels' };
  let pixels: Pixels;
  try {
    pixels = flattened(await DECODERS[picture.kind](bytes));
  } catch {
    return { refused: 'photo-unreadable' };
  }
  const kept = await within(pixels, MOST_SIDE_PX);
  const small = await within(kept, MOST_SMALL_SIDE_PX);
  const made = await encoded(kept, MOST_PHOTO_BYTES);
  const smallMade = await encoded(small, MOST_SMALL_BYTES);
  return { remade: { widthPx: kept.width, heightPx: kept.height, bytes: made, smallBytes: smallMade } };
}

const { resolve } = createRequire(import.meta.url);
/** Node has it, and its types have not. */
const { WebAssembly: host } = globalThis as unknown as {
  readonly WebAssembly: { compile(bytes: Uint8Array): Promise<never> };
};
/** The codecs would fetch their own by address. */
const wasm = (name: string) => host.compile(readFileSync(resolve(name)));

const DECODERS: Readonly<Record<SentKind, (bytes: Uint8Array) => Promise<Pixels>>> = {
  async jpeg(bytes) {
    await initJpegDecoder(await wasm('@jsquash/jpeg/codec/dec/mozjpeg_dec.wasm'));
    return decodeJpeg(bufferOf(bytes), { preserveOrientation: true });
  },
  async png(bytes) {
    await initPng(await wasm('@jsquash/png/codec/pkg/squoosh_png_bg.wasm'));
    return decodePng(bufferOf(bytes));
  },
  async webp(bytes) {
    await initWebp(await wasm('@jsquash/webp/codec/dec/webp_dec.wasm'));
    return decodeWebp(bufferOf(bytes));
  },
};

function bufferOf(bytes: Uint8Array): ArrayBuffer {
  return Uint8Array.from(bytes).buffer;
}

/** What can be seen through is laid on white: a JPEG has no such thing. */
function flattened({ data, width, height }: Pixels): Pixels {
  for (let at = 0; at < data.length; at += 4) {
    const alpha = data[at + 3] ?? 255;
    if (alpha === 255) continue;
    for (let channel = at; channel < at + 3; channel += 1)
      data[channel] = Math.round(((data[channel] ?? 0) * alpha + 255 * (255 - alpha)) / 255);
    data[at + 3] = 255;
  }
  return { data, width, height };
}

async function within(pixels: Pixels, mostSidePx: number): Promise<Pixels> {
  const scale = mostSidePx / Math.max(pixels.width, pixels.height);
  if (scale >= 1) return pixels;
  await initResize(await wasm('@jsquash/resize/lib/resize/pkg/squoosh_resize_bg.wasm'));
  const [width, height] = [pixels.width, pixels.height].map((side) => Math.max(1, Math.round(side * scale)));
  return resize(new PlainPixels(pixels.data, pixels.width, pixels.height) as never, {
    ...{ width: width ?? 1, height: height ?? 1, method: 'triangle', linearRGB: false, premultiply: false },
  });
}

/** The best that fits into so many bytes. */
async function encoded(pixels: Pixels, mostBytes: number): Promise<Uint8Array> {
  await initJpegEncoder(await wasm('@jsquash/jpeg/codec/enc/mozjpeg_enc.wasm'));
  for (const quality of QUALITIES) {
    const made = new Uint8Array(
      await encodeJpeg(new PlainPixels(pixels.data, pixels.width, pixels.height) as never, { quality }),
    );
    if (made.length > mostBytes) continue;
    if (!isPlainJpeg(made)) throw new Error('the photo that was made has more in it than a picture');
    return made;
  }
  throw new Error('the photo does not become small enough');
}
