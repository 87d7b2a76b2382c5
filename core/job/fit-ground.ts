import { FACE_KINDS } from '../faces/face-table.ts';
import { faceWidth } from '../finish/face-width.ts';
import { roundFeatures, type RoundFeature } from '../finish/round-features.ts';
import { metresPerUnit } from '../mesh/part-extents.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { Part } from './job.ts';

/** What does not follow from the job alone, kept as long as mesh and unit stay the same. */
export interface FitGround {
  readonly geometry: PartGeometry;
  readonly scale: number;
  readonly rounds: readonly RoundFeature[];
  /** Shorter side of each flat face that was asked for, m. */
  readonly widths: Map<number, number>;
}

export function fitGround(part: Pick<Part, 'unit'>, geometry: PartGeometry): FitGround {
  const scale = metresPerUnit(part.unit);
  return { geometry, scale, rounds: roundFeatures(geometry, scale), widths: new Map() };
}

/** Shorter side of a flat face, m. */
export function flatWidthM(ground: FitGround, row: number): number {
  const known = ground.widths.get(row);
  if (known !== undefined) return known;
  const { geometry, scale } = ground;
  const flat = FACE_KINDS[geometry.faces.kind[row]!] === 'plane';
  // Any other shape is covered by tape or lacquer as wide as a square of its area.
  const width = flat ? faceWidth(geometry, row) : Math.sqrt(geometry.faces.area[row]!);
  ground.widths.set(row, width * scale);
  return width * scale;
}
