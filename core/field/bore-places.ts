import { faceRow } from '../faces/face-table.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { roundFeatures } from '../finish/round-features.ts';
import { dot, scale, unit, type Vec3 } from '../racking/vec3.ts';
import type { Bore } from './bore-depth.ts';

/** A whole round hole of a part, with its place. Model units where the name carries none. */
export interface PlacedBore extends Bore {
  readonly faceIds: readonly string[];
  /** Rows of the part's face table. */
  readonly rows: readonly number[];
  /** Middle of the mouth; of a through hole the one at the axis' lower end. */
  readonly mouth: Vec3;
  /** Unit vector from the mouth into the hole. */
  readonly inward: Vec3;
  readonly length: number;
}

/** The part's whole round holes, largest first. Its far end is where another face closes it. */
export function placeBores(
  part: Pick<PartGeometry, 'faces' | 'graph' | 'triangleAreas' | 'positions' | 'closed'>,
  metresPerUnit: number,
): PlacedBore[] {
  const { faces, positions } = part;
  const holes = roundFeatures(part, metresPerUnit).filter(({ shape }) => shape === 'hole');
  if (holes.length === 0) return [];
  const rowsOf = holes.map(({ faceIds }) => faceIds.map((id) => faceRow(id)!));
  const holeOfRow = new Map(rowsOf.flatMap((rows, hole) => rows.map((row) => [row, hole] as const)));
  const axes = rowsOf.map(([row]): Vec3 => unit(triple(faces.axis, row!)));
  const low = holes.map(() => Infinity);
  const high = holes.map(() => -Infinity);
  faces.faceOfTriangle.forEach((row, t) => {
    const hole = holeOfRow.get(row);
    if (hole === undefined) return;
    for (let c = 0; c < 3; c++) {
      const along = dot(triple(positions, 3 * t + c), axes[hole]!);
      if (along < low[hole]!) low[hole] = along;
      if (along > high[hole]!) high[hole] = along;
    }
  });
  return holes.map(({ faceIds, diameterM, lengthM, reach }, hole): PlacedBore => {
    const through = reach === 'through';
    const rows = rowsOf[hole]!;
    const axis = axes[hole]!;
    const onAxis = triple(faces.point, rows[0]!);
    const at = (along: number): Vec3 => {
      const shift = along - dot(onAxis, axis);
      return [onAxis[0] + shift * axis[0], onAxis[1] + shift * axis[1], onAxis[2] + shift * axis[2]];
    };
    const fromHigh = !through && isClosedAtLow(part, rows, axis, (low[hole]! + high[hole]!) / 2);
    return {
      faceIds,
      rows,
      radiusM: diameterM / 2,
      depthM: lengthM,
      through,
      mouth: at(fromHigh ? high[hole]! : low[hole]!),
      inward: fromHigh ? scale(axis, -1) : axis,
      length: high[hole]! - low[hole]!,
    };
  });
}

const triple = (values: ArrayLike<number>, index: number): Vec3 => [
  values[3 * index]!,
  values[3 * index + 1]!,
  values[3 * index + 2]!,
];

/** The floor (or shoulder) meets the wall in a concave edge; its own point says at which end. */
function isClosedAtLow(
  { faces }: Pick<PartGeometry, 'faces'>,
  rows: readonly number[],
  axis: Vec3,
  middle: number,
): boolean {
  const { a, b, turnRad } = faces.borders;
  for (let i = 0; i < a.length; i++) {
    const inside = rows.includes(a[i]!);
    if (inside === rows.includes(b[i]!) || turnRad[i]! >= 0) continue;
    return dot(triple(faces.point, inside ? b[i]! : a[i]!), axis) < middle;
  }
  return false;
}
