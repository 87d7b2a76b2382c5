import { DataTexture, NearestFilter, RGBAIntegerFormat, UnsignedByteType } from 'three';

/** Texels in a row; four triangles share a texel, because the library updates parts of four-channel textures only. */
export const STYLE_TEXELS_PER_ROW = 1024;
const BYTES_PER_ROW = STYLE_TEXELS_PER_ROW * 4;

/**
 * The style bytes on the GPU, as a texture that the shaders read by triangle number. A vertex attribute would need
 * every byte three times. `update` sends only the rows that changed.
 */
export class StyleTexture {
  readonly texture: DataTexture;
  readonly #bytes: Uint8Array<ArrayBuffer>;
  readonly #words: Uint32Array;
  readonly #triangleCount: number;
  /** Everything has yet to be sent, so no part may be named. */
  #wholeIsPending = true;

  constructor(triangleCount: number) {
    const rows = Math.max(1, Math.ceil(triangleCount / BYTES_PER_ROW));
    this.#triangleCount = triangleCount;
    this.#bytes = new Uint8Array(rows * BYTES_PER_ROW);
    this.#words = new Uint32Array(this.#bytes.buffer);
    const texture = new DataTexture(
      this.#bytes,
      STYLE_TEXELS_PER_ROW,
      rows,
      RGBAIntegerFormat,
      UnsignedByteType,
    );
    texture.internalFormat = 'RGBA8UI';
    texture.minFilter = NearestFilter;
    texture.magFilter = NearestFilter;
    texture.onUpdate = () => {
      this.#wholeIsPending = false;
    };
    texture.needsUpdate = true;
    this.texture = texture;
  }

  /** Takes over `styles` (one byte a triangle) and returns how many rows of 4096 triangles changed. */
  update(styles: Uint8Array): number {
    if (styles.length !== this.#triangleCount) {
      throw new RangeError(`styles: ${styles.length} bytes for ${this.#triangleCount} triangles`);
    }
    const changed: number[] = [];
    const row = new Uint8Array(BYTES_PER_ROW);
    const rowWords = new Uint32Array(row.buffer);
    const wordsPerRow = rowWords.length;
    for (let start = 0, index = 0; start < styles.length; start += BYTES_PER_ROW, index++) {
      row.fill(0);
      row.set(styles.subarray(start, Math.min(start + BYTES_PER_ROW, styles.length)));
      const base = index * wordsPerRow;
      for (let i = 0; i < wordsPerRow; i++) {
        if (rowWords[i] !== this.#words[base + i]) {
          this.#words.set(rowWords, base);
          changed.push(index);
          break;
        }
      }
    }
    if (changed.length === 0) return 0;
    // Beyond some dozen rows one upload of everything is cheaper than a call each.
    if (changed.length <= 64 && !this.#wholeIsPending) {
      for (const index of changed) this.texture.addUpdateRange(index * BYTES_PER_ROW, BYTES_PER_ROW);
    } else {
      this.texture.clearUpdateRanges();
      this.#wholeIsPending = true;
    }
    this.texture.needsUpdate = true;
    return changed.length;
  }

  dispose(): void {
    this.texture.dispose();
  }
}
