/**
 * A photo made smaller before it is sent, which saves the shop's network (rule X6): the server makes it anew in any case. A browser that cannot
 * read the picture sends it as it is, and the server says what it is.
 */
import { MOST_SIDE_PX } from '#shared/photo/limits.ts';

const QUALITY = 0.88;

export async function madeSmaller(file: File): Promise<Blob> {
  try {
    const picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
    const scale = Math.min(1, MOST_SIDE_PX / Math.max(picture.width, picture.height));
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    const pen = canvas.getContext('2d');
    if (pen === null) return file;
    // What can be seen through is laid on white, as the server does.
    pen.fillStyle = 'white';
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
    picture.close();
    const made = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', QUALITY));
    return made ?? file;
  } catch {
    return file;
  }
}
