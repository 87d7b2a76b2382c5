/** The files of stl-models 0.12.0 (MIT): every one has a clear outcome, the broken ones above all. */
import { readFileSync, readdirSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { plainArea, plainVolume } from '../../fixtures/model-bytes.ts';
import { expectRead, readForTest } from '../../fixtures/read-for-test.ts';

const ROOT = 'node_modules/stl-models';
const load = (path: string): Uint8Array => new Uint8Array(readFileSync(`${ROOT}/${path}`));

function outcome(path: string): string {
  const read = readForTest(path, load(path));
  if (!read.ok) return read.error.code;
  return [`${read.value.positions.length / 9} triangles`, ...read.value.notes.map((n) => n.code)].join(', ');
}

const BROKEN: Readonly<Record<string, string>> = {
  'empty.stl': 'file-empty',
  'fourVertices.ascii.stl': 'stl-too-many-corners',
  'incorrectFaceCounter.bin.stl': 'stl-truncated',
  'missingEndsolid.ascii.stl': '4 triangles, stl-no-endsolid',
  // Whole as a file; that the surface is open is for the mesh analysis to find.
  'missingFace.ascii.stl': '3 triangles',
  'missingNormal.ascii.stl': '4 triangles, stl-normals-missing',
  'notANumberNormal.ascii.stl': '4 triangles, stl-normals-missing',
  'quad.ascii.stl': 'stl-too-many-corners',
  'singleFace.ascii.stl': '1 triangles',
  'solidNameMismatch.ascii.stl': '4 triangles',
  'twoVertices.ascii.stl': 'stl-too-few-corners',
  'wrongHeader.bin.stl': '12 triangles',
  'wrongNormal.ascii.stl': '4 triangles, stl-normals-opposed',
  'wrongNormals.ascii.stl': '4 triangles, stl-normals-missing',
};

describe('stl-models', () => {
  it('has the fourteen broken files this test knows', () => {
    expect(readdirSync(`${ROOT}/broken`).sort()).toEqual(Object.keys(BROKEN).sort());
  });

  it.each(Object.entries(BROKEN))('broken/%s: %s', (name, wanted) => {
    expect(outcome(`broken/${name}`)).toBe(wanted);
  });

  it('misc and polytopes', () => {
    expect(outcome('misc/faceless.ascii.stl')).toBe('no-triangles');
    expect(outcome('misc/multiWordName.ascii.stl')).toBe('4 triangles');
    expect(outcome('misc/namelessSolid.ascii.stl')).toBe('4 triangles');
    expect(expectRead('m.stl', load('misc/multiWordName.ascii.stl')).bodies[0]!.name).toBe(
      'Model with a multi word name',
    );
    // The damaged one: corners at places beyond any part.
    expect(outcome('misc/multiWordName.bin.stl')).toMatch(/^(too-large|not-finite)$/);
    for (const name of ['cube.ascii.stl', 'cube.bin.stl', 'unitCube.ascii.stl', 'unitCube.binary.stl']) {
      const { positions } = expectRead(name, load(`polytopes/${name}`));
      const side = name.startsWith('unit') ? 1 : 2;
      expect(plainArea(positions)).toBe(6 * side ** 2);
      expect(Math.abs(plainVolume(positions))).toBeCloseTo(side ** 3, 12);
    }
    for (const name of readdirSync(`${ROOT}/polytopes`))
      expect(outcome(`polytopes/${name}`)).toMatch(/triangles/);
  });

  it.each(['gearwheel', 'bunny'])('%s is the same from ASCII and binary', (name) => {
    const ascii = expectRead(name, load(`objects/${name}.ascii.stl`));
    const binary = expectRead(name, load(`objects/${name}.bin.stl`));
    expect(ascii.format).toBe('stl-ascii');
    expect(binary.format).toBe('stl-binary');
    expect(ascii.positions.length).toBe(binary.positions.length);
    // The ASCII files carry seven significant digits.
    expect(plainArea(ascii.positions) / plainArea(binary.positions)).toBeCloseTo(1, 5);
  });
});
