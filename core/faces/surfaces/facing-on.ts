import type { SurfaceGraph } from '../surface-graph.ts';
import { cornerInto, middleInto } from './corner-points.ts';
import type { Known } from './known-surface-of.ts';

/** Corners may be off the surface by this share of the depth of its facets: the fit goes by the face beside alone. */
const NEAR_SHARE = 0.1;
/** So many times as deep as the facets of that face may middles lie of what is drawn twice as coarsely. */
export const TWICE_AS_COARSE = 4.5;
/** Cosine from which on what has its corners on a surface looks the surface's way: an end of a cylinder does not. */
export const LEAST_FACING = 0.1;

/** Of the triangle at hand. */
const POINT = new Float64Array(3);
const NORMAL = new Float64Array(3);

/**
 * Cosine between the front of a triangle whose corners lie on a surface and the surface's own; undefined where they do not, or where its middle lies more
 * than so many times as deep under it as the facets of the face the surface is known by.
 *
 * @param inward that face shows its axis or centre
 */
export function facingOn(
  graph: SurfaceGraph,
  { surface, off, depth }: Known,
  inward: boolean,
  t: number,
  deeper: number,
): number | undefined {
  const near = Math.max(2 * off, 4 * graph.noise, NEAR_SHARE * depth);
  for (let h = 3 * t; h < 3 * t + 3; h++) {
    if (!(Math.abs(surface.off(cornerInto(POINT, graph, h))) < near)) return undefined;
  }
  middleInto(POINT, graph, t);
  if (!(Math.abs(surface.off(POINT)) < deeper * depth + near)) return undefined;
  surface.normalInto(NORMAL, POINT);
  const { normals } = graph;
  const cosine = NORMAL[0] * normals[3 * t] + NORMAL[1] * normals[3 * t + 1] + NORMAL[2] * normals[3 * t + 2];
  return inward ? -cosine : cosine;
}
