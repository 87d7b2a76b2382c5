import { nextSide } from '../mesh/half-edges.ts';
import { COVERAGE_BITS, treatmentOf } from '../faces/coverage-flags.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { clipHalfPlane, discArea } from './disc-area.ts';

/** A round clamp pad pressed on the surface, in model units. */
export interface PatchPin {
  readonly at: readonly [number, number, number];
  /** The triangle it was set on. */
  readonly triangle: number;
  readonly radius: number;
}

/** Areas under one pad, model units squared; what two pads share is given to one of them. */
export interface ContactPatch {
  /** coated + masked + contact. */
  readonly area: number;
  /** To be taken off the coated area. */
  readonly coated: number;
  readonly masked: number;
  /** On surface that is bare contact anyway. */
  readonly contact: number;
  /** Of all that is covered, what is flagged to be seen. */
  readonly shown: number;
  /** Faces under the pad with the area of each, by row. */
  readonly faces: readonly { readonly row: number; readonly area: number }[];
  /** Triangles it lies on at least in part, ascending. */
  readonly triangles: Uint32Array;
}

/** Facing: cosine of the angle to the pin's normal. A wall at a right angle, give or take rounding, is not covered. */
const LEAST_COSINE = 1e-3;

/**
 * What round pads cover: the surface within `radius` of the pin, as far as it hangs together with the pin's triangle
 * inside that ball and faces within 90° of it, so neither the far side of a thin wall nor the edge of a plate counts.
 *
 * Exact for the mesh: each triangle's plane cuts the ball in a disc, and triangle and disc have a closed form. Where
 * pads overlap on a triangle, each gets the points that are deeper in its own ball (power distance |x − at|² −
 * radius²; Aurenhammer, SIAM J. Comput. 16, 1987), so nothing is counted twice and nothing is lost.
 *
 * Follows neighbours from the pin's triangle, so the cost depends on the patch, not on the part. It does not cross
 * open edges or edges with three triangles.
 *
 * @param flags one byte a triangle, see faces/coverage-flags.ts
 * @returns one patch a pin, in their order
 */
export function contactPatches(
  geometry: Pick<PartGeometry, 'graph' | 'faces' | 'triangleCount'>,
  flags: Uint8Array,
  pins: readonly PatchPin[],
): ContactPatch[] {
  if (flags.length !== geometry.triangleCount) {
    throw new RangeError(`flags: one a triangle, ${geometry.triangleCount} needed, got ${flags.length}`);
  }
  pins.forEach((pin, i) => checkPin(pin, i, geometry.triangleCount));
  const floods = pins.map((pin) => floodFrom(geometry, pin));
  // Only pins whose balls overlap can share a triangle; the usual pin has its patch to itself.
  const rivals = pins.map((pin, i) =>
    pins.flatMap((other, j) => (j !== i && ballsOverlap(pin, other) ? [j] : [])),
  );
  return floods.map((triangles, pin) => {
    const areas = { coat: 0, mask: 0, contact: 0 };
    const byFace = new Map<number, number>();
    const touched: number[] = [];
    let shown = 0;
    for (const t of triangles) {
      const sharing = rivals[pin].filter((other) => floods[other].has(t));
      const area = shareOf(geometry, t, pins, pin, sharing);
      if (!(area > 0)) continue;
      touched.push(t);
      areas[treatmentOf(flags[t])] += area;
      if (flags[t] & COVERAGE_BITS.show) shown += area;
      const row = geometry.faces.faceOfTriangle[t];
      byFace.set(row, (byFace.get(row) ?? 0) + area);
    }
    return {
      area: areas.coat + areas.mask + areas.contact,
      coated: areas.coat,
      masked: areas.mask,
      contact: areas.contact,
      shown,
      faces: [...byFace].map(([row, area]) => ({ row, area })).sort((a, b) => a.row - b.row),
      triangles: Uint32Array.from(touched).sort(),
    };
  });
}

function checkPin({ at, triangle, radius }: PatchPin, i: number, triangleCount: number): void {
  if (!(Number.isInteger(triangle) && triangle >= 0 && triangle < triangleCount)) {
    throw new RangeError(`pins[${i}].triangle: no triangle ${triangle}, there are ${triangleCount}`);
  }
  if (!(radius > 0 && Number.isFinite(radius))) {
    throw new RangeError(`pins[${i}].radius: must be above 0, got ${radius}`);
  }
  if (!at.every(Number.isFinite)) throw new RangeError(`pins[${i}].at: must be finite, got ${at.join(' ')}`);
}

function ballsOverlap(a: PatchPin, b: PatchPin): boolean {
  const distance = Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1], a.at[2] - b.at[2]);
  return distance < a.radius + b.radius;
}

/** Triangles that hang together with the pin's inside its ball and face its way. */
function floodFrom(geometry: Pick<PartGeometry, 'graph'>, { at, triangle, radius }: PatchPin): Set<number> {
  const { indexed, twin, normals } = geometry.graph;
  const { vertices, triangles } = indexed;
  const nx = normals[3 * triangle];
  const ny = normals[3 * triangle + 1];
  const nz = normals[3 * triangle + 2];
  const reached = new Set([triangle]);
  // A Set hands out what is added while it is walked.
  for (const t of reached) {
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      const across = twin[h] < 0 ? -1 : (twin[h] / 3) | 0;
      if (across < 0 || reached.has(across)) continue;
      const facing = nx * normals[3 * across] + ny * normals[3 * across + 1] + nz * normals[3 * across + 2];
      if (facing < LEAST_COSINE) continue;
      const from = triangles[h] * 3;
      const to = triangles[nextSide(h)] * 3;
      if (distance2ToSide(vertices, from, to, at) < radius * radius) reached.add(across);
    }
  }
  return reached;
}

function distance2ToSide(
  vertices: Float32Array,
  from: number,
  to: number,
  at: readonly [number, number, number],
): number {
  const ax = vertices[from] - at[0];
  const ay = vertices[from + 1] - at[1];
  const az = vertices[from + 2] - at[2];
  const dx = vertices[to] - vertices[from];
  const dy = vertices[to + 1] - vertices[from + 1];
  const dz = vertices[to + 2] - vertices[from + 2];
  const length2 = dx * dx + dy * dy + dz * dz;
  const share = length2 > 0 ? Math.min(1, Math.max(0, -(ax * dx + ay * dy + az * dz) / length2)) : 0;
  return (ax + share * dx) ** 2 + (ay + share * dy) ** 2 + (az + share * dz) ** 2;
}

/** Area of triangle `t` within the ball of `pin`, without what belongs to other pins on the same triangle. */
function shareOf(
  { graph }: Pick<PartGeometry, 'graph'>,
  t: number,
  pins: readonly PatchPin[],
  pin: number,
  sharing: readonly number[],
): number {
  const { vertices, triangles } = graph.indexed;
  const { at, radius } = pins[pin];
  // Corners relative to the pin.
  const i = triangles[3 * t] * 3;
  const j = triangles[3 * t + 1] * 3;
  const k = triangles[3 * t + 2] * 3;
  const ax = vertices[i] - at[0];
  const ay = vertices[i + 1] - at[1];
  const az = vertices[i + 2] - at[2];
  const bx = vertices[j] - at[0];
  const by = vertices[j + 1] - at[1];
  const bz = vertices[j + 2] - at[2];
  const cx = vertices[k] - at[0];
  const cy = vertices[k + 1] - at[1];
  const cz = vertices[k + 2] - at[2];
  const r2 = radius * radius;
  // Wholly inside and nobody else's: the area as measured. Most triangles of a fine mesh end here.
  if (
    sharing.length === 0 &&
    ax * ax + ay * ay + az * az <= r2 &&
    bx * bx + by * by + bz * bz <= r2 &&
    cx * cx + cy * cy + cz * cz <= r2
  ) {
    return graph.triangleAreas[t];
  }
  // A flat frame: e1 along the first side, w across the triangle, e2 across both.
  const ux = bx - ax;
  const uy = by - ay;
  const uz = bz - az;
  const vx = cx - ax;
  const vy = cy - ay;
  const vz = cz - az;
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
  if (!(twice > 0)) return 0;
  const side = Math.sqrt(ux * ux + uy * uy + uz * uz);
  const e1 = [ux / side, uy / side, uz / side] as const;
  const w = [nx / twice, ny / twice, nz / twice] as const;
  const e2 = [w[1] * e1[2] - w[2] * e1[1], w[2] * e1[0] - w[0] * e1[2], w[0] * e1[1] - w[1] * e1[0]] as const;
  const height = w[0] * ax + w[1] * ay + w[2] * az;
  const disc2 = r2 - height * height;
  if (disc2 <= 0) return 0;
  let polygon: number[] = [
    e1[0] * ax + e1[1] * ay + e1[2] * az,
    e2[0] * ax + e2[1] * ay + e2[2] * az,
    e1[0] * bx + e1[1] * by + e1[2] * bz,
    e2[0] * bx + e2[1] * by + e2[2] * bz,
    e1[0] * cx + e1[1] * cy + e1[2] * cz,
    e2[0] * cx + e2[1] * cy + e2[2] * cz,
  ];
  for (const other of sharing) {
    const q = pins[other];
    const d = [q.at[0] - at[0], q.at[1] - at[1], q.at[2] - at[2]] as const;
    const [a, b] = [2 * dot(d, e1), 2 * dot(d, e2)];
    // |x|² − r² ≤ |x − d|² − s²  ⇔  2 d·x ≤ |d|² + r² − s², and x = height·w + in-plane part.
    const c = dot(d, d) + r2 - q.radius * q.radius - 2 * height * dot(d, w);
    if (a === 0 && b === 0) {
      // Same axis: one ball is deeper everywhere on this triangle; equal ones go to the earlier pin.
      if (c < 0 || (c === 0 && other < pin)) return 0;
      continue;
    }
    polygon = clipHalfPlane(polygon, a, b, c);
  }
  return Math.max(0, discArea(polygon, Math.sqrt(disc2)));
}

function dot(a: readonly [number, number, number], b: readonly [number, number, number]): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
