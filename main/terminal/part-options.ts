import { COVERAGE_BITS } from '../../core/faces/coverage-flags.ts';
import type { Part } from '../../core/job/job.ts';
import type { SourceSurface } from '../../core/job/prepare-part.ts';
import { applyRepairs } from '../../core/mesh/apply-repairs.ts';
import type { CutPolygon } from '../../core/mesh/fill-gaps.ts';
import { paintedCoverage, sourceOf } from '../../core/mesh/mesh-triangles.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import { asSource } from '../../core/mesh/source-triangles.ts';
import { openSurfaces } from '../../core/mesh/thicken-sheet.ts';
import { proposeWeld } from '../../core/mesh/weld-gaps.ts';
import type { ModelNote } from '../../core/model-files/loaded-model.ts';
import { success, type Result } from '../../core/result.ts';
import { NOTHING_TO_THICKEN, NOTHING_TO_WELD, sheetFailure, sheetInPart } from './input-words.ts';
import type { ThreadedFaceOption } from './thread-list.ts';

/** What the command line says of a part's surface. */
export interface SurfaceOptions {
  /** Joins torn edges as proposed, in every part that has any. */
  readonly weld?: boolean | undefined;
  /** How thick a sheet drawn without thickness is, in every part that has one. */
  readonly sheetM?: number | undefined;
  readonly fuse?: boolean | undefined;
  /** … and what only the facets of curved faces keep apart, see near-bodies.ts. */
  readonly fuseCurved?: boolean | undefined;
  /** Depth of the lowest point below the level of the bath. */
  readonly waterlineM?: number | undefined;
}

/** Adds whole faces to what the part's coverage masks already. */
export function withMask(part: Part, geometry: PartGeometry, rows: readonly number[]): Part {
  if (rows.length === 0) return part;
  const wanted = new Set(rows);
  const triangles: number[] = [];
  geometry.faces.faceOfTriangle.forEach((row, t) => {
    if (wanted.has(row)) triangles.push(t);
  });
  const coverage = paintedCoverage(
    geometry,
    part.coverage,
    triangles,
    (bits) => (bits & COVERAGE_BITS.show) | COVERAGE_BITS.mask,
  );
  return { ...part, coverage };
}

/** Fusing and level of the command line win over the job's. */
export function withOptions(part: Part, options: SurfaceOptions): Part {
  const surface = { ...part.surface };
  if (options.fuse) surface.fuseGap ??= 0;
  if (options.waterlineM !== undefined) surface.immersedDepth = options.waterlineM / metresPerUnit(part.unit);
  return { ...part, surface };
}

export function withThreads(
  part: Part,
  geometry: PartGeometry,
  threads: readonly ThreadedFaceOption[],
): Part {
  if (threads.length === 0) return part;
  const added = threads.map(({ row, designation }) => ({
    triangle: sourceOf(geometry, geometry.faces.firstTriangle[row]!),
    designation,
  }));
  return { ...part, surface: { ...part.surface, threads: [...added, ...part.surface.threads] } };
}

interface RepairedPart {
  readonly part: Part;
  readonly notes: ModelNote[];
}

/**
 * The part with the repairs that the command line asks for, and what there is to say where nothing was to be repaired. A thickness
 * that what is open here cannot be given is a failure: without it half of the area would be missing.
 */
export function withRepairs(
  part: Part,
  source: SourceSurface,
  { weld, sheetM }: SurfaceOptions,
  cutPolygon: CutPolygon,
): Result<RepairedPart> {
  const welded = weld ? withWeld(part, source, cutPolygon) : part;
  const notes = weld && welded === part ? [NOTHING_TO_WELD] : [];
  if (sheetM === undefined) return success({ part: welded, notes });
  const thick = withSheet(welded, source, sheetM, cutPolygon);
  return thick.ok ? success({ part: thick.value.part, notes: [...notes, ...thick.value.notes] }) : thick;
}

/**
 * Accepts the weld that would be proposed in the window, after the part's own repairs. A part without torn edges that
 * lie near each other stays as it is.
 */
function withWeld(part: Part, source: SourceSurface, cutPolygon: CutPolygon): Part {
  const { repairs } = part.surface;
  const proposed = proposeWeld(applyRepairs(asSource(source.positions), repairs, cutPolygon));
  if (!proposed) return part;
  const weld = { kind: 'weld', distance: proposed.distance } as const;
  return { ...part, surface: { ...part.surface, repairs: [...repairs, weld] } };
}

/** Gives the part's open surfaces a thickness, after its own repairs. A part that has none stays as it is. */
function withSheet(
  part: Part,
  source: SourceSurface,
  thicknessM: number,
  cutPolygon: CutPolygon,
): Result<RepairedPart> {
  const { repairs } = part.surface;
  const open = openSurfaces(applyRepairs(asSource(source.positions), repairs, cutPolygon).positions);
  const left = open.turned + open.crowded;
  if (open.thin === 0) {
    return left === 0 ? success({ part, notes: [NOTHING_TO_THICKEN] }) : sheetFailure(open);
  }
  const thicken = { kind: 'thicken', thickness: thicknessM / metresPerUnit(part.unit) } as const;
  return success({
    part: { ...part, surface: { ...part.surface, repairs: [...repairs, thicken] } },
    notes: left === 0 ? [] : [sheetInPart(open)],
  });
}
