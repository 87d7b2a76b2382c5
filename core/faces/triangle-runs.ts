/**
 * Sets of triangles as runs: flat pairs start, end (end not included), ascending, apart from each other. What the
 * user says about the surface is saved like this, so that it outlives any other way of splitting it into faces.
 */
export type TriangleRuns = readonly number[];

/** Runs of the triangles for which `member(triangle)` holds, out of 0 … triangleCount − 1. */
export function runsWhere(triangleCount: number, member: (triangle: number) => boolean): number[] {
  const runs: number[] = [];
  let start = -1;
  for (let triangle = 0; triangle < triangleCount; triangle++) {
    if (member(triangle)) {
      if (start < 0) start = triangle;
    } else if (start >= 0) {
      runs.push(start, triangle);
      start = -1;
    }
  }
  if (start >= 0) runs.push(start, triangleCount);
  return runs;
}

/** Sets `bit` in `flags` for each triangle of the runs; runs beyond the end of `flags` are cut. Changes `flags`. */
export function flagRunsInto(flags: Uint8Array, runs: TriangleRuns, bit: number): void {
  for (let i = 0; i + 1 < runs.length; i += 2) {
    const end = Math.min(runs[i + 1]!, flags.length);
    for (let triangle = runs[i]!; triangle < end; triangle++) flags[triangle] = flags[triangle]! | bit;
  }
}

/** True when the pairs are whole, ascending, apart, and end at or before `triangleCount`. */
export function runsAreSound(runs: TriangleRuns, triangleCount: number): boolean {
  if (runs.length % 2 !== 0) return false;
  let before = -1;
  for (let i = 0; i < runs.length; i += 2) {
    if (runs[i]! <= before || runs[i + 1]! <= runs[i]! || runs[i + 1]! > triangleCount) return false;
    before = runs[i + 1]!;
  }
  return true;
}
