import { describe, expect, it } from 'vitest';
import { faceEdges, NO_TRIANGLE } from '../../../core/faces/face-edges.ts';
import { edgeAdjacency } from '../../../core/mesh/edge-adjacency.ts';
import { weld } from '../../../core/mesh/weld.ts';
import { box } from '../../fixtures/shapes.ts';

function edgesOf(positions: Float32Array, faceOf: (triangle: number) => number, limit?: number) {
  const mesh = weld(positions);
  const { twin } = edgeAdjacency(mesh.triangles, mesh.vertices.length / 3);
  const faces = Array.from({ length: positions.length / 9 }, (_, triangle) => faceOf(triangle));
  return faceEdges(mesh, twin, faces, limit);
}

function lengthOf(segments: Float32Array): number {
  let sum = 0;
  for (let i = 0; i < segments.length; i += 6) {
    sum += Math.hypot(
      segments[i + 3]! - segments[i]!,
      segments[i + 4]! - segments[i + 1]!,
      segments[i + 5]! - segments[i + 2]!,
    );
  }
  return sum;
}

describe('faceEdges', () => {
  // Each side of the box is two triangles of its fixture.
  const sideOf = (triangle: number): number => Math.floor(triangle / 2);

  it('finds the twelve edges of a box, without the diagonals: 4 (a + b + c)', () => {
    const { segments, triangles, tooMany } = edgesOf(box(3, 5, 7), sideOf);
    expect(tooMany).toBe(false);
    expect(triangles).toHaveLength(24);
    expect(lengthOf(segments)).toBeCloseTo(4 * (3 + 5 + 7), 5);
    for (let i = 0; i < triangles.length; i += 2) {
      expect(sideOf(triangles[i]!)).not.toBe(sideOf(triangles[i + 1]!));
    }
  });

  it('finds none where all is one face and the surface is closed', () => {
    expect(edgesOf(box(3, 5, 7), () => 0).triangles).toHaveLength(0);
  });

  it('finds the rim where the surface ends', () => {
    // Without its first side, the box is open along 2 (3 + 5).
    const { segments, triangles } = edgesOf(box(3, 5, 7).slice(18), () => 0);
    expect(lengthOf(segments)).toBeCloseTo(2 * (3 + 5), 5);
    expect([...triangles].filter((triangle) => triangle === NO_TRIANGLE)).toHaveLength(4);
  });

  it('keeps none above its limit and says so', () => {
    expect(edgesOf(box(3, 5, 7), sideOf, 12).tooMany).toBe(false);
    const { tooMany, segments } = edgesOf(box(3, 5, 7), sideOf, 11);
    expect(tooMany).toBe(true);
    expect(segments).toHaveLength(0);
  });

  it('names the argument that does not fit', () => {
    const mesh = weld(box(1, 1, 1));
    expect(() => faceEdges(mesh, new Int32Array(3), [0])).toThrow(/twin/);
    expect(() => faceEdges(mesh, new Int32Array(36), [0])).toThrow(/faceOfTriangle/);
  });
});
