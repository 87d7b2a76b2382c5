import { nextSide } from '../mesh/half-edges.ts';
import { FacetChains } from './facet-chains.ts';
import type { FacetCorners } from './facet-corners.ts';

/** Values a facet: origin, two directions in its plane and its normal (12), then a quadratic over it (6). */
export const STRIDE = 18;
export const QUADRATIC = 12;

/** A frame for each of many facets, in one array: `o` is where a facet's values begin, STRIDE times its row. */
export class FacetFrames {
  /** See NO_GRAPH. */
  static readonly KEPT = new FacetFrames(FacetChains.KEPT, 0);

  readonly values: Float64Array;
  private readonly chains: FacetChains;

  constructor(chains: FacetChains, rows: number) {
    this.chains = chains;
    this.values = new Float64Array(STRIDE * rows);
  }

  /**
   * Origin at the centroid of the facet at hand and its mean normal, first direction along its longest smooth edge, or any in its plane
   * for facets that stay flat; false when it has no area.
   */
  place(root: number, o: number, { places, longest, longestAt }: FacetCorners): boolean {
    const { next, graph } = this.chains;
    const { triangleAreas, normals } = graph;
    const { values } = this;
    values[o + 3] = values[o + 7] = values[o + 11] = 1;
    let area = 0;
    let nx = 0;
    let ny = 0;
    let nz = 0;
    let x = 0;
    let y = 0;
    let z = 0;
    for (let t = root, p = 0; t >= 0; t = next[t], p += 9) {
      const a = triangleAreas[t];
      area += a;
      nx += a * normals[3 * t];
      ny += a * normals[3 * t + 1];
      nz += a * normals[3 * t + 2];
      x = x + a * places[p] + a * places[p + 3] + a * places[p + 6];
      y = y + a * places[p + 1] + a * places[p + 4] + a * places[p + 7];
      z = z + a * places[p + 2] + a * places[p + 5] + a * places[p + 8];
    }
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(area > 0) || !(size > 0)) return false;
    values[o] = x / (3 * area);
    values[o + 1] = y / (3 * area);
    values[o + 2] = z / (3 * area);
    nx /= size;
    ny /= size;
    nz /= size;
    values[o + 9] = nx;
    values[o + 10] = ny;
    values[o + 11] = nz;
    if (longest >= 0) {
      const a = 3 * longestAt;
      const b = 3 * nextSide(longestAt);
      if (
        this.layFrame(
          o,
          nx,
          ny,
          nz,
          places[b] - places[a],
          places[b + 1] - places[a + 1],
          places[b + 2] - places[a + 2],
        )
      )
        return true;
    }
    const steep = Math.abs(nx) > 0.6;
    this.layFrame(o, nx, ny, nz, steep ? 0 : 1, steep ? 1 : 0, 0);
    return true;
  }

  /** First direction along x y z as near as the plane lets it, the second across it; false where that is none. */
  private layFrame(o: number, nx: number, ny: number, nz: number, x: number, y: number, z: number): boolean {
    const { values } = this;
    const dot = x * nx + y * ny + z * nz;
    let ux = x - dot * nx;
    let uy = y - dot * ny;
    let uz = z - dot * nz;
    const length = Math.sqrt(ux * ux + uy * uy + uz * uz);
    if (!(length > 0)) return false;
    ux /= length;
    uy /= length;
    uz /= length;
    values[o + 3] = ux;
    values[o + 4] = uy;
    values[o + 5] = uz;
    values[o + 6] = ny * uz - nz * uy;
    values[o + 7] = nz * ux - nx * uz;
    values[o + 8] = nx * uy - ny * ux;
    return true;
  }
}
