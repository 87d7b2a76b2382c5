import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { RoundWall } from '../faces/round-wall.ts';
import { add, anyPerpendicular, cross, dot, scale, subtract, type Vec3 } from '../racking/vec3.ts';

const SLIT_PLANES = [0.25, 0.5, 0.75];
/** A slit is at least this wide: facets meet to rounding, and a saw cut is wider. */
const LEAST_SLIT_RAD = 2e-3;

/**
 * Whether the wall is cut open from end to end: a clamp's slit, a bore that runs out of the side of the part.
 * @param triangles all those of the wall
 */
export function isSlit(
  { positions }: Pick<PartGeometry, 'positions'>,
  wall: RoundWall,
  triangles: readonly number[],
): boolean {
  const u = anyPerpendicular(wall.axis);
  const v = cross(wall.axis, u);
  return SLIT_PLANES.every((share) => {
    const plane = wall.low + (wall.high - wall.low) * share;
    const arcs: [number, number][] = [];
    for (const t of triangles) {
      const cut: Vec3[] = [];
      for (let i = 0; i < 3; i++) {
        const p = subtract(vec(positions, 9 * t + 3 * i), wall.onAxis);
        const q = subtract(vec(positions, 9 * t + 3 * ((i + 1) % 3)), wall.onAxis);
        const [hp, hq] = [dot(p, wall.axis) - plane, dot(q, wall.axis) - plane];
        if (hp < 0 === hq < 0) continue;
        cut.push(add(p, scale(subtract(q, p), hp / (hp - hq))));
      }
      if (cut.length !== 2) continue;
      const [from, to] = cut.map((p) => Math.atan2(dot(p, v), dot(p, u))) as [number, number];
      const [a, b] = [Math.min(from, to), Math.max(from, to)];
      if (b - a <= Math.PI) arcs.push([a, b]);
      else arcs.push([b, Math.PI], [-Math.PI, a]);
    }
    return widestGap(arcs) > LEAST_SLIT_RAD;
  });
}

function widestGap(arcs: [number, number][]): number {
  if (arcs.length === 0) return 0;
  arcs.sort((x, y) => x[0] - y[0]);
  let reached = arcs[0]![1];
  let widest = 0;
  for (const [from, to] of arcs) {
    widest = Math.max(widest, from - reached);
    reached = Math.max(reached, to);
  }
  return Math.max(widest, arcs[0]![0] + 2 * Math.PI - reached);
}

const vec = (values: ArrayLike<number>, at: number): Vec3 => [values[at]!, values[at + 1]!, values[at + 2]!];
