import { parseThread } from '../finish/parse-thread.ts';
import { threadArea, type ThreadArea } from '../finish/thread-area.ts';
import { threadedFace } from '../finish/threaded-face.ts';
import { triangleFrom } from '../mesh/mesh-triangles.ts';
import { metresPerUnit } from '../mesh/part-extents.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { cutAtWaterline } from '../mesh/waterline.ts';
import type { Result } from '../result.ts';
import type { Part } from './job.ts';

/** A cylinder the user marked as threaded. */
export interface ThreadMeasure {
  /** Its face's row, or undefined where the face is gone. */
  readonly row: number | undefined;
  /** The file's triangle that stands for it in the job. */
  readonly triangle: number;
  readonly designation: string;
  readonly area: Result<ThreadArea> | null;
}

/** Areas in model units squared. */
export interface TrueAreas {
  /** Per triangle what of it is in the bath, as drawn. */
  readonly wetted: Float64Array;
  /** What the areas of each face row are to be taken times: best, and the ends of the range. */
  readonly factors: { readonly best: Float64Array; readonly low: Float64Array; readonly high: Float64Array };
  /** Per face row, the whole face: above the level and in voids too. */
  readonly bestOfFace: Float64Array;
  readonly lowOfFace: Float64Array;
  readonly highOfFace: Float64Array;
  readonly threads: readonly ThreadMeasure[];
  /** Per face row, best, what of it is below the level. */
  readonly wettedOfFace: Float64Array;
  /** Left out because it hangs above the level. */
  readonly above: number;
  /** Height of the level along the part's up, model units; undefined where all of it is in the bath. */
  readonly level?: number;
}

/**
 * What the facets cut short is put back (unless the part is to be taken as meshed), threads take the place of their
 * plain cylinders, and what hangs above the level of the bath is left out.
 */
export function trueAreas(part: Part, geometry: PartGeometry): TrueAreas {
  const { faces, triangleAreas } = geometry;
  const { count, faceOfTriangle } = faces;
  const { facets } = geometry;
  const corrects = part.surface.facets === 'true' && facets !== undefined && !geometry.cad;
  const one = (): Float64Array => new Float64Array(count).fill(1);
  const over = (areas: Float64Array): Float64Array =>
    areas.map((area, f) => (faces.area[f] > 0 ? area / faces.area[f] : 1));
  const best = corrects ? facets.factorOfFace.slice() : one();
  const low = corrects ? over(facets.low) : one();
  const high = corrects ? over(facets.high) : one();
  const threads = threadsOf(part, geometry, best);
  for (const { row, area } of threads) {
    if (row === undefined || !area?.ok) continue;
    best[row] *= area.value.factor;
    low[row] *= Math.min(area.value.factor, area.value.factorLow);
    high[row] *= Math.max(area.value.factor, area.value.factorHigh);
  }
  for (let f = 0; f < count; f++) {
    low[f] = Math.min(low[f], best[f]);
    high[f] = Math.max(high[f], best[f]);
  }
  const ofFace = (factor: Float64Array): Float64Array => faces.area.map((area, f) => area * factor[f]);
  const factors = { best, low, high };
  const byFace = { bestOfFace: ofFace(best), lowOfFace: ofFace(low), highOfFace: ofFace(high), threads };
  const level = levelOf(part, geometry);
  if (level === undefined) {
    return { wetted: triangleAreas, factors, ...byFace, wettedOfFace: byFace.bestOfFace, above: 0 };
  }
  const { up } = part.attitude;
  const size = Math.hypot(...up);
  const point = up.map((value) => (value / size) * level) as [number, number, number];
  const cut = cutAtWaterline(geometry.positions, triangleAreas, geometry.closed, { up, point });
  let above = 0;
  const wettedOfFace = new Float64Array(count);
  for (let t = 0; t < triangleAreas.length; t++) {
    wettedOfFace[faceOfTriangle[t]] += cut.areaOfTriangle[t] * best[faceOfTriangle[t]];
    above += (triangleAreas[t] - cut.areaOfTriangle[t]) * best[faceOfTriangle[t]];
  }
  return {
    wetted: cut.areaOfTriangle,
    factors,
    ...byFace,
    wettedOfFace,
    above: Math.max(0, above),
    level,
  };
}

/** Height of the level along the part's up, or undefined where the part hangs in the bath whole. */
function levelOf({ attitude, surface }: Part, { positions }: PartGeometry): number | undefined {
  if (surface.immersedDepth === null) return undefined;
  const size = Math.hypot(...attitude.up);
  const [x, y, z] = attitude.up.map((value) => value / size);
  let lowest = Infinity;
  let highest = -Infinity;
  for (let i = 0; i < positions.length; i += 3) {
    const height = positions[i] * x + positions[i + 1] * y + positions[i + 2] * z;
    if (height < lowest) lowest = height;
    if (height > highest) highest = height;
  }
  const level = lowest + surface.immersedDepth;
  return level < highest ? level : undefined;
}

function threadsOf(part: Part, geometry: PartGeometry, facetFactor: Float64Array): ThreadMeasure[] {
  const { faces } = geometry;
  if (part.surface.threads.length === 0) return [];
  const corrected = faces.area.map((area, f) => area * facetFactor[f]);
  const taken = new Set<number>();
  return part.surface.threads.map(({ triangle, designation }): ThreadMeasure => {
    const t = triangleFrom(geometry, triangle);
    const row = t === undefined ? undefined : faces.faceOfTriangle[t];
    if (row === undefined || taken.has(row)) return { row: undefined, triangle, designation, area: null };
    taken.add(row);
    const cylinder = threadedFace(geometry, row, metresPerUnit(part.unit), corrected);
    if (!cylinder.ok) return { row, triangle, designation, area: cylinder };
    const limits = parseThread(designation, cylinder.value.kind);
    const area = limits.ok ? threadArea(cylinder.value, { limits: limits.value }) : limits;
    return { row, triangle, designation, area };
  });
}
