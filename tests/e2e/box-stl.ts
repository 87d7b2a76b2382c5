import { writeBinaryStl } from '../../main/demo/write-binary-stl.ts';

/** A closed box a × b × c as 12 triangles. Faces f1 … f6; the top and bottom are a × b. */
export function boxStl(a: number, b: number, c: number): Buffer {
  const corner = [0, 1, 2, 3, 4, 5, 6, 7].flatMap((i) => [i & 1 ? a : 0, i & 2 ? b : 0, i & 4 ? c : 0]);
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const triangles = quads.flatMap(([p, q, r, s]) => [p!, q!, r!, p!, r!, s!]);
  return Buffer.from(writeBinaryStl(new Float32Array(corner), new Uint32Array(triangles), 'box'));
}
