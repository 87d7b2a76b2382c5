import { expect, test } from 'vitest';
import { changedTriangles } from '../../../core/mesh/changed-triangles.ts';
import { box, Soup } from '../../fixtures/shapes.ts';

const soup = (...parts: Float32Array[]): Float32Array =>
  parts.reduce((all, part) => all.add(part), new Soup()).positions;
/** The corners of each triangle one place on: the same triangles. */
const rolled = (positions: Float32Array): Float32Array =>
  positions.map((_, i) => positions[i - (i % 9) + (((i % 9) + 3) % 9)]!);
/** Two corners of each changed over: the other way round. */
const turned = (positions: Float32Array): Float32Array => {
  const over = positions.slice();
  for (let t = 0; t < over.length; t += 9) {
    over.set(positions.subarray(t + 6, t + 9), t + 3);
    over.set(positions.subarray(t + 3, t + 6), t + 6);
  }
  return over;
};
const cube = box(1, 2, 3);

test.each([
  ['the same mesh', cube, cube, [], []],
  ['corners in another order, −0 for 0', cube, rolled(cube).map((x) => (x === 0 ? -0 : x)), [], []],
  ['two taken out', cube, cube.slice(18), [0, 1], []],
  [
    'a second body',
    cube,
    soup(cube, box(1, 1, 1, [5, 0, 0])),
    [],
    [12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23],
  ],
  ['one written twice, then once', soup(cube, cube.subarray(0, 9)), cube, [12], []],
  ['turned over', cube.slice(0, 18), turned(cube.slice(0, 18)), [0, 1], [0, 1]],
  ['nothing left', cube.slice(0, 9), new Float32Array(), [0], []],
])('%s', (_, before, after, gone, come) => {
  const changed = changedTriangles(before, after);
  expect([...changed.gone]).toEqual(gone);
  expect([...changed.come]).toEqual(come);
});

test('whatever the order, what goes and comes balances', () => {
  const many = soup(...Array.from({ length: 40 }, (_, i) => box(1, 1, 1, [2 * (i % 7), 2 * (i % 5), 2 * i])));
  const shuffled = new Float32Array(many.length);
  const count = many.length / 9;
  for (let t = 0; t < count; t++) shuffled.set(many.subarray(9 * t, 9 * t + 9), 9 * ((t * 7) % count));
  const changed = changedTriangles(many, shuffled.slice(9 * 30));
  expect(changed.come).toHaveLength(0);
  expect(changed.gone).toHaveLength(30);
});
