/** Pictures for tests: PNGs made of pixels, and a JPEG with the place where it was taken put into it. */
import { crc32, deflateSync } from 'node:zlib';

/** Red on the left half, blue on the right one. */
export function pngOf(widthPx: number, heightPx: number, said = { widthPx, heightPx }): Uint8Array {
  const row = Buffer.alloc(1 + widthPx * 3);
  for (let x = 0; x < widthPx; x += 1) row.set(x < widthPx / 2 ? [255, 0, 0] : [0, 0, 255], 1 + x * 3);
  const head = Buffer.alloc(13);
  head.writeUInt32BE(said.widthPx, 0);
  head.writeUInt32BE(said.heightPx, 4);
  head.set([8, 2, 0, 0, 0], 8);
  const rows = Buffer.concat(Array.from({ length: heightPx }, () => row));
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  return Buffer.concat([
    signature,
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(rows)),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function chunk(name: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  sum.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, sum]);
}

/** A JPEG with EXIF (camera, GPS place, orientation), XMP and a comment put behind its beginning. All of it is invented. */
export function withPlace(jpeg: Uint8Array, orientation: number): Uint8Array {
  // TIFF, little end first: orientation, maker, and a pointer to the place.
  const tiff = Buffer.alloc(110);
  tiff.write('II', 0, 'latin1');
  tiff.writeUInt16LE(42, 2);
  tiff.writeUInt32LE(8, 4);
  tiff.writeUInt16LE(3, 8);
  entry(tiff, 10, { tag: 0x010f, type: 2, count: 8, value: 62 });
  entry(tiff, 22, { tag: 0x0112, type: 3, count: 1, value: orientation });
  entry(tiff, 34, { tag: 0x8825, type: 4, count: 1, value: 72 });
  tiff.write('INVENTED', 62, 'latin1');
  tiff.writeUInt16LE(1, 72);
  entry(tiff, 74, { tag: 0x0002, type: 5, count: 1, value: 90 });
  tiff.writeUInt32LE(47, 90);
  tiff.writeUInt32LE(1, 94);
  const exif = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]);
  const xmp = Buffer.from('http://ns.adobe.com/xap/1.0/\0<x:xmpmeta>GPSLatitude 47.5</x:xmpmeta>', 'latin1');
  const comment = Buffer.from('taken at the secret shop', 'latin1');
  return Buffer.concat([
    jpeg.subarray(0, 2),
    segment(0xe1, exif),
    segment(0xe1, xmp),
    segment(0xfe, comment),
    jpeg.subarray(2),
  ]);
}

function entry(
  tiff: Buffer,
  at: number,
  { tag, type, count, value }: { tag: number; type: number; count: number; value: number },
) {
  tiff.writeUInt16LE(tag, at);
  tiff.writeUInt16LE(type, at + 2);
  tiff.writeUInt32LE(count, at + 4);
  tiff.writeUInt32LE(value, at + 8);
}

function segment(marker: number, data: Buffer): Buffer {
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(data.length + 2, 2);
  return Buffer.concat([head, data]);
}
