import { describe, expect, it } from 'vitest';
import { StyleTexture } from '../../../renderer/viewport/style-texture.ts';

/** As the renderer does after an upload. */
function upload(styles: StyleTexture): void {
  styles.texture.clearUpdateRanges();
  styles.texture.onUpdate!(styles.texture);
}

function bytesOf(styles: StyleTexture): Uint8Array {
  return styles.texture.image.data as unknown as Uint8Array;
}

describe('StyleTexture', () => {
  it('holds one byte a triangle, four in a texel', () => {
    const styles = new StyleTexture(10_000);
    expect(styles.texture.image.width * styles.texture.image.height * 4).toBeGreaterThanOrEqual(10_000);
    const bytes = Uint8Array.from({ length: 10_000 }, (_, i) => i % 64);
    styles.update(bytes);
    expect(bytesOf(styles).subarray(0, 10_000)).toEqual(bytes);
  });

  it('sends only the rows that changed', () => {
    const styles = new StyleTexture(100_000);
    const bytes = new Uint8Array(100_000);
    upload(styles);
    expect(styles.update(bytes)).toBe(0);
    bytes[5000] = 1;
    bytes[99_999] = 8;
    expect(styles.update(bytes)).toBe(2);
    expect(styles.texture.updateRanges).toEqual([
      { start: 4096, count: 4096 },
      { start: 24 * 4096, count: 4096 },
    ]);
    expect(bytesOf(styles)[5000]).toBe(1);
    expect(bytesOf(styles)[99_999]).toBe(8);
  });

  it('names no part while the whole has yet to be sent', () => {
    const styles = new StyleTexture(1_000_000);
    upload(styles);
    const bytes = new Uint8Array(1_000_000).fill(1);
    expect(styles.update(bytes)).toBe(Math.ceil(1_000_000 / 4096));
    bytes[0] = 2;
    styles.update(bytes);
    expect(styles.texture.updateRanges).toEqual([]);
  });

  it('refuses bytes of another part', () => {
    expect(() => new StyleTexture(10).update(new Uint8Array(11))).toThrow(RangeError);
  });
});
