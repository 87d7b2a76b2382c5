import { faceNeighbours } from '../faces/face-neighbours.ts';
import { boreReach } from '../faces/bore-ends.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { listFaceTriangles, type Surface } from './clamp-places.ts';
import { onlyWayIn } from './only-way-in.ts';
import { findRoundPlaces, type RoundPlace } from './round-places.ts';
import { buildTriangleBvh } from './triangle-bvh.ts';
import { subtract, type Vec3 } from './vec3.ts';

/** What clamping rests on and stays the same whatever is masked, however the part hangs and whatever current it takes. */
export interface ContactGround {
  readonly surface: Surface;
  readonly rounds: readonly RoundPlace[];
  /** Those of them that are the only way into a hollow. */
  readonly vents: ReadonlySet<RoundPlace>;
  /** Diagonal of the part's box, model units. */
  readonly size: number;
}

export function contactGround(geometry: PartGeometry): ContactGround {
  const vertices = Float64Array.from(geometry.graph.indexed.vertices);
  const bvh = buildTriangleBvh(vertices, geometry.graph.indexed.triangles);
  const rounds = findRoundPlaces(geometry);
  const neighbours = faceNeighbours(geometry.faces);
  // In a torn surface nothing hangs together for sure.
  const isVent = ({ ends, rows }: RoundPlace): boolean =>
    geometry.closed && ends !== null && boreReach(ends) === 'through' && onlyWayIn(neighbours, rows);
  return {
    surface: { geometry, vertices, bvh, ...listFaceTriangles(geometry) },
    rounds,
    vents: new Set(rounds.filter(isVent)),
    size: Math.hypot(...subtract(geometry.max, geometry.min)),
  };
}

/** At most a couple of thousand points of the flagged surface. */
export function sampleFlagged({ geometry, vertices }: Surface, flags: Uint8Array, bit: number): Vec3[] {
  let count = 0;
  for (let t = 0; t < flags.length; t++) if (flags[t] & bit) count++;
  const every = Math.max(1, Math.floor(count / 700));
  const points: Vec3[] = [];
  let seen = 0;
  for (let t = 0; t < flags.length; t++) {
    if (!(flags[t] & bit) || seen++ % every !== 0) continue;
    for (let k = 0; k < 3; k++) {
      const v = 3 * geometry.graph.indexed.triangles[3 * t + k];
      points.push([vertices[v], vertices[v + 1], vertices[v + 2]]);
    }
  }
  return points;
}
