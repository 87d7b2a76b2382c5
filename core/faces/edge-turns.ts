import type { SurfaceGraph } from './surface-graph.ts';

interface Turns {
  readonly turns: Float32Array;
  readonly steep: readonly number[];
}

const known = new WeakMap<SurfaceGraph, Turns>();

/** Squared distance between the tips of two normals that lean apart by 32°. */
const STEEP_CHORD2 = 0.3;

/**
 * Turn of the surface across every half-edge, rad: 0 flat, positive convex, negative concave, the same on both
 * half-edges of a pair; NaN where there is no other side. Where two triangles run along their edge the same way one of
 * them is turned over, and its normal counts reversed.
 *
 * Everything that splits a surface asks for these again and again, and each time the normals on both sides lie far
 * apart in memory: they are worked out once for a graph and kept as long as it is.
 */
export function edgeTurns(graph: SurfaceGraph): Float32Array {
  return turnsOf(graph).turns;
}

/** Half-edges, the lower of each pair, ascending, over which the surface turns by 32° and more: few of most parts. */
export function steepEdges(graph: SurfaceGraph): readonly number[] {
  return turnsOf(graph).steep;
}

function turnsOf(graph: SurfaceGraph): Turns {
  const before = known.get(graph);
  if (before) return before;
  const steep: number[] = [];
  const turns = workedOut(graph, steep);
  const both = { turns, steep };
  known.set(graph, both);
  return both;
}

/** @param steep the steep ones are added to it */
function workedOut({ indexed, twin, normals }: SurfaceGraph, steep: number[]): Float32Array {
  const { vertices, triangles } = indexed;
  const turns = new Float32Array(twin.length);
  for (let first = 0; first < twin.length; first += 3) {
    const ax = normals[first];
    const ay = normals[first + 1];
    const az = normals[first + 2];
    for (let side = 0; side < 3; side++) {
      const h = first + side;
      const other = twin[h];
      if (other <= h) {
        if (other < 0) turns[h] = NaN;
        continue;
      }
      const vertex = triangles[h];
      const sign = vertex === triangles[other] ? -1 : 1;
      const j = 3 * ((other / 3) | 0);
      const bx = sign * normals[j];
      const by = sign * normals[j + 1];
      const bz = sign * normals[j + 2];
      const dx = ax - bx;
      const dy = ay - by;
      const dz = az - bz;
      const chord2 = dx * dx + dy * dy + dz * dz;
      const from = 3 * vertex;
      const to = 3 * triangles[side === 2 ? first : h + 1];
      const ex = vertices[to] - vertices[from];
      const ey = vertices[to + 1] - vertices[from + 1];
      const ez = vertices[to + 2] - vertices[from + 2];
      // How far the other normal leans outward over the edge.
      const lean = bx * (ey * az - ez * ay) + by * (ez * ax - ex * az) + bz * (ex * ay - ey * ax);
      const angle = angleOf(chord2);
      turns[h] = turns[other] = lean < 0 ? -angle : angle;
      if (chord2 > STEEP_CHORD2) steep.push(h);
    }
  }
  return turns;
}

/** Of two directions whose tips lie this far apart, squared: 2 asin(√chord2 / 2), to 1e-7. */
function angleOf(chord2: number): number {
  const chord = Math.sqrt(chord2);
  if (chord2 > 0.25) return 2 * Math.asin(Math.min(1, chord / 2));
  return chord * (1 + chord2 * (1 / 24 + chord2 * (3 / 640 + chord2 * (5 / 7168 + chord2 * (35 / 294912)))));
}
