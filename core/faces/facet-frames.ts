import { nextSide } from '../mesh/half-edges.ts';
import { FacetChains } from './facet-chains.ts';

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

  /** Origin at the facet's centroid and its mean normal; false when it has no area. Directions any way round. */
  place(root: number, o: number): boolean {
    const { triangleAreas, normals } = this.chains.graph;
    const { vertices, triangles } = this.chains.graph.indexed;
    const { values } = this;
    values[o + 3] = values[o + 7] = values[o + 11] = 1;
    let area = 0;
    let nx = 0;
    let ny = 0;
    let nz = 0;
    let x = 0;
    let y = 0;
    let z = 0;
    for (let t = root; t >= 0; t = this.chains.next[t]) {
      const a = triangleAreas[t];
      area += a;
      nx += a * normals[3 * t];
      ny += a * normals[3 * t + 1];
      nz += a * normals[3 * t + 2];
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        const v = 3 * triangles[h];
        x += a * vertices[v];
        y += a * vertices[v + 1];
        z += a * vertices[v + 2];
      }
    }
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (!(area > 0) || !(size > 0)) return false;
    values[o] = x / (3 * area);
    values[o + 1] = y / (3 * area);
    values[o + 2] = z / (3 * area);
    values[o + 9] = nx / size;
    values[o + 10] = ny / size;
    values[o + 11] = nz / size;
    // Any direction in the plane, for facets that stay flat.
    const steep = Math.abs(values[o + 9]) > 0.6;
    this.layFrame(o, steep ? 0 : 1, steep ? 1 : 0, 0);
    return true;
  }

  /** Turns the facet's first direction along a half-edge. */
  turnFrame(o: number, h: number): void {
    const { vertices, triangles } = this.chains.graph.indexed;
    const a = 3 * triangles[h];
    const b = 3 * triangles[nextSide(h)];
    this.layFrame(
      o,
      vertices[b] - vertices[a],
      vertices[b + 1] - vertices[a + 1],
      vertices[b + 2] - vertices[a + 2],
    );
  }

  /** First direction along x y z as near as the plane lets it, the second across it. */
  private layFrame(o: number, x: number, y: number, z: number): void {
    const { values } = this;
    const nx = values[o + 9];
    const ny = values[o + 10];
    const nz = values[o + 11];
    const dot = x * nx + y * ny + z * nz;
    const ux = x - dot * nx;
    const uy = y - dot * ny;
    const uz = z - dot * nz;
    const length = Math.sqrt(ux * ux + uy * uy + uz * uz);
    if (!(length > 0)) return;
    values[o + 3] = ux / length;
    values[o + 4] = uy / length;
    values[o + 5] = uz / length;
    values[o + 6] = ny * values[o + 5] - nz * values[o + 4];
    values[o + 7] = nz * values[o + 3] - nx * values[o + 5];
    values[o + 8] = nx * values[o + 4] - ny * values[o + 3];
  }

  /** A vertex's place along the direction kept at `d`, from the origin kept at `o`. */
  along(d: number, o: number, vertex: number): number {
    const { values } = this;
    const { vertices } = this.chains.graph.indexed;
    const v = 3 * vertex;
    return (
      (vertices[v] - values[o]) * values[d] +
      (vertices[v + 1] - values[o + 1]) * values[d + 1] +
      (vertices[v + 2] - values[o + 2]) * values[d + 2]
    );
  }
}
