import { describe, expect, it } from 'vitest';
import { asciiStl, binaryStl, boxTriangles, plainArea, textBytes } from '../../fixtures/model-bytes.ts';
import { codeOf, expectRead, readForTest } from '../../fixtures/read-for-test.ts';

const box = boxTriangles(10, 20, 30);
const BOX_AREA = 2 * (10 * 20 + 20 * 30 + 30 * 10);

describe('binary STL', () => {
  it('reads a box with its twelve triangles and its area', () => {
    const model = expectRead('box.stl', binaryStl(box));
    expect(model.format).toBe('stl-binary');
    expect(model.positions.length).toBe(12 * 9);
    // Whole numbers are exact in float32, so the sum is exact.
    expect(plainArea(model.positions)).toBe(BOX_AREA);
    expect(model.bodies).toEqual([{ name: 'box', firstTriangle: 0, triangleCount: 12 }]);
  });

  it('reads the same from a view into a larger buffer', () => {
    const bytes = binaryStl(box);
    const larger = new Uint8Array(bytes.length + 200);
    larger.set(bytes, 77);
    const model = expectRead('box.stl', larger.subarray(77, 77 + bytes.length));
    expect([...model.positions]).toEqual([...expectRead('box.stl', bytes).positions]);
  });

  it.each([
    'solid',
    'solid exported part',
    'SOLID x',
    '  solid',
    'PK\u0003\u0004',
    '<html>',
    '%PDF-1.7',
    'v 1 2 3',
  ])('goes by the length, not by a header of %j', (header) => {
    expect(expectRead('box.stl', binaryStl(box, header)).positions.length).toBe(108);
  });

  it.each([1, 49, 50, 51, 300])('says how many triangles are missing when %i bytes are cut off', (cut) => {
    const bytes = binaryStl(box);
    const read = readForTest('box.stl', bytes.subarray(0, bytes.length - cut));
    expect(read.ok).toBe(false);
    if (read.ok) return;
    expect(read.error.code).toBe('stl-truncated');
    const missing = Math.ceil(cut / 50);
    expect(read.error.message).toContain(`says it has 12 triangles but ends after ${12 - missing}`);
    expect(read.error.message).toContain(`${missing} are missing`);
  });

  it('says the same of a cut file whose header begins with "solid"', () => {
    const bytes = binaryStl(box, 'solid by a CAD program');
    expect(codeOf('box.stl', bytes.subarray(0, bytes.length - 10))).toBe('stl-truncated');
  });

  it('refuses a count that would leave triangles out, and reads past a trailer with a note', () => {
    expect(codeOf('box.stl', binaryStl(box, '', 11))).toBe('stl-count-wrong');
    const bytes = new Uint8Array(84 + 600 + 23);
    bytes.set(binaryStl(box));
    const model = expectRead('box.stl', bytes);
    expect(plainArea(model.positions)).toBe(BOX_AREA);
    expect(model.notes.map((note) => note.code)).toContain('stl-extra-bytes');
  });

  it('tells what is wrong with the places of the corners', () => {
    const withValue = (value: number): Uint8Array =>
      binaryStl([...box.slice(1), box[0]!.map((v, i) => (i === 4 ? value : v))]);
    expect(codeOf('a.stl', withValue(NaN))).toBe('not-finite');
    expect(codeOf('a.stl', withValue(-Infinity))).toBe('not-finite');
    expect(codeOf('a.stl', withValue(1.1e7))).toBe('too-large');
    expect(codeOf('a.stl', withValue(-3e38))).toBe('too-large');
    expect(codeOf('a.stl', binaryStl([[5, 5, 5, 5, 5, 5, 5, 5, 5]]))).toBe('no-size');
    expect(codeOf('a.stl', binaryStl([]))).toBe('no-triangles');
  });

  it('refuses more than five million triangles before it loads them', () => {
    const bytes = new Uint8Array(84 + 50 * 5_000_001);
    new DataView(bytes.buffer).setUint32(80, 5_000_001, true);
    expect(codeOf('big.stl', bytes)).toBe('too-many-triangles');
  });

  it('notes normals that oppose the corners', () => {
    const bytes = binaryStl(box);
    const view = new DataView(bytes.buffer);
    // The first triangle lies in z = 0, so outward is −z; +z opposes it, −z agrees on the second.
    view.setFloat32(84 + 8, 1, true);
    view.setFloat32(84 + 50 + 8, -1, true);
    const codes = expectRead('box.stl', bytes).notes.map((n) => `${n.code} ${n.message.split(' ')[0]}`);
    expect(codes).toEqual(['stl-normals-opposed 1', 'stl-normals-missing 10']);
  });

  it('takes the unit written in the header as a hint', () => {
    expect(expectRead('a.stl', binaryStl(box, 'UNITS=mm')).declaredUnit).toBe('mm');
    expect(expectRead('a.stl', binaryStl(box, 'part, units: inches')).declaredUnit).toBe('in');
    expect(expectRead('a.stl', binaryStl(box, 'unit constructor')).declaredUnit).toBeUndefined();
    expect(expectRead('a.stl', binaryStl(box, 'unit cube')).declaredUnit).toBeUndefined();
  });
});

describe('other files under a model’s name', () => {
  it.each([
    ['file-empty', ''],
    ['file-is-web-page', '<!DOCTYPE html><html><body>Not found</body></html>'],
    ['file-is-web-page', '\n  <html lang="en">'],
    ['file-is-xml', '<?xml version="1.0"?><model unit="millimeter"/>'],
    ['file-is-zip', 'PK\u0003\u0004....part.stl'],
    ['file-is-job', 'PK\u0003\u0004....job.json'],
    ['file-is-pdf', '%PDF-1.7\n'],
    ['file-is-picture', Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10)],
    ['file-is-picture', Uint8Array.of(0xff, 0xd8, 0xff, 0xe0)],
    ['file-is-picture', 'GIF89a'],
    ['file-is-compressed', Uint8Array.of(0x1f, 0x8b, 8, 0)],
    ['file-is-compressed', Uint8Array.of(0x37, 0x7a, 0xbc, 0xaf, 0x27, 0x1c)],
    ['file-is-gltf', 'glTF\u0002'],
    ['file-is-json', '{"asset": {}}'],
    ['file-is-cad-native', Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1)],
    ['file-is-utf16', Uint8Array.of(0xff, 0xfe, 0x73, 0, 0x6f, 0)],
    ['file-is-dxf', '  0\nSECTION\n  2\nHEADER\n'],
    ['file-is-off', 'OFF\n8 6 0\n'],
    ['file-is-iges', `${'part'.padEnd(72)}S      1\n`],
    ['stl-too-short', Uint8Array.of(1, 2, 3, 4, 5)],
    ['file-unknown', 'A shopping list:\nbolts\n'],
  ])('says %s', (code, content) => {
    const read = readForTest('part.stl', content);
    expect(read.ok).toBe(false);
    if (read.ok) return;
    expect(read.error.code).toBe(code);
    expect(read.error.message).toMatch(/^[A-Z].*\.$/s);
    expect(read.error.remedy).toMatch(/^[A-Z].*\.$/s);
  });

  it('reads an STL named .obj as what it is, with a note', () => {
    const model = expectRead('part.obj', textBytes(asciiStl(box)));
    expect(model.format).toBe('stl-ascii');
    expect(model.notes.map((n) => n.code)).toContain('ending-differs');
  });
});
