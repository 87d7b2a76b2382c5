import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { weld } from '../../../core/mesh/weld.ts';

/** The obvious way: a map from the three numbers, −0 printed as 0. */
function bySets(positions: Float32Array): { vertices: number; triangles: number[] } {
  const seen = new Map<string, number>();
  const triangles: number[] = [];
  for (let i = 0; i < positions.length; i += 3) {
    const key = [0, 1, 2].map((k) => String(positions[i + k] + 0)).join();
    if (!seen.has(key)) seen.set(key, seen.size);
    triangles.push(seen.get(key)!);
  }
  return { vertices: seen.size, triangles };
}

describe('weld', () => {
  it('agrees with a map of numbers on coordinates that repeat a lot, −0 and neighbours of floats among them', () => {
    const value = fc.constantFrom(0, -0, 1, -1, 1 + 2 ** -23, 1e-45, -1e-45, 3e38, 0.1, 16777216);
    fc.assert(
      fc.property(fc.array(value, { minLength: 9, maxLength: 900 }), (values) => {
        const positions = Float32Array.from(values.slice(0, values.length - (values.length % 9)));
        const mesh = weld(positions);
        const expected = bySets(positions);
        expect(mesh.vertices.length).toBe(3 * expected.vertices);
        expect([...mesh.triangles]).toEqual(expected.triangles);
        // Every corner is where it was.
        mesh.triangles.forEach((vertex, corner) => {
          for (let k = 0; k < 3; k++)
            expect(mesh.vertices[3 * vertex + k]).toBe(positions[3 * corner + k] + 0);
        });
      }),
    );
  });

  it('grows its table when no corner repeats', () => {
    const positions = Float32Array.from({ length: 9 * 5000 }, (_, i) => Math.sin(i * 1.7) * i);
    const mesh = weld(positions);
    expect(mesh.vertices.length / 3).toBe(bySets(positions).vertices);
    expect(Math.max(...mesh.triangles)).toBe(mesh.vertices.length / 3 - 1);
  });

  it('takes a view into a larger buffer', () => {
    const buffer = new Float32Array(30).fill(7);
    const view = buffer.subarray(3, 12);
    view.set([0, 0, 0, 1, 0, 0, 0, 1, -0]);
    expect([...weld(view).vertices]).toEqual([0, 0, 0, 1, 0, 0, 0, 1, 0]);
  });

  it('refuses part of a triangle', () => {
    expect(() => weld(new Float32Array(10))).toThrow(RangeError);
  });
});
