import type { FaceKind } from './face-table.ts';
import { length3, type Vec3 } from './fit-vectors.ts';

/** Triangles of one face (all, or an even sample of a large face), moved to its middle and scaled to size 1. */
export interface FaceSample {
  readonly count: number;
  /** 9 a triangle. */
  readonly corners: Float64Array;
  /** 3 a triangle, unit length. */
  readonly normals: Float64Array;
  /** 1 a triangle. */
  readonly areas: Float64Array;
  /** One step of the coordinates, in the same scale. */
  readonly noise: number;
}

/** What a face is, in the sample's own scale and place. */
export interface FaceShape {
  readonly kind: FaceKind;
  /** Radius of a cylinder or sphere, tube radius of a torus, half-angle of a cone in rad, 0 otherwise. */
  readonly size: number;
  /** Normal of a plane, axis of a cylinder, cone or torus (unit length, sign free), 0 0 0 otherwise. */
  readonly axis: Vec3;
  /** On the plane or axis, or the centre of a sphere or torus. */
  readonly point: Vec3;
  /** The surface faces its axis or centre: a bore, not a shaft. */
  readonly inward: boolean;
}

/** How far a corner may be off a surface of this radius. */
export type Tolerance = (radius: number) => number;

export function triangleMiddle(corners: Float64Array, i: number): Vec3 {
  const o = 9 * i;
  return [
    (corners[o] + corners[o + 3] + corners[o + 6]) / 3,
    (corners[o + 1] + corners[o + 4] + corners[o + 7]) / 3,
    (corners[o + 2] + corners[o + 5] + corners[o + 8]) / 3,
  ];
}

/**
 * True when the sample faces against the directions that lead away from its centre; with an axis, away from that; with a ring's radius too,
 * away from the circle about it.
 */
export function facesInward(
  { count, corners, normals, areas }: FaceSample,
  point: Vec3,
  axis?: Vec3,
  ring?: number,
): boolean {
  let facing = 0;
  for (let i = 0, o = 0; i < count; i++, o += 9) {
    const x = (corners[o] + corners[o + 3] + corners[o + 6]) / 3 - point[0];
    const y = (corners[o + 1] + corners[o + 4] + corners[o + 7]) / 3 - point[1];
    const z = (corners[o + 2] + corners[o + 5] + corners[o + 8]) / 3 - point[2];
    let awayX = x;
    let awayY = y;
    let awayZ = z;
    if (axis) {
      const d = x * axis[0] + y * axis[1] + z * axis[2];
      awayX = x - d * axis[0];
      awayY = y - d * axis[1];
      awayZ = z - d * axis[2];
      if (ring !== undefined) {
        const length = length3(awayX, awayY, awayZ) || 1;
        awayX = x - ring * (awayX / length);
        awayY = y - ring * (awayY / length);
        awayZ = z - ring * (awayZ / length);
      }
    }
    facing += areas[i] * (normals[3 * i] * awayX + normals[3 * i + 1] * awayY + normals[3 * i + 2] * awayZ);
  }
  return facing < 0;
}

/** An even choice of at most `most` points, for refining a fit: all of them would only cost time. */
export function thinned(corners: Float64Array, most: number): Float64Array {
  const count = corners.length / 3;
  if (count <= most) return corners;
  const out = new Float64Array(3 * most);
  for (let i = 0; i < most; i++) {
    const at = 3 * Math.floor(((i + 0.5) * count) / most);
    out[3 * i] = corners[at];
    out[3 * i + 1] = corners[at + 1];
    out[3 * i + 2] = corners[at + 2];
  }
  return out;
}

/** Different directions among the facets, counted up to `most`. */
export function directions(sample: FaceSample, most: number): number {
  const seen: number[] = [];
  const { normals } = sample;
  for (let i = 0; i < sample.count && seen.length < most; i++) {
    const isNew = seen.every((s) => {
      const x = normals[3 * i] - normals[3 * s];
      const y = normals[3 * i + 1] - normals[3 * s + 1];
      const z = normals[3 * i + 2] - normals[3 * s + 2];
      return x * x + y * y + z * z > 1e-6;
    });
    if (isNew) seen.push(i);
  }
  return seen.length;
}
