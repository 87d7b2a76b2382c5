import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  COLLAPSED_EDGE,
  CROWDED_EDGE,
  edgeAdjacency,
  OPEN_EDGE,
  runSameWay,
} from '../../../core/mesh/edge-adjacency.ts';

/** The obvious way: all half-edges by their pair of vertices. */
function byPairs(triangles: Uint32Array): Map<string, number[]> {
  const edges = new Map<string, number[]>();
  for (let h = 0; h < triangles.length; h++) {
    const t = h - (h % 3);
    const corners = [triangles[t], triangles[t + 1], triangles[t + 2]];
    if (new Set(corners).size < 3) continue;
    const [a, b] = [triangles[h], corners[(h - t + 1) % 3]];
    const key = `${Math.min(a, b)} ${Math.max(a, b)}`;
    edges.set(key, [...(edges.get(key) ?? []), h]);
  }
  return edges;
}

describe('edge adjacency', () => {
  it('agrees with a map of vertex pairs on any tangle of triangles', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 3, max: 40 }),
        fc.array(fc.nat(), { minLength: 3, maxLength: 600 }),
        (vertexCount, numbers) => {
          const triangles = Uint32Array.from(
            numbers.slice(0, numbers.length - (numbers.length % 3)),
            (n) => n % vertexCount,
          );
          const adjacency = edgeAdjacency(triangles, vertexCount);
          const edges = byPairs(triangles);
          const expected = new Int32Array(triangles.length).fill(COLLAPSED_EDGE);
          let [open, crowded, sameWay] = [0, 0, 0];
          for (const halfEdges of edges.values()) {
            if (halfEdges.length === 1) {
              open++;
              expected[halfEdges[0]] = OPEN_EDGE;
            } else if (halfEdges.length === 2) {
              const [g, h] = halfEdges;
              expected[g] = h;
              expected[h] = g;
              if (runSameWay(triangles, g, h)) sameWay++;
            } else {
              crowded++;
              for (const h of halfEdges) expected[h] = CROWDED_EDGE;
            }
          }
          expect([...adjacency.twin]).toEqual([...expected]);
          expect(adjacency).toMatchObject({
            edgeCount: edges.size,
            openEdges: open,
            crowdedEdges: crowded,
            sameWayEdges: sameWay,
          });
        },
      ),
    );
  });

  it('matches a hub of ten thousand spokes in time that grows with their number', () => {
    const spokes = 10_000;
    const triangles = new Uint32Array(3 * spokes);
    for (let i = 0; i < spokes; i++) triangles.set([0, 1 + i, 1 + ((i + 1) % spokes)], 3 * i);
    const adjacency = edgeAdjacency(triangles, spokes + 1);
    expect(adjacency.openEdges).toBe(spokes);
    expect(adjacency.edgeCount).toBe(2 * spokes);
    expect(adjacency.twin[2]).toBe(3);
  });

  it('refuses vertex numbers beyond the mesh', () => {
    expect(() => edgeAdjacency(Uint32Array.of(0, 1, 5), 3)).toThrow(RangeError);
    expect(() => edgeAdjacency(Uint32Array.of(0, 1), 3)).toThrow(RangeError);
  });
});
