/** Whatever the bytes, reading ends in a Result: either sound triangles or a failure with cause and remedy. */
import fc from 'fast-check';
import { describe, it } from 'vitest';
import { asciiStl, binaryStl, boxTriangles, textBytes } from '../../fixtures/model-bytes.ts';
import { readForTest } from '../../fixtures/read-for-test.ts';

const triangle = fc.array(fc.float({ noNaN: false }), { minLength: 9, maxLength: 9 });
const triangles = fc.array(triangle, { maxLength: 6 });
const OBJ = 'o a\nv 0 0 0\nv 2 0 0\nv 0 3 0\nv 2 3 1\nf 1 3 4 2\nl 1 2\ng b\nf -1 -2 -3\n';
const box = boxTriangles(1, 2, 3);

function settles(name: string, bytes: Uint8Array): boolean {
  const read = readForTest(name, bytes);
  if (!read.ok)
    return /^[a-z0-9-]+$/.test(read.error.code) && read.error.message !== '' && read.error.remedy !== '';
  const { positions, bodies } = read.value;
  const covered = bodies.reduce((sum, body) => sum + body.triangleCount, 0);
  return positions.length > 0 && positions.length === covered * 9 && positions.every(Number.isFinite);
}

const names = fc.constantFrom('a.stl', 'a.obj', 'a.STL', 'a', 'a.bin');
const mangle = (bytes: Uint8Array, cut: number, spots: readonly [number, number][]): Uint8Array => {
  const mangled = bytes.slice(0, Math.round(bytes.length * cut));
  for (const [at, value] of spots) if (mangled.length > 0) mangled[at % mangled.length] = value;
  return mangled;
};
const spots = fc.array(fc.tuple(fc.nat(), fc.nat(255)), { maxLength: 4 });
const cut = fc.oneof(fc.constant(1), fc.double({ min: 0, max: 1, noNaN: true }));

describe('reading any bytes', () => {
  it('random bytes', () => {
    fc.assert(fc.property(names, fc.uint8Array({ maxLength: 400 }), settles), { numRuns: 400 });
  });

  it('binary STL of any floats, cut and altered', () => {
    fc.assert(
      fc.property(names, triangles, cut, spots, (name, list, at, changes) =>
        settles(name, mangle(binaryStl(list), at, changes)),
      ),
      { numRuns: 400 },
    );
  });

  it.each([
    ['ASCII STL', textBytes(asciiStl(box))],
    ['OBJ', textBytes(OBJ)],
  ])('%s, cut and altered', (_, bytes) => {
    fc.assert(
      fc.property(names, cut, spots, (name, at, changes) => settles(name, mangle(bytes, at, changes))),
      { numRuns: 400 },
    );
  });

  it('OBJ lines in any order', () => {
    const line = fc.constantFrom(
      ...OBJ.split('\n'),
      'f',
      'v',
      'f 1 2 3 4 5',
      'vn 1 2',
      'g',
      'surf',
      '\\',
      'f 1/ 2/ 3/',
    );
    fc.assert(
      fc.property(fc.array(line, { maxLength: 30 }), (lines) =>
        settles('a.obj', textBytes(lines.join('\n'))),
      ),
      { numRuns: 400 },
    );
  });
});
