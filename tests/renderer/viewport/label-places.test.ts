import { expect, test } from 'vitest';
import { labelPlaces } from '../../../renderer/viewport/label-places.ts';

const line = (x1: number, y1: number, x2: number, y2: number, text = '220 mm') => ({
  from: { x: x1, y: y1 },
  to: { x: x2, y: y2 },
  text,
});

test('one label stands in the middle of its line', () => {
  expect(labelPlaces([line(0, 0, 100, 40)], [], 15)).toEqual([{ x: 50, y: 20 }]);
});

test('crossing lines keep their labels apart, and each on its own line', () => {
  const [a, b] = labelPlaces([line(0, 100, 200, 100), line(100, 0, 100, 200)], [], 15);
  expect(a).toEqual({ x: 100, y: 100 });
  expect(b!.x).toBe(100);
  // Half a label's height is 11 px.
  expect(Math.abs(b!.y - 100)).toBeGreaterThanOrEqual(22);
});

test('labels keep off the numbered badges', () => {
  const [a] = labelPlaces([line(0, 0, 200, 0)], [{ x: 100, y: 0 }], 15);
  expect(Math.abs(a!.x - 100)).toBeGreaterThanOrEqual(15 + 27);
});

test('a line shorter than its label goes a row beside the label before it', () => {
  const [a, b] = labelPlaces([line(0, 0, 10, 0), line(0, 4, 10, 4)], [], 15);
  expect(a).toEqual({ x: 5, y: 0 });
  expect(b!.x).toBe(5);
  expect(Math.abs(b!.y)).toBeGreaterThanOrEqual(22);
});

test('where there is no room at all, the middle', () => {
  const crowd = Array.from({ length: 12 }, () => line(0, 0, 10, 0));
  expect(labelPlaces(crowd, [], 15).at(-1)).toEqual({ x: 5, y: 0 });
});
