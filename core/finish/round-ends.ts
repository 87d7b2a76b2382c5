import type { PartGeometry } from '../mesh/part-geometry.ts';
import { add, anyPerpendicular, cross, dot, scale, subtract, type Vec3 } from '../racking/vec3.ts';

type Shape = Pick<PartGeometry, 'positions' | 'faces'>;

/** One round wall: rows of the face table and their triangles, its axis, and how far it reaches along it. Model units. */
export interface RoundWall {
  readonly rows: ReadonlySet<number>;
  readonly triangles: readonly number[];
  readonly axis: Vec3;
  readonly onAxis: Vec3;
  readonly radius: number;
  /** Along the axis from `onAxis`. */
  readonly low: number;
  readonly high: number;
}

/** Free for a diameter beyond its mouth, a hole opens there; a drill's cone or a floor is met sooner. */
const FREE_DIAMETERS = 1;
/** Seen from half the radius, so that a counterbore's shoulder and a smaller hole that goes on do not close it. */
const LOOK_FROM = 0.5;
const LOOKS = 6;
const FREE_LOOKS = 5;
const SLIT_PLANES = [0.25, 0.5, 0.75];
/** A slit is at least this wide: facets meet to rounding, and a saw cut is wider. */
const LEAST_SLIT_RAD = 2e-3;

/** @param triangles all those of `rows` */
export function roundWall(
  { positions, faces }: Shape,
  rows: readonly number[],
  triangles: readonly number[],
): RoundWall {
  const first = rows[0]!;
  const axis = vec(faces.axis, 3 * first);
  const onAxis = vec(faces.point, 3 * first);
  let low = Infinity;
  let high = -Infinity;
  for (const t of triangles) {
    for (let i = 9 * t; i < 9 * t + 9; i += 3) {
      const along = dot(subtract(vec(positions, i), onAxis), axis);
      if (along < low) low = along;
      if (along > high) high = along;
    }
  }
  return { rows: new Set(rows), triangles, axis, onAxis, radius: faces.size[first]!, low, high };
}

/** Whether nothing stands in front of either mouth. One pass over the part's triangles. */
export function isOpenAtBothEnds(part: Shape, wall: RoundWall): boolean {
  return [1, -1].every((towards) => isOpen(part, wall, towards));
}

function isOpen({ positions, faces }: Shape, wall: RoundWall, towards: number): boolean {
  const { radius, rows } = wall;
  const [u, v] = across(wall.axis);
  const [wx, wy, wz] = scale(wall.axis, towards);
  const [ox, oy, oz] = add(wall.onAxis, scale(wall.axis, towards > 0 ? wall.high : wall.low));
  const looks: (readonly [number, number])[] = [[0, 0]];
  for (let i = 0; i < LOOKS; i++) {
    // Turned a little, so that no look runs along an edge of facets that start at the axes.
    const angle = (2 * Math.PI * (i + 0.37)) / LOOKS;
    looks.push([LOOK_FROM * radius * Math.cos(angle), LOOK_FROM * radius * Math.sin(angle)]);
  }
  const blocked = looks.map(() => false);
  const least = -1e-3 * radius;
  const most = 2 * radius * FREE_DIAMETERS;
  const heights = new Float64Array(3);
  const flat = new Float64Array(6);
  for (let t = 0; t < faces.faceOfTriangle.length; t++) {
    for (let i = 0; i < 3; i++) {
      const at = 9 * t + 3 * i;
      heights[i] =
        (positions[at]! - ox) * wx + (positions[at + 1]! - oy) * wy + (positions[at + 2]! - oz) * wz;
    }
    const [h0, h1, h2] = [heights[0]!, heights[1]!, heights[2]!];
    if ((h0 < least && h1 < least && h2 < least) || (h0 > most && h1 > most && h2 > most)) continue;
    if (rows.has(faces.faceOfTriangle[t]!)) continue;
    for (let i = 0; i < 3; i++) {
      const at = 9 * t + 3 * i;
      const [x, y, z] = [positions[at]! - ox, positions[at + 1]! - oy, positions[at + 2]! - oz];
      flat[2 * i] = x * u[0] + y * u[1] + z * u[2];
      flat[2 * i + 1] = x * v[0] + y * v[1] + z * v[2];
    }
    for (let i = 0; i < looks.length; i++) {
      const height = blocked[i] ? NaN : heightAt(looks[i]!, flat, heights);
      if (height > least && height < most) blocked[i] = true;
    }
  }
  // The look along the axis itself may hit the very tip of a cone; most of the others decide.
  return blocked.filter((hit) => !hit).length >= FREE_LOOKS;
}

/** Height at which a line along the axis through (x, y) meets a triangle; NaN where it misses. */
function heightAt([x, y]: readonly [number, number], flat: Float64Array, heights: Float64Array): number {
  const [ax, ay] = [flat[0]! - x, flat[1]! - y];
  const [bx, by] = [flat[2]! - x, flat[3]! - y];
  const [cx, cy] = [flat[4]! - x, flat[5]! - y];
  const a = bx * cy - by * cx;
  const b = cx * ay - cy * ax;
  const c = ax * by - ay * bx;
  const sum = a + b + c;
  if (sum === 0 || a * sum < 0 || b * sum < 0 || c * sum < 0) return NaN;
  return (a * heights[0]! + b * heights[1]! + c * heights[2]!) / sum;
}

/** Whether the wall is cut open from end to end: a clamp's slit, a bore that runs out of the side of the part. */
export function isSlit({ positions }: Pick<Shape, 'positions'>, wall: RoundWall): boolean {
  const [u, v] = across(wall.axis);
  return SLIT_PLANES.every((share) => {
    const plane = wall.low + (wall.high - wall.low) * share;
    const arcs: [number, number][] = [];
    for (const t of wall.triangles) {
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

/** Two directions across the axis, at right angles to it and to each other. */
function across(axis: Vec3): [Vec3, Vec3] {
  const u = anyPerpendicular(axis);
  return [u, cross(axis, u)];
}

const vec = (values: ArrayLike<number>, at: number): Vec3 => [values[at]!, values[at + 1]!, values[at + 2]!];
