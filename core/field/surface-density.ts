import type { CutBath } from './cut-cells.ts';
import type { CellState } from './cell-system.ts';
import { densityFor } from './electrode-law.ts';

/** Current density over one body's surface. */
export interface SurfaceDensity {
  /** Per triangle, mean over its conducting part, A/m²; 0 where none of it conducts. */
  readonly triangleAPerM2: Float32Array;
  /** Per triangle, the area that conducts, m². */
  readonly conductingM2: Float64Array;
  readonly areaM2: number;
  readonly currentA: number;
  readonly leastAPerM2: number;
  readonly mostAPerM2: number;
  /** Conducting surface that no liquid reaches (two bodies touching, a closed hollow), m². */
  readonly dryM2: number;
  /** Pieces in order of density: density and the share of area at or below it. */
  readonly sortedAPerM2: Float64Array;
  readonly areaShare: Float64Array;
}

/**
 * Densities of one body's triangles from the potentials. A patch's own density belongs to the point of the surface
 * nearest to its cell's middle; for each piece the potential is first carried along the surface to the piece, with the
 * gradient the neighbouring cells show. The result is then scaled, by little, so that it sums to the patches' current.
 */
export function surfaceDensity(
  cut: CutBath,
  state: CellState,
  body: number,
  triangleCount: number,
): SurfaceDensity {
  const { system, pieces } = cut;
  const metalV = state.potentialV[system.size];
  const { anodes, laws } = system;
  const mine: number[] = [];
  let dryM2 = 0;
  for (let p = 0; p < pieces.count; p++) {
    if (pieces.body[p] !== body) continue;
    if (pieces.patch[p] < 0) dryM2 += pieces.areaM2[p];
    else mine.push(p);
  }
  const density = new Float64Array(mine.length);
  const gradient = new Float64Array(3);
  const middle = new Float64Array(3);
  let summedA = 0;
  for (let m = 0; m < mine.length; m++) {
    const p = mine[m];
    const patch = pieces.patch[p];
    const cell = anodes.cell[patch];
    cellMiddleInto(middle, cut, cell);
    gradientInto(gradient, cut, state.potentialV, cell);
    let distance = 0;
    for (let n = 0; n < 3; n++) {
      distance += (middle[n] - pieces.centroidM[p * 3 + n]) * pieces.normal[p * 3 + n];
    }
    let phi = state.potentialV[cell];
    for (let n = 0; n < 3; n++) {
      const along = pieces.centroidM[p * 3 + n] + distance * pieces.normal[p * 3 + n] - middle[n];
      phi += gradient[n] * along;
    }
    density[m] = densityFor(laws[anodes.law[patch]], metalV - phi, anodes.layerOhmM2[patch]);
    summedA += density[m] * pieces.areaM2[p];
  }
  let currentA = 0;
  for (let q = 0; q < anodes.count; q++) {
    if (cut.anodeOwner[q] === body) currentA += state.anodeAPerM2[q] * anodes.areaM2[q];
  }
  const scale = summedA > 0 && currentA > 0 ? currentA / summedA : 1;
  const triangleA = new Float64Array(triangleCount);
  const conductingM2 = new Float64Array(triangleCount);
  let areaM2 = 0;
  for (let m = 0; m < mine.length; m++) {
    density[m] *= scale;
    const t = pieces.triangle[mine[m]];
    const area = pieces.areaM2[mine[m]];
    triangleA[t] += density[m] * area;
    conductingM2[t] += area;
    areaM2 += area;
  }
  const order = Uint32Array.from(mine.keys()).sort((a, b) => density[a] - density[b]);
  const areaShare = new Float64Array(mine.length);
  let run = 0;
  for (let m = 0; m < order.length; m++) {
    run += pieces.areaM2[mine[order[m]]];
    areaShare[m] = run / areaM2;
  }
  const sortedAPerM2 = Float64Array.from(order, (m) => density[m]);
  return {
    triangleAPerM2: Float32Array.from(triangleA, (a, t) => (conductingM2[t] > 0 ? a / conductingM2[t] : 0)),
    conductingM2,
    areaM2,
    currentA,
    leastAPerM2: sortedAPerM2.length > 0 ? sortedAPerM2[0] : 0,
    mostAPerM2: sortedAPerM2.length > 0 ? sortedAPerM2[sortedAPerM2.length - 1] : 0,
    dryM2,
    sortedAPerM2,
    areaShare,
  };
}

function cellMiddleInto(out: Float64Array, cut: CutBath, cell: number): void {
  const { nx, ny, plane } = cut.system;
  const at = cell - plane;
  const i = at % nx;
  const j = ((at - i) / nx) % ny;
  const k = (at - i - nx * j) / plane;
  const { x, y, z } = cut.lines;
  out[0] = (x[i] + x[i + 1]) / 2;
  out[1] = (y[j] + y[j + 1]) / 2;
  out[2] = (z[k] + z[k + 1]) / 2;
}

/** Slope of the potential along each axis at a cell: across both open neighbours, towards the only open one, or 0. */
function gradientInto(out: Float64Array, cut: CutBath, phi: Float64Array, cell: number): void {
  const { nx, ny, plane, gx, gy, gz } = cut.system;
  const at = cell - plane;
  const i = at % nx;
  const j = ((at - i) / nx) % ny;
  const k = (at - i - nx * j) / plane;
  out[0] = slope(phi, cell, 1, gx, cut.lines.x, i);
  out[1] = slope(phi, cell, nx, gy, cut.lines.y, j);
  out[2] = slope(phi, cell, plane, gz, cut.lines.z, k);
}

function slope(
  phi: Float64Array,
  cell: number,
  stride: number,
  g: Float32Array,
  lines: Float64Array,
  i: number,
): number {
  const up = g[cell] > 0;
  const down = g[cell - stride] > 0;
  const toUp = up ? (lines[i + 2] - lines[i]) / 2 : 0;
  const toDown = down ? (lines[i + 1] - lines[i - 1]) / 2 : 0;
  if (up && down) return (phi[cell + stride] - phi[cell - stride]) / (toUp + toDown);
  if (up) return (phi[cell + stride] - phi[cell]) / toUp;
  if (down) return (phi[cell] - phi[cell - stride]) / toDown;
  return 0;
}
