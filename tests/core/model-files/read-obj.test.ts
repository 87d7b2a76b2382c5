import { describe, expect, it } from 'vitest';
import { plainArea, plainVolume } from '../../fixtures/model-bytes.ts';
import { codeOf, expectRead, readForTest } from '../../fixtures/read-for-test.ts';

/** A box 2 × 3 × 4 of quads, outward. */
const CORNERS = 'v 0 0 0\nv 2 0 0\nv 0 3 0\nv 2 3 0\nv 0 0 4\nv 2 0 4\nv 0 3 4\nv 2 3 4\n';
const FACES = 'f 1 3 4 2\nf 5 6 8 7\nf 1 2 6 5\nf 3 7 8 4\nf 1 5 7 3\nf 2 4 8 6\n';
const BOX_AREA = 2 * (2 * 3 + 3 * 4 + 4 * 2);

const codes = (text: string): string[] => expectRead('a.obj', text).notes.map((n) => n.code);

describe('OBJ', () => {
  it('reads quads, with texture and normal numbers, negative numbers, continued lines and comments', () => {
    const forms = [
      CORNERS + FACES,
      CORNERS + FACES.replaceAll(/(\d)/g, '$1/7/9'),
      CORNERS + FACES.replaceAll(/(\d)/g, '$1//2'),
      CORNERS + FACES.replaceAll(/ (\d)/g, (_, d: string) => ` ${Number(d) - 9}`),
      CORNERS + FACES.replaceAll(' 4 ', ' \\\n4 '),
      CORNERS.replaceAll('\nv', ' 0.1 0.2 0.3\nv') + FACES.replaceAll('\n', ' # side\n'),
      `# units: mm\r\nmtllib a.mtl\r\nvn 0 0 1\r\nvt 0 0\r\n${CORNERS}usemtl b\r\ns off\r\n${FACES}`,
      (CORNERS + FACES).replaceAll('\n', '\r\n'),
      (CORNERS + FACES).replaceAll('\n', '\r'),
      `${CORNERS}${FACES}xyzzy 3\n`,
      `\uFEFF${CORNERS}${FACES}`.trim(),
    ];
    for (const form of forms) {
      const model = expectRead('a.obj', form);
      expect(model.format).toBe('obj');
      expect(plainArea(model.positions)).toBe(BOX_AREA);
      expect(plainVolume(model.positions)).toBeCloseTo(24, 12);
      expect(model.notes).toEqual([]);
    }
  });

  it('makes objects and groups bodies', () => {
    const lines = FACES.trim().split('\n');
    const text = `${CORNERS}${lines[0]}\no Rail ä\n${lines[1]}\n${lines[2]}\ng\n${lines[3]}\no empty\ng ear\n${lines[4]}\n${lines[5]}\n`;
    expect(expectRead('a.obj', text).bodies).toEqual([
      { name: 'object 1', firstTriangle: 0, triangleCount: 2 },
      { name: 'Rail ä', firstTriangle: 2, triangleCount: 4 },
      { name: 'object 3', firstTriangle: 6, triangleCount: 2 },
      { name: 'ear', firstTriangle: 8, triangleCount: 4 },
    ]);
  });

  it('leaves lines, points and short faces out, with a note, and keeps the surface whole', () => {
    const text = `${CORNERS}o a\nl 1 2\n${FACES}p 1\nf 1 2\n`;
    const model = expectRead('a.obj', text);
    expect(plainArea(model.positions)).toBe(BOX_AREA);
    expect(codes(text)).toEqual(['obj-lines-left-out', 'obj-short-faces']);
    expect(codeOf('a.obj', `${CORNERS}l 1 2 3\n`)).toBe('no-triangles');
    expect(codeOf('a.obj', `${CORNERS}surf 0 1 0 1 1 2 3 4\n`)).toBe('no-triangles');
  });

  it('names the line of a face whose corner does not exist', () => {
    for (const bad of ['f 1 2 9', 'f 1 2 0', 'f -9 1 2', 'f 1/1 2/2 99999999/3']) {
      const read = readForTest('a.obj', `${CORNERS}${FACES}${bad}\n`);
      expect(read.ok ? 'read' : read.error.code).toBe('obj-corner-missing');
      expect(read.ok ? '' : read.error.message).toContain('line 15');
    }
    expect(codeOf('a.obj', `f 1 2 3\n${CORNERS}`)).toBe('obj-corner-missing');
  });

  it.each(['v 1 2', 'v 1 2 x', 'v 1,5 2 3', 'f 1 2 x', 'f 1.5 2 3', 'f /1 2 3', 'v'])(
    'refuses %j with its line',
    (bad) => {
      const read = readForTest('a.obj', `${CORNERS}${bad}\n${FACES}`);
      expect(read.ok ? 'read' : read.error.code).toBe('obj-not-a-number');
      expect(read.ok ? '' : read.error.message).toContain('line 9');
    },
  );

  it('cuts an L-shaped polygon to its true area from every first corner, in every plane and turn', () => {
    // An L of 10 × 10 less 8 × 8: area 36. As a fan it would cover more from five of its six corners.
    const ell = [
      [0, 0],
      [10, 0],
      [10, 2],
      [2, 2],
      [2, 10],
      [0, 10],
    ];
    let fans = 0;
    for (const axes of [
      [0, 1, 2],
      [1, 2, 0],
      [2, 0, 1],
    ] as const) {
      for (const reverse of [false, true]) {
        for (let first = 0; first < 6; first++) {
          const order = Array.from({ length: 6 }, (_, i) => ((reverse ? -i : i) + first + 12) % 6);
          const corners = ell.map(([x, y]) => {
            const corner = [0, 0, 0];
            corner[axes[0]] = x!;
            corner[axes[1]] = y!;
            corner[axes[2]] = 5;
            return `v ${corner.join(' ')}`;
          });
          const model = expectRead(
            'ell.obj',
            `${corners.join('\n')}\nf ${order.map((i) => i + 1).join(' ')}\n`,
          );
          expect(model.positions.length).toBe(4 * 9);
          expect(plainArea(model.positions)).toBeCloseTo(36, 4);
          // The cone over the face from the origin has volume ± 36 · 5 / 3: the turn is kept.
          expect(plainVolume(model.positions)).toBeCloseTo((reverse ? -1 : 1) * 60, 4);
          if (model.notes.length === 0) fans++;
        }
      }
    }
    // Only the fans from the inner corner and the one opposite it are right as they are.
    expect(fans).toBe(12);
  });

  it('notes a polygon that is far from flat', () => {
    expect(codes('v 0 0 0\nv 1 0 1\nv 1 1 0\nv 0 1 1\nf 1 2 3 4\n')).toEqual(['obj-polygons-warped']);
  });

  it('takes a unit from the comments as a hint', () => {
    expect(expectRead('a.obj', `# File units = inches\n${CORNERS}${FACES}`).declaredUnit).toBe('in');
    expect(expectRead('a.obj', CORNERS + FACES).declaredUnit).toBeUndefined();
  });
});
