import { nearTriangles, trianglesInBox } from './near-triangles.ts';
import type { Solid } from './solids.ts';
import { trianglesTouch } from './triangles-touch.ts';
import { windingNumber } from './winding-number.ts';

/** Faces count as lying on each other when their normals are opposite to within this, as a cosine: 11°. */
const OPPOSITE = -0.98;

export interface Contacts {
  /** Pairs of solids that touch, cut or lie in each other, as flat pairs of their numbers. */
  readonly pairs: readonly number[];
  /** Per corner root that has to move: the way, model units. */
  readonly growth: ReadonlyMap<number, readonly [number, number, number]>;
}

/**
 * Finds bodies that touch, and how far the touching faces have to grow into each other so that a union is sure to
 * join them. Faces drawn on one plane seldom lie on it to the last bit; a union of them as they are leaves slits of
 * one rounding step between them, with both walls still counted. Faces that share one coordinate exactly stay in
 * their plane, whatever grows beside them: a union joins those without help.
 *
 * @param cornerRoot per corner (3 a triangle): a number that all corners of one vertex of one body share
 * @param slack gap that still counts as touching, model units; touching faces grow by twice that
 */
export function growContacts(
  positions: Float32Array,
  solids: readonly Solid[],
  cornerRoot: Int32Array,
  slack: number,
): Contacts {
  const pairs: number[] = [];
  const growth = new Map<number, [number, number, number]>();
  /** Per corner root: the axes, as bits, along which it lies in a plane that two bodies share. */
  const held = new Map<number, number>();
  const hold = (triangle: number, axis: number): void => {
    for (let corner = 3 * triangle; corner < 3 * triangle + 3; corner++) {
      held.set(cornerRoot[corner], (held.get(cornerRoot[corner]) ?? 0) | (1 << axis));
    }
  };
  for (let i = 0; i < solids.length; i++) {
    for (let j = i + 1; j < solids.length; j++) {
      const a = solids[i];
      const b = solids[j];
      const low = [0, 1, 2].map((k) => Math.max(a.bounds.min[k], b.bounds.min[k]) - slack);
      const high = [0, 1, 2].map((k) => Math.min(a.bounds.max[k], b.bounds.max[k]) + slack);
      if (low.some((value, k) => value > high[k])) continue;
      // The smaller body grows: its face is the more likely to lie wholly on the other's.
      const [still, moved] = a.volume >= b.volume ? [a, b] : [b, a];
      let meet = false;
      nearTriangles(
        positions,
        trianglesInBox(positions, moved.triangles, low, high),
        trianglesInBox(positions, still.triangles, low, high),
        slack,
        (own, other) => {
          const axis = sharedAxis(positions, own, other);
          if (axis >= 0) {
            hold(own, axis);
            hold(other, axis);
            if (meet) return;
          }
          const normal = unitNormal(positions, own);
          const against = unitNormal(positions, other);
          const facing = normal[0] * against[0] + normal[1] * against[1] + normal[2] * against[2] < OPPOSITE;
          if (meet && !facing) return;
          if (!trianglesTouch(positions, own, other, slack)) return;
          meet = true;
          if (!facing || axis >= 0) return;
          for (let k = 0; k < 3; k++) growInto(growth, cornerRoot[3 * own + k], normal, 2 * slack);
        },
      );
      if (meet || liesIn(positions, a, b) || liesIn(positions, b, a)) pairs.push(i, j);
    }
  }
  for (const [root, axes] of held) {
    const way = growth.get(root);
    if (way) for (let k = 0; k < 3; k++) if ((axes >> k) & 1) way[k] = 0;
  }
  return { pairs, growth };
}

/** True when a corner of `inner` is in the metal of `outer`, for two bodies whose surfaces do not meet. */
function liesIn(positions: Float32Array, inner: Solid, outer: Solid): boolean {
  if (
    inner.bounds.min.some((low, k) => low < outer.bounds.min[k] || inner.bounds.max[k] > outer.bounds.max[k])
  ) {
    return false;
  }
  const at = 9 * inner.triangles[0];
  return windingNumber(positions, outer.triangles, positions[at], positions[at + 1], positions[at + 2]) > 0.5;
}

/** The axis along which all six corners have one coordinate in common to the last bit, or -1. */
function sharedAxis(positions: Float32Array, a: number, b: number): number {
  for (let k = 0; k < 3; k++) {
    const value = positions[9 * a + k];
    let same = true;
    for (let i = 0; i < 9 && same; i += 3) {
      same = positions[9 * a + i + k] === value && positions[9 * b + i + k] === value;
    }
    if (same) return k;
  }
  return -1;
}

function growInto(
  growth: Map<number, [number, number, number]>,
  root: number,
  normal: readonly number[],
  by: number,
): void {
  const way = growth.get(root) ?? [0, 0, 0];
  const missing = by - (way[0] * normal[0] + way[1] * normal[1] + way[2] * normal[2]);
  if (missing > 0) for (let k = 0; k < 3; k++) way[k] += missing * normal[k];
  growth.set(root, way);
}

function unitNormal(positions: Float32Array, t: number): [number, number, number] {
  const i = 9 * t;
  const u = [0, 1, 2].map((k) => positions[i + 3 + k] - positions[i + k]);
  const v = [0, 1, 2].map((k) => positions[i + 6 + k] - positions[i + k]);
  const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  const length = Math.hypot(n[0], n[1], n[2]) || 1;
  return [n[0] / length, n[1] / length, n[2] / length];
}
