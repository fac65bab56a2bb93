/** What kind of picture bytes are, and how large it becomes (rule X6): read from its head, before anything of it is decoded. */
import { type JpegSize, jpegSize } from './jpeg.ts';

export type SentKind = 'jpeg' | 'png' | 'webp';
export type SentPicture = JpegSize & { readonly kind: SentKind };

/** Undefined where the bytes are none of the three. What they are called makes no difference. */
export function sentPicture(bytes: Uint8Array): SentPicture | undefined {
  const jpeg = jpegSize(bytes);
  if (jpeg !== undefined) return { kind: 'jpeg', ...jpeg };
  const png = pngSize(bytes);
  if (png !== undefined) return { kind: 'png', ...png };
  const webp = webpSize(bytes);
  return webp === undefined ? undefined : { kind: 'webp', ...webp };
}

/** PNG (third edition), 5.2 and 11.2.1: the signature, then IHDR. */
function pngSize(bytes: Uint8Array): JpegSize | undefined {
  const signature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a];
  if (!signature.every((byte, at) => bytes[at] === byte) || textAt(bytes, 12, 4) !== 'IHDR') return undefined;
  const view = viewOf(bytes);
  return bytes.length < 24 ? undefined : { widthPx: view.getUint32(16), heightPx: view.getUint32(20) };
}

/** RFC 9649: a RIFF of VP8 (lossy), VP8L (lossless) or VP8X (extended). */
function webpSize(bytes: Uint8Array): JpegSize | undefined {
  if (bytes.length < 30 || textAt(bytes, 0, 4) !== 'RIFF' || textAt(bytes, 8, 4) !== 'WEBP') return undefined;
  const view = viewOf(bytes);
  switch (textAt(bytes, 12, 4)) {
    case 'VP8 ':
      return { widthPx: view.getUint16(26, true) & 0x3fff, heightPx: view.getUint16(28, true) & 0x3fff };
    case 'VP8L': {
      const bits = view.getUint32(21, true);
      return { widthPx: (bits & 0x3fff) + 1, heightPx: ((bits >>> 14) & 0x3fff) + 1 };
    }
    case 'VP8X': {
      const three = (at: number) => view.getUint16(at, true) + view.getUint8(at + 2) * 65_536;
      return { widthPx: three(24) + 1, heightPx: three(27) + 1 };
    }
    default:
      return undefined;
  }
}

function textAt(bytes: Uint8Array, at: number, length: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + length));
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
