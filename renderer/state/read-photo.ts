import type { PixelImage } from '../../core/finish/photo-colour.ts';
import { failure, success, type Result } from '../../core/result.ts';

/** Enough pixels for a mean colour; larger photos are scaled down. */
const MOST_PX = 900;

export interface ReadPhoto {
  readonly image: PixelImage;
  /** The scaled picture, to show and to keep. */
  readonly canvas: HTMLCanvasElement;
}

/** Decodes a photo in the page. Fails with `photo-not-read` for a file that is no picture the browser knows. */
export async function readPhoto(file: Blob): Promise<Result<ReadPhoto>> {
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(file);
  } catch {
    return failure(
      'photo-not-read',
      'This file is no picture that can be read here.',
      'Choose a JPEG or PNG from the camera.',
    );
  }
  const scale = Math.min(1, MOST_PX / Math.max(bitmap.width, bitmap.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (!context) {
    return failure('photo-not-read', 'This browser can not draw pictures.', 'Type the colour instead.');
  }
  context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  const { width, height, data } = context.getImageData(0, 0, canvas.width, canvas.height);
  return success({ image: { width, height, rgba: data }, canvas });
}

/** The picture as JPEG, for the shop's book. */
export async function photoBytes(canvas: HTMLCanvasElement): Promise<Uint8Array | null> {
  const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done, 'image/jpeg', 0.85));
  return blob ? new Uint8Array(await blob.arrayBuffer()) : null;
}
