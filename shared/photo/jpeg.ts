/**
 * What a JPEG is made of (ISO/IEC 10918-1, annex B), as far as rule X6 asks: its size, and whether anything is in it beside the picture. The
 * place where a photo was taken, the camera and its owner stand in application segments, and so does a second, unreduced picture.
 */

export type JpegSize = { readonly widthPx: number; readonly heightPx: number };

type Segment = { readonly marker: number; readonly start: number; readonly end: number };

/** True of a JPEG that is a picture and nothing else: no application data but JFIF's own, no comment, nothing behind its end. */
export function isPlainJpeg(bytes: Uint8Array, size?: JpegSize): boolean {
  const segments = segmentsOf(bytes);
  if (segments === undefined) return false;
  const isPlain = segments.every(({ marker, start, end }) => PICTURE.has(marker) || isJfif(bytes, marker, start, end));
  const found = sizeIn(bytes, segments);
  if (!isPlain || found === undefined) return false;
  return size === undefined || (found.widthPx === size.widthPx && found.heightPx === size.heightPx);
}

export function jpegSize(bytes: Uint8Array): JpegSize | undefined {
  const segments = segmentsOf(bytes, false);
  return segments === undefined ? undefined : sizeIn(bytes, segments);
}

const SOI = 0xd8;
const EOI = 0xd9;
const SOS = 0xda;
const APP0 = 0xe0;
/** Frames: baseline, extended, progressive and their kin; the numbers between are tables. */
const FRAMES = new Set([0xc0, 0xc1, 0xc2, 0xc3, 0xc5, 0xc6, 0xc7, 0xc9, 0xca, 0xcb, 0xcd, 0xce, 0xcf]);
/** Frames, the tables DHT, DQT and DRI, and scans. */
const PICTURE = new Set([0xc0, 0xc1, 0xc2, 0xc4, 0xdb, 0xdd, SOS]);

/**
 * The segments between start and end of image, each from behind its length to its end; entropy-coded data is passed over. Undefined where the
 * bytes are no JPEG; with `isWhole` also where the end is not the last of them.
 */
function segmentsOf(bytes: Uint8Array, isWhole = true): readonly Segment[] | undefined {
  if (bytes[0] !== 0xff || bytes[1] !== SOI) return undefined;
  const segments: Segment[] = [];
  let at = 2;
  while (at + 1 < bytes.length) {
    if (bytes[at] !== 0xff) return isWhole ? undefined : segments;
    const marker = bytes[at + 1] ?? 0;
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    if (marker === EOI) return !isWhole || at + 2 === bytes.length ? segments : undefined;
    const length = ((bytes[at + 2] ?? 0) << 8) | (bytes[at + 3] ?? 0);
    const [start, end] = [at + 4, at + 2 + length];
    if (length < 2 || end > bytes.length) return isWhole ? undefined : segments;
    segments.push({ marker, start, end });
    if (!isWhole && FRAMES.has(marker)) return segments;
    at = marker === SOS ? endOfScan(bytes, end) : end;
  }
  return isWhole ? undefined : segments;
}

/** Where the next marker stands behind a scan: neither a stuffed byte nor a restart. */
function endOfScan(bytes: Uint8Array, start: number): number {
  for (let at = start; at + 1 < bytes.length; at += 1) {
    if (bytes[at] !== 0xff) continue;
    const next = bytes[at + 1] ?? 0;
    if (next !== 0 && next !== 0xff && (next < 0xd0 || next > 0xd7)) return at;
  }
  return bytes.length;
}

/** `JFIF`, and no picture of its own in it. */
function isJfif(bytes: Uint8Array, marker: number, start: number, end: number): boolean {
  const isNamed = [0x4a, 0x46, 0x49, 0x46, 0].every((byte, at) => bytes[start + at] === byte);
  return marker === APP0 && end - start === 14 && isNamed && bytes[start + 12] === 0 && bytes[start + 13] === 0;
}

function sizeIn(bytes: Uint8Array, segments: readonly Segment[]): JpegSize | undefined {
  const frames = segments.filter(({ marker }) => FRAMES.has(marker));
  const [frame] = frames;
  if (frame === undefined || frames.length > 1 || frame.end - frame.start < 6) return undefined;
  const two = (at: number) => ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0);
  const [heightPx, widthPx] = [two(frame.start + 1), two(frame.start + 3)];
  return widthPx > 0 && heightPx > 0 ? { widthPx, heightPx } : undefined;
}
