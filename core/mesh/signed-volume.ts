/** Per triangle its group. */
interface Groups {
  readonly of: Uint32Array;
  readonly count: number;
}

/**
 * Volume by the divergence theorem: sum over triangles of a · (b × c) / 6, seen from `from`. True for a closed mesh,
 * negative where that mesh is inside out. `from` near the part keeps the terms small.
 *
 * @param positions 9 floats a triangle
 * @returns one volume a group
 */
export function signedVolumes(
  positions: Float32Array,
  from: readonly [number, number, number],
  groups: Groups,
): Float64Array {
  return volumeAndParts(positions, from, groups).parts;
}

/** The same, and the volume of all triangles together, added up in their own order; without groups there are no parts. */
export function volumeAndParts(
  positions: Float32Array,
  from: readonly [number, number, number],
  groups?: Groups,
): { readonly volume: number; readonly parts: Float64Array } {
  if (positions.length % 9 !== 0) {
    throw new RangeError(`positions: length must be a multiple of 9, got ${positions.length}`);
  }
  const parts = new Float64Array(groups?.count ?? 0);
  const [x, y, z] = from;
  const sum = groups ? addUpInto(parts, groups.of, positions, x, y, z) : sumOf(positions, x, y, z);
  for (let g = 0; g < parts.length; g++) parts[g] /= 6;
  return { volume: sum / 6, parts };
}

/** Six times the volumes: added to `parts` by group, the sum of all returned. */
function addUpInto(
  parts: Float64Array,
  of: Uint32Array,
  positions: Float32Array,
  ox: number,
  oy: number,
  oz: number,
): number {
  let sum = 0;
  for (let t = 0; t < of.length;) {
    // Triangles of a group mostly come in runs.
    const group = of[t];
    let part = parts[group];
    for (; t < of.length && of[t] === group; t++) {
      const six = sixTimes(positions, 9 * t, ox, oy, oz);
      sum += six;
      part += six;
    }
    parts[group] = part;
  }
  return sum;
}

/** The same of all triangles together. */
function sumOf(positions: Float32Array, ox: number, oy: number, oz: number): number {
  let sum = 0;
  for (let i = 0; i < positions.length; i += 9) sum += sixTimes(positions, i, ox, oy, oz);
  return sum;
}

function sixTimes(positions: Float32Array, i: number, ox: number, oy: number, oz: number): number {
  const ax = positions[i] - ox;
  const ay = positions[i + 1] - oy;
  const az = positions[i + 2] - oz;
  const bx = positions[i + 3] - ox;
  const by = positions[i + 4] - oy;
  const bz = positions[i + 5] - oz;
  const cx = positions[i + 6] - ox;
  const cy = positions[i + 7] - oy;
  const cz = positions[i + 8] - oz;
  return ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
}
