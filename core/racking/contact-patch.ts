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
  const pinsOn = new Map<number, number[]>();
  floods.forEach((triangles, pin) => {
    for (const t of triangles) {
      const list = pinsOn.get(t);
      if (list) list.push(pin);
      else pinsOn.set(t, [pin]);
    }
  });
  return floods.map((triangles, pin) => {
    const areas = { coat: 0, mask: 0, contact: 0 };
    const byFace = new Map<number, number>();
    const touched: number[] = [];
    let shown = 0;
    for (const t of triangles) {
      const area = shareOf(geometry, t, pins, pin, pinsOn.get(t) ?? []);
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

/** Triangles that hang together with the pin's inside its ball and face its way. */
function floodFrom(geometry: Pick<PartGeometry, 'graph'>, { at, triangle, radius }: PatchPin): number[] {
  const { indexed, twin, normals } = geometry.graph;
  const { vertices, triangles } = indexed;
  const nx = normals[3 * triangle];
  const ny = normals[3 * triangle + 1];
  const nz = normals[3 * triangle + 2];
  const reached = new Set([triangle]);
  // A Set hands out what is added while it is walked.
  for (const t of reached) {
    for (let h = 3 * t; h < 3 * t + 3; h++) {
      const across = twin[h] < 0 ? -1 : Math.floor(twin[h] / 3);
      if (across < 0 || reached.has(across)) continue;
      const facing = nx * normals[3 * across] + ny * normals[3 * across + 1] + nz * normals[3 * across + 2];
      if (facing < LEAST_COSINE) continue;
      const from = triangles[h] * 3;
      const to = triangles[h % 3 === 2 ? h - 2 : h + 1] * 3;
      if (distance2ToSide(vertices, from, to, at) < radius * radius) reached.add(across);
    }
  }
  return [...reached];
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
  pinsHere: readonly number[],
): number {
  const { vertices, triangles } = graph.indexed;
  const { at, radius } = pins[pin];
  // Corners relative to the pin, then a flat frame: e1 along the first side, e2 across it.
  const p = [0, 1, 2].map((k) => {
    const v = triangles[3 * t + k] * 3;
    return [vertices[v] - at[0], vertices[v + 1] - at[1], vertices[v + 2] - at[2]] as const;
  });
  const u = [p[1][0] - p[0][0], p[1][1] - p[0][1], p[1][2] - p[0][2]] as const;
  const v = [p[2][0] - p[0][0], p[2][1] - p[0][1], p[2][2] - p[0][2]] as const;
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]] as const;
  const twice = Math.hypot(...n);
  const side = Math.hypot(...u);
  if (!(twice > 0)) return 0;
  const e1 = [u[0] / side, u[1] / side, u[2] / side] as const;
  const w = [n[0] / twice, n[1] / twice, n[2] / twice] as const;
  const e2 = [w[1] * e1[2] - w[2] * e1[1], w[2] * e1[0] - w[0] * e1[2], w[0] * e1[1] - w[1] * e1[0]] as const;
  const height = dot(p[0], w);
  const disc2 = radius * radius - height * height;
  if (disc2 <= 0) return 0;
  let polygon: number[] = p.flatMap((corner) => [dot(corner, e1), dot(corner, e2)]);
  for (const other of pinsHere) {
    if (other === pin) continue;
    const q = pins[other];
    const d = [q.at[0] - at[0], q.at[1] - at[1], q.at[2] - at[2]] as const;
    const [a, b] = [2 * dot(d, e1), 2 * dot(d, e2)];
    // |x|² − r² ≤ |x − d|² − s²  ⇔  2 d·x ≤ |d|² + r² − s², and x = height·w + in-plane part.
    const c = dot(d, d) + radius * radius - q.radius * q.radius - 2 * height * dot(d, w);
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
