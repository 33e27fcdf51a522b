/** Pictures of a camera in shades of grey, for the server to read codes in. */

/** Shades of grey of a picture, one byte a pixel. Source: weights of red, green and blue for luma,
 * ITU-R BT.601. */
export function greyOf(rgba: Uint8ClampedArray): Uint8Array {
  const grey = new Uint8Array(rgba.length / 4);
  for (let pixel = 0; pixel < grey.length; pixel += 1) {
    const at = 4 * pixel;
    grey[pixel] = 0.299 * rgba[at]! + 0.587 * rgba[at + 1]! + 0.114 * rgba[at + 2]! + 0.5;
  }
  return grey;
}

/** Bytes in base 64. */
export function base64(bytes: Uint8Array): string {
  const CHUNK = 0x8000;
  let text = "";
  for (let start = 0; start < bytes.length; start += CHUNK) {
    text += String.fromCharCode(...bytes.subarray(start, start + CHUNK));
  }
  return btoa(text);
}

/** Size of a picture of this size, so that its longer side is at most so many pixels. */
export function fitted(width: number, height: number, longest: number): [width: number, height: number] {
  const share = Math.min(longest / Math.max(width, height), 1);
  return [Math.max(Math.round(width * share), 1), Math.max(Math.round(height * share), 1)];
}
