import { arc, turned } from '../fixtures/shapes.ts';

/**
 * A torus R 30, r 8 with a wavy skin, as an unstructured scan or a sculpted body is: every triangle another
 * direction. In grid order, the way exporters write strips; `shuffled` puts them in no order at all (a fixed
 * sequence), the worst case for the memory.
 */
export function wavyTorus(triangleCount: number, shuffled = false): Float32Array {
  const around = Math.round(Math.sqrt(triangleCount));
  const across = Math.round(triangleCount / 2 / around);
  const vertex = (i: number, j: number): [number, number, number] => {
    const u = (2 * Math.PI * (i % around)) / around;
    const v = (2 * Math.PI * (j % across)) / across;
    const pipe = 8 + 0.4 * Math.sin(9 * u) * Math.sin(5 * v) + 0.05 * Math.sin(61 * u + 3 * v);
    const ring = 30 + pipe * Math.cos(v);
    return [ring * Math.cos(u), ring * Math.sin(u), pipe * Math.sin(v)];
  };
  const count = 2 * around * across;
  const positions = new Float32Array(9 * count);
  let at = 0;
  const put = (p: readonly number[]): void => {
    positions[at++] = p[0];
    positions[at++] = p[1];
    positions[at++] = p[2];
  };
  for (let i = 0; i < around; i++) {
    for (let j = 0; j < across; j++) {
      const [a, b, c, d] = [vertex(i, j), vertex(i + 1, j), vertex(i + 1, j + 1), vertex(i, j + 1)];
      [a, b, c, a, c, d].forEach(put);
    }
  }
  return shuffled ? inNoOrder(positions) : positions;
}

function inNoOrder(positions: Float32Array): Float32Array {
  const count = positions.length / 9;
  const out = new Float32Array(positions.length);
  // A step that shares no factor with the count visits every triangle once.
  let step = Math.floor(count * 0.618034);
  while (gcd(step, count) !== 1) step++;
  for (let i = 0, from = 0; i < count; i++, from = (from + step) % count) {
    out.set(positions.subarray(9 * from, 9 * from + 9), 9 * i);
  }
  return out;
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}

/** Many turned knobs side by side, bores and edges filleted: planes, cylinders and tori in uneven triangles, as machined parts are. */
export function filletedKnobs(triangleCount: number): Float32Array {
  const sides = 96;
  const steps = 8;
  const profile = [
    ...arc(18, 2, 2, -Math.PI / 2, 0, steps),
    ...arc(18, 28, 2, 0, Math.PI / 2, steps),
    ...arc(7, 28, 2, Math.PI / 2, Math.PI, steps),
    ...arc(7, 2, 2, Math.PI, (3 * Math.PI) / 2, steps),
  ];
  const knob = turned(profile, sides, true);
  const copies = Math.max(1, Math.round((9 * triangleCount) / knob.length));
  const perRow = Math.ceil(Math.sqrt(copies));
  const positions = new Float32Array(copies * knob.length);
  for (let copy = 0; copy < copies; copy++) {
    const dx = 50 * (copy % perRow);
    const dy = 50 * Math.floor(copy / perRow);
    for (let i = 0; i < knob.length; i += 3) {
      positions[copy * knob.length + i] = knob[i] + dx;
      positions[copy * knob.length + i + 1] = knob[i + 1] + dy;
      positions[copy * knob.length + i + 2] = knob[i + 2];
    }
  }
  return positions;
}
