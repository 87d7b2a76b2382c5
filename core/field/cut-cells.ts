import type { Bath, FieldBody } from './bath-bodies.ts';
import type { CellSystem } from './cell-system.ts';
import { cutSurface, type CutPieces } from './conducting-pieces.ts';
import type { ElectrodeLaw } from './electrode-law.ts';
import type { GridLines } from './grid-levels.ts';
import { openingsOfPlanes } from './plane-openings.ts';
import {
  closeUnreached,
  collectPieces,
  collectSheet,
  PatchCollector,
  type CutGrid,
} from './surface-patches.ts';
import { shutThinWalls } from './thin-walls.ts';

/**
 * From triangles to the discrete bath: finite volumes cut by the true surface.
 *
 * Each cell that holds liquid carries one potential, at the middle of the whole cell even where that lies behind the
 * surface. Between two cells flows κ · (open area of their common face) · Δφ / distance of the middles; open areas and
 * the surface in each cell are exact, from the triangles. A surface of layer voltage U(j) passes its true area times the
 * density j that solves U(j) + (d/κ)·j = φ_metal − φ_cell, d being the distance of the middle from the surface along its
 * normal, negative behind it: the flux is taken where the surface is, not where the grid is, which is what makes the
 * scheme second order (the symmetric cut-cell form of Ng, Min and Gibou, J. Comput. Phys. 228 (2009) 8807, with the
 * Robin term of Bochkov and Gibou, J. Comput. Phys. 376 (2019) 1156).
 *
 * Why this one. Stairs of whole cells are first order at best and count up to half as much area again on a slope. Flux
 * interpolation to the faces' centroids (Johansen and Colella) is second order too, but its matrix is not symmetric,
 * needs a neighbourhood at every cut cell and breaks in narrow bores; here the matrix stays a network of conductances:
 * symmetric, charge conserved to rounding, seven points, fit for conjugate gradients. Cut finite elements are as good
 * but take 27 points.
 *
 * Where the surface layer is so thin that a middle behind the surface would give a negative resistance (only in reference
 * problems without kinetics), the patch is handed to the next cell along its normal. Walls thinner than a cell: see
 * thin-walls.ts. Bores and slots narrower than a cell need nothing: their openings and their surface are exact, which
 * makes them the one-dimensional pores they are.
 */
export interface CutBath {
  readonly system: CellSystem;
  readonly lines: GridLines;
  /** Names and patches' owners: bodies first, wall cathodes after them. */
  readonly owners: readonly string[];
  readonly anodeOwner: Int32Array;
  readonly cathodeOwner: Int32Array;
  readonly pieces: CutPieces;
  /** Largest unclosed height met, as a share of a row: 0 for closed bodies. */
  readonly leak: number;
}

/**
 * @param mapped index of the body that the grid is made for; the other anodes may lie in cells too wide for their bores and
 *   edges, and take the current of all their surface all the same
 */
export function cutBath(bath: Bath, lines: GridLines, mapped?: number): CutBath {
  const axes = [lines.x, lines.y, lines.z] as const;
  const nx = axes[0].length - 1;
  const ny = axes[1].length - 1;
  const nz = axes[2].length - 1;
  const plane = nx * ny;
  const size = plane * (nz + 2);
  const kappa = bath.conductivitySPerM;
  if (!(kappa > 0)) throw new RangeError(`cutBath: conductivitySPerM is ${kappa}`);
  const joined = joinBodies(bath.bodies);
  const g = { x: new Float32Array(size), y: new Float32Array(size), z: new Float32Array(size) };
  const leak = fillConductances(g, joined.triangles, axes, joined.vessels, kappa);
  const grid: CutGrid = {
    nx,
    ny,
    nz,
    plane,
    size,
    axes,
    gx: g.x,
    gy: g.y,
    gz: g.z,
    kappa,
    cutOff: new Uint8Array(size),
  };
  const { surface, pieces } = cutSurface(bath.bodies, joined.triangles, joined.first, axes);
  const walls = shutThinWalls(grid, surface);
  const laws: ElectrodeLaw[] = [];
  const lawOfBody = bath.bodies.map((body) => (body.law ? laws.push(body.law) - 1 : -1));
  const cathodes = new PatchCollector();
  const anodes = new PatchCollector();
  collectPieces(cathodes, 'cathode', bath.bodies, pieces, grid, walls, lawOfBody);
  bath.wallCathodes.forEach((sheet, n) => {
    const law = laws.push(sheet.law) - 1;
    collectSheet(cathodes, sheet, bath.bodies.length + n, grid, law);
  });
  closeUnreached(grid, cathodes.cells);
  collectPieces(anodes, 'anode', bath.bodies, pieces, grid, walls, lawOfBody);
  const anodePatches = anodes.patches(kappa);
  wholeAreasInto(anodePatches.areaM2, anodes.owners, pieces, mapped);
  return {
    system: {
      conductivitySPerM: kappa,
      nx,
      ny,
      nz,
      plane,
      size,
      gx: grid.gx,
      gy: grid.gy,
      gz: grid.gz,
      anodes: anodePatches,
      cathodes: cathodes.patches(kappa),
      laws,
    },
    lines,
    owners: [...bath.bodies.map((body) => body.name), ...bath.wallCathodes.map((sheet) => sheet.name)],
    anodeOwner: Int32Array.from(anodes.owners),
    cathodeOwner: Int32Array.from(cathodes.owners),
    pieces,
    leak,
  };
}

/**
 * Spreads the surface of each body that found no liquid over its patches. On a coarse grid a narrow bore has none, and its
 * body would take less of the current than it does, the mapped one more.
 */
function wholeAreasInto(
  areaM2: Float64Array,
  owners: readonly number[],
  pieces: CutPieces,
  mapped: number | undefined,
): void {
  const all = new Map<number, number>();
  const wet = new Map<number, number>();
  for (let p = 0; p < pieces.count; p++) {
    const body = pieces.body[p];
    all.set(body, (all.get(body) ?? 0) + pieces.areaM2[p]);
    if (pieces.patch[p] >= 0) wet.set(body, (wet.get(body) ?? 0) + pieces.areaM2[p]);
  }
  for (let patch = 0; patch < areaM2.length; patch++) {
    const body = owners[patch];
    if (body !== mapped) areaM2[patch] *= all.get(body)! / wet.get(body)!;
  }
}

/** All bodies' triangles, a vessel's turned round so that every normal points into the liquid. */
function joinBodies(bodies: readonly FieldBody[]) {
  const first: number[] = [];
  let total = 0;
  let vessels = 0;
  for (const body of bodies) {
    if (body.positionsM.length % 9 !== 0) {
      throw new RangeError(
        `cutBath: positionsM of ${body.name} has ${body.positionsM.length} numbers, not nine a triangle`,
      );
    }
    if (body.role !== 'insulator' && !body.law) throw new RangeError(`cutBath: ${body.name} has no law`);
    first.push(total);
    total += body.positionsM.length / 9;
    if (body.holdsBath) vessels++;
  }
  const triangles = new Float64Array(total * 9);
  bodies.forEach((body, b) => {
    const to = first[b] * 9;
    triangles.set(body.positionsM, to);
    if (!body.holdsBath) return;
    for (let t = to; t < to + body.positionsM.length; t += 9) {
      for (let n = 0; n < 3; n++) {
        const x = triangles[t + 3 + n];
        triangles[t + 3 + n] = triangles[t + 6 + n];
        triangles[t + 6 + n] = x;
      }
    }
  });
  return { triangles, first, vessels };
}

function fillConductances(
  g: { x: Float32Array; y: Float32Array; z: Float32Array },
  triangles: Float64Array,
  axes: CutGrid['axes'],
  vessels: number,
  kappa: number,
): number {
  const [lx, ly, lz] = axes;
  const nx = lx.length - 1;
  const ny = ly.length - 1;
  const nz = lz.length - 1;
  const plane = nx * ny;
  const dx = sizes(lx);
  const dy = sizes(ly);
  const dz = sizes(lz);
  const apart = (lines: Float64Array, p: number) => (lines[p + 1] - lines[p - 1]) / 2;
  const leakX = openingsOfPlanes(triangles, 0, axes, vessels, {
    onPlane: (p, open) => {
      const per = kappa / apart(lx, p);
      for (let k = 0; k < nz; k++) {
        for (let j = 0; j < ny; j++) {
          g.x[plane + p - 1 + nx * (j + ny * k)] = per * open[k * ny + j] * dy[j] * dz[k];
        }
      }
    },
  });
  const leakY = openingsOfPlanes(triangles, 1, axes, vessels, {
    onPlane: (p, open) => {
      const per = kappa / apart(ly, p);
      for (let k = 0; k < nz; k++) {
        const row = plane + nx * (p - 1 + ny * k);
        for (let i = 0; i < nx; i++) g.y[row + i] = per * open[i * nz + k] * dz[k] * dx[i];
      }
    },
  });
  const leakZ = openingsOfPlanes(triangles, 2, axes, vessels, {
    onPlane: (p, open) => {
      const per = kappa / apart(lz, p);
      for (let j = 0; j < ny; j++) {
        const row = plane + nx * (j + ny * (p - 1));
        for (let i = 0; i < nx; i++) g.z[row + i] = per * open[j * nx + i] * dx[i] * dy[j];
      }
    },
  });
  return Math.max(leakX, leakY, leakZ);
}

function sizes(lines: Float64Array): Float64Array {
  return Float64Array.from({ length: lines.length - 1 }, (_, i) => lines[i + 1] - lines[i]);
}
