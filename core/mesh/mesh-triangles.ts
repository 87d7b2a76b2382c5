import type { Part } from '../job/job.ts';
import { COVERAGE_BITS, coverageFlags, treatmentOf } from '../faces/coverage-flags.ts';
import { nearestOnTriangle } from '../field/nearest-on-triangle.ts';
import { runsOfFaces } from '../faces/runs-of-faces.ts';
import { flagRunsInto, runsWhere } from '../faces/triangle-runs.ts';
import type { PartGeometry } from './part-geometry.ts';
import { pieceAt, piecesOfSources, placeOfPiece } from './source-pieces.ts';

/** To and fro between the triangles of a part's mesh and those of its file, which a job's masks and pins refer to. */
type Sourced = Pick<PartGeometry, 'triangleCount' | 'sourceTriangle'>;
/** As much of a mesh as it takes to tell the pieces of a triangle apart. */
type Pieced = Sourced & Pick<PartGeometry, 'positions' | 'graph'>;

/** The file's triangle behind one of the mesh, or the number of the gap that it helps to fill. */
export function sourceOf({ sourceTriangle }: Sourced, triangle: number): number {
  return sourceTriangle ? sourceTriangle[triangle] : triangle;
}

/**
 * The mesh's piece of the file's triangle `source` that is nearest to `at`, or undefined where nothing of it is left.
 */
export function triangleFrom(
  geometry: Sourced & Pick<PartGeometry, 'positions'>,
  source: number,
  at?: readonly [number, number, number],
): number | undefined {
  const { sourceTriangle, triangleCount, positions } = geometry;
  if (!sourceTriangle) return source < triangleCount ? source : undefined;
  let best: number | undefined;
  let best2 = Infinity;
  for (let t = 0; t < triangleCount; t++) {
    if (sourceTriangle[t] !== source) continue;
    if (!at) return t;
    const near = nearestOnTriangle(Float64Array.from(positions.subarray(9 * t, 9 * t + 9)), 0, at);
    const d2 = (near[0] - at[0]) ** 2 + (near[1] - at[1]) ** 2 + (near[2] - at[2]) ** 2;
    if (d2 < best2) {
      best = t;
      best2 = d2;
    }
  }
  return best;
}

/** One byte a triangle of the mesh, see faces/coverage-flags.ts. */
export function coverageOn(geometry: Pieced, coverage: Part['coverage']): Uint8Array {
  const { sourceTriangle, triangleCount } = geometry;
  if (!sourceTriangle) return coverageFlags(triangleCount, coverage);
  const ofSource = coverageFlags(sourceCount(geometry, coverage), coverage);
  const flags = new Uint8Array(triangleCount);
  for (let t = 0; t < triangleCount; t++) flags[t] = ofSource[sourceTriangle[t]];
  const { pieces: said = [] } = coverage;
  if (said.length === 0) return flags;
  const pieces = piecesOfSources(geometry, new Set(said.map(({ triangle }) => triangle)));
  for (const { triangle, at, treatment, show } of said) {
    const found = pieces.get(triangle) ?? [];
    // A triangle that is whole again is treated as a whole.
    if (found.length < 2) continue;
    const bits = (treatment === 'coat' ? 0 : COVERAGE_BITS[treatment]) | (show ? COVERAGE_BITS.show : 0);
    for (const t of pieceAt(geometry, found, at) ?? []) flags[t] = bits;
  }
  return flags;
}

/**
 * As `changedCoverage`, but pieces of a triangle that fusing cut up are told apart: a wall across a plate leaves two
 * faces, of which one can be masked. What is said of a piece holds while its triangle is cut up; whole again, the triangle
 * is what it was before it was cut.
 */
export function paintedCoverage(
  geometry: Pieced & Pick<PartGeometry, 'triangleAreas'>,
  coverage: Part['coverage'],
  triangles: readonly number[],
  change: (bits: number) => number,
): Part['coverage'] {
  const painted = new Set(triangles.map((t) => sourceOf(geometry, t)));
  const others = (coverage.pieces ?? []).filter(({ triangle }) => !painted.has(triangle));
  const flags = coverageOn(geometry, coverage);
  for (const t of triangles) flags[t] = change(flags[t]);
  const pieces = piecesOfSources(geometry, painted);
  const ofSource = coverageFlags(sourceCount(geometry, coverage), coverage);
  if (!geometry.sourceTriangle) ofSource.set(flags);
  const said = [...others];
  for (const [source, found] of pieces) {
    const bits = found.map((piece) => flags[piece[0]]);
    if (bits.every((own) => own === bits[0])) {
      ofSource[source] = bits[0];
      continue;
    }
    found.forEach((piece, i) => {
      if (bits[i] === ofSource[source]) return;
      const at = placeOfPiece(geometry, piece, geometry.triangleAreas);
      const show = (bits[i] & COVERAGE_BITS.show) !== 0;
      said.push({ triangle: source, at, treatment: treatmentOf(bits[i]), show });
    });
  }
  return { ...runsOf(ofSource), ...(said.length > 0 ? { pieces: said } : {}) };
}

function runsOf(flags: Uint8Array): Pick<Part['coverage'], 'mask' | 'contact' | 'show'> {
  const runs = (bit: number): number[] => runsWhere(flags.length, (t) => (flags[t] & bit) !== 0);
  return {
    mask: runs(COVERAGE_BITS.mask),
    contact: runs(COVERAGE_BITS.contact),
    show: runs(COVERAGE_BITS.show),
  };
}

/**
 * The coverage after `change` was applied to the bits of every triangle behind `triangles` of the mesh. What is said
 * about triangles that a repair left out stays said.
 */
export function changedCoverage(
  geometry: Sourced,
  coverage: Part['coverage'],
  triangles: Iterable<number>,
  change: (bits: number) => number,
): Part['coverage'] {
  const count = sourceCount(geometry, coverage);
  const flags = coverageFlags(count, coverage);
  const done = new Uint8Array(count);
  for (const t of triangles) {
    const source = sourceOf(geometry, t);
    if (done[source] === 1) continue;
    done[source] = 1;
    flags[source] = change(flags[source]);
  }
  return runsOf(flags);
}

/** The file's triangles behind faces of the mesh, as runs to keep in a job: they outlive repairs and fusing. */
export function sourceRunsOfFaces(
  geometry: Sourced & Pick<PartGeometry, 'faces'>,
  rows: Iterable<number>,
): number[] {
  const { sourceTriangle, faces } = geometry;
  if (!sourceTriangle) return runsOfFaces(faces, rows);
  const wanted = new Set(rows);
  const behind = new Set<number>();
  let most = 0;
  faces.faceOfTriangle.forEach((row, t) => {
    if (!wanted.has(row)) return;
    behind.add(sourceTriangle[t]);
    most = Math.max(most, sourceTriangle[t] + 1);
  });
  return runsWhere(most, (source) => behind.has(source));
}

/** Faces of the mesh that hold something of the file's triangles in `runs`, in order. */
export function facesOfSourceRuns(
  geometry: Sourced & Pick<PartGeometry, 'faces'>,
  runs: readonly number[],
): number[] {
  const { sourceTriangle, triangleCount, faces } = geometry;
  const rows = new Set<number>();
  if (sourceTriangle) {
    const named = new Uint8Array(runs.at(-1) ?? 0);
    flagRunsInto(named, runs, 1);
    sourceTriangle.forEach((source, t) => {
      if (named[source] === 1) rows.add(faces.faceOfTriangle[t]);
    });
  } else {
    // The file's are the mesh's own: no need to look at all of them.
    for (let i = 0; i + 1 < runs.length; i += 2) {
      const end = Math.min(runs[i + 1], triangleCount);
      for (let t = runs[i]; t < end; t++) rows.add(faces.faceOfTriangle[t]);
    }
  }
  return [...rows].sort((a, b) => a - b);
}

/** More than any source that the mesh or the coverage knows of. */
function sourceCount({ sourceTriangle, triangleCount }: Sourced, coverage: Part['coverage']): number {
  if (!sourceTriangle) return triangleCount;
  let count = 0;
  for (const source of sourceTriangle) if (source >= count) count = source + 1;
  return Math.max(count, ...[coverage.mask, coverage.contact, coverage.show].map((runs) => runs.at(-1) ?? 0));
}

/** The part's pins on its mesh: `triangle` is the mesh's. Those whose triangle is gone are left out. */
export function pinsOn(
  geometry: Sourced & Pick<PartGeometry, 'positions'>,
  contacts: Part['contacts'],
): Part['contacts'] {
  return contacts.flatMap((contact) => {
    const triangle = triangleFrom(geometry, contact.triangle, contact.at);
    if (triangle === undefined) return [];
    return triangle === contact.triangle ? [contact] : [{ ...contact, triangle }];
  });
}
