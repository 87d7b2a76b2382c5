import { densityFor, slopeAt, type ElectrodeLaw } from './electrode-law.ts';

/**
 * The discrete bath. One unknown a cell, its potential; one more for the metal all parts hang on. Cells lie x fastest,
 * then y, then z, with one empty plane before and one after, so that every neighbour has a place in the array: cell
 * (i, j, k) is at nx·ny + i + nx·(j + ny·k). `gx[c]` is the conductance (S) from cell c to the next one along x, zero at
 * the last; likewise gy, gz.
 */
export interface CellSystem {
  readonly conductivitySPerM: number;
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  /** Cells in one plane, also the place of the first cell. */
  readonly plane: number;
  /** Length of the cell arrays, both empty planes included. */
  readonly size: number;
  readonly gx: Float32Array;
  readonly gy: Float32Array;
  readonly gz: Float32Array;
  readonly anodes: SurfacePatches;
  readonly cathodes: SurfacePatches;
  readonly laws: readonly ElectrodeLaw[];
}

/** Pieces of conducting surface, each belonging to one cell. */
export interface SurfacePatches {
  readonly count: number;
  readonly cell: Int32Array;
  readonly areaM2: Float64Array;
  /** Resistance of the liquid from the cell's centre to the surface, Ω·m²; negative where the centre is behind it. */
  readonly layerOhmM2: Float64Array;
  /** Index into `laws`. */
  readonly law: Uint16Array;
}

/** Where the iteration stands: the potentials, the metal's last at index `size`, and each patch's density. */
export interface CellState {
  readonly potentialV: Float64Array;
  readonly anodeAPerM2: Float64Array;
  readonly cathodeAPerM2: Float64Array;
}

export function newState(system: CellSystem): CellState {
  return {
    potentialV: new Float64Array(system.size + 1),
    anodeAPerM2: new Float64Array(system.anodes.count),
    cathodeAPerM2: new Float64Array(system.cathodes.count),
  };
}

/**
 * Current that does not balance, per cell and at the metal: what flows in minus what flows out, A. Also brings the
 * patches' densities up to the potentials. `anodeSlope` and `cathodeSlope` receive d(current)/d(voltage) of each patch, S.
 * @returns Σ|imbalance| over all cells and the metal, A
 */
export function imbalanceInto(
  imbalance: Float64Array,
  system: CellSystem,
  state: CellState,
  totalCurrentA: number,
  anodeSlope: Float64Array,
  cathodeSlope: Float64Array,
): number {
  const { anodes, cathodes, laws, size } = system;
  const phi = state.potentialV;
  flowOutInto(imbalance, system, phi);
  for (let c = 0; c < size; c++) imbalance[c] = -imbalance[c];
  const metalV = phi[size];
  let anodeA = 0;
  for (let p = 0; p < anodes.count; p++) {
    const law = laws[anodes.law[p]];
    const layer = anodes.layerOhmM2[p];
    const j = densityFor(law, metalV - phi[anodes.cell[p]], layer);
    state.anodeAPerM2[p] = j;
    anodeSlope[p] = anodes.areaM2[p] / (slopeAt(law, j) + layer);
    imbalance[anodes.cell[p]] += anodes.areaM2[p] * j;
    anodeA += anodes.areaM2[p] * j;
  }
  for (let p = 0; p < cathodes.count; p++) {
    const law = laws[cathodes.law[p]];
    const layer = cathodes.layerOhmM2[p];
    const j = densityFor(law, phi[cathodes.cell[p]], layer);
    state.cathodeAPerM2[p] = j;
    cathodeSlope[p] = cathodes.areaM2[p] / (slopeAt(law, j) + layer);
    imbalance[cathodes.cell[p]] -= cathodes.areaM2[p] * j;
  }
  imbalance[size] = totalCurrentA - anodeA;
  let sum = Math.abs(imbalance[size]);
  for (let c = 0; c < size; c++) sum += Math.abs(imbalance[c]);
  return sum;
}

/** Current each cell sends to its neighbours, A, surfaces left out: Σ g·(φ_cell − φ_neighbour). */
export function flowOutInto(out: Float64Array, system: CellSystem, phi: Float64Array): void {
  const { gx, gy, gz, nx, plane, size } = system;
  out.fill(0);
  const end = size - plane;
  for (let c = plane; c < end; c++) {
    const v = phi[c];
    out[c] =
      gx[c - 1] * (v - phi[c - 1]) +
      gx[c] * (v - phi[c + 1]) +
      gy[c - nx] * (v - phi[c - nx]) +
      gy[c] * (v - phi[c + nx]) +
      gz[c - plane] * (v - phi[c - plane]) +
      gz[c] * (v - phi[c + plane]);
  }
}

/** The linearised system: neighbours' conductances, and each patch as a conductance to the metal or to the cathode. */
export interface LinearSystem {
  readonly cells: CellSystem;
  readonly anodeSlope: Float64Array;
  readonly cathodeSlope: Float64Array;
}

/** out = J·v for vectors with the metal last. @returns v·J·v */
export function applyInto(out: Float64Array, linear: LinearSystem, v: Float64Array): number {
  const { cells, anodeSlope, cathodeSlope } = linear;
  const { anodes, cathodes, size, plane, nx, gx, gy, gz } = cells;
  const end = size - plane;
  let product = 0;
  for (let c = plane; c < end; c++) {
    const x = v[c];
    const flow =
      gx[c - 1] * (x - v[c - 1]) +
      gx[c] * (x - v[c + 1]) +
      gy[c - nx] * (x - v[c - nx]) +
      gy[c] * (x - v[c + nx]) +
      gz[c - plane] * (x - v[c - plane]) +
      gz[c] * (x - v[c + plane]);
    out[c] = flow;
    product += x * flow;
  }
  const metal = v[size];
  let atMetal = 0;
  for (let p = 0; p < anodes.count; p++) {
    const c = anodes.cell[p];
    const flow = anodeSlope[p] * (v[c] - metal);
    out[c] += flow;
    atMetal -= flow;
    product += v[c] * flow;
  }
  for (let p = 0; p < cathodes.count; p++) {
    const c = cathodes.cell[p];
    const flow = cathodeSlope[p] * v[c];
    out[c] += flow;
    product += v[c] * flow;
  }
  out[size] = atMetal;
  return product + metal * atMetal;
}
