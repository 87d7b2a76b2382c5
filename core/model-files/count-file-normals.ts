import type { ModelNote } from './loaded-model.ts';

/** How the normals written in an STL file compare with the order of the corners, over many triangles. */
export interface NormalTally {
  triangles: number;
  /** Zero, or not a number. */
  missing: number;
  /** More than a right angle away from what the order of the corners says. */
  opposed: number;
}

/**
 * Adds the triangles of `positions` (9 floats each) to the tally. `normals` repeats the file's normal at each corner,
 * as the loader gives it. Triangles without area have no direction and are passed over.
 */
export function tallyNormalsInto(
  tally: NormalTally,
  positions: ArrayLike<number>,
  normals: ArrayLike<number>,
): void {
  if (normals.length !== positions.length) return;
  for (let i = 0; i + 8 < positions.length; i += 9) {
    tally.triangles++;
    const nx = normals[i]!;
    const ny = normals[i + 1]!;
    const nz = normals[i + 2]!;
    const length = nx * nx + ny * ny + nz * nz;
    if (!(length > 0 && length < Infinity)) {
      tally.missing++;
      continue;
    }
    const ax = positions[i]!;
    const ay = positions[i + 1]!;
    const az = positions[i + 2]!;
    const ux = positions[i + 3]! - ax;
    const uy = positions[i + 4]! - ay;
    const uz = positions[i + 5]! - az;
    const vx = positions[i + 6]! - ax;
    const vy = positions[i + 7]! - ay;
    const vz = positions[i + 8]! - az;
    const dot = (uy * vz - uz * vy) * nx + (uz * vx - ux * vz) * ny + (ux * vy - uy * vx) * nz;
    if (dot < 0) tally.opposed++;
  }
}

/** What to say about them: the program goes by the order of the corners alone. */
export function notesOnNormals(tally: NormalTally): ModelNote[] {
  const notes: ModelNote[] = [];
  if (tally.opposed > 0) {
    notes.push({
      code: 'stl-normals-opposed',
      level: 'note',
      message: `${tally.opposed} of ${tally.triangles} normals in the file point against the order of their corners; the order is used.`,
      remedy: 'Nothing to do if the part looks right; otherwise export it again.',
    });
  }
  if (tally.missing > 0) {
    notes.push({
      code: 'stl-normals-missing',
      level: 'note',
      message: `${tally.missing} of ${tally.triangles} normals in the file are missing or zero; they are not needed.`,
      remedy: 'Nothing to do.',
    });
  }
  return notes;
}
