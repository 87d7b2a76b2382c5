/**
 * Volume by the divergence theorem: sum over triangles of a · (b × c) / 6, seen from `from`. True for a closed mesh,
 * negative where that mesh is inside out. `from` near the part keeps the terms small.
 *
 * @param positions 9 floats a triangle
 * @param groups per triangle: the group to add it to; without it everything is one group
 * @returns one volume a group
 */
export function signedVolumes(
  positions: Float32Array,
  from: readonly [number, number, number],
  groups?: { readonly of: Uint32Array; readonly count: number },
): Float64Array {
  if (positions.length % 9 !== 0) {
    throw new RangeError(`positions: length must be a multiple of 9, got ${positions.length}`);
  }
  const volumes = new Float64Array(groups?.count ?? 1);
  const [ox, oy, oz] = from;
  const of = groups?.of;
  let sum = 0;
  for (let t = 0, i = 0; i < positions.length; t++, i += 9) {
    const ax = positions[i] - ox;
    const ay = positions[i + 1] - oy;
    const az = positions[i + 2] - oz;
    const bx = positions[i + 3] - ox;
    const by = positions[i + 4] - oy;
    const bz = positions[i + 5] - oz;
    const cx = positions[i + 6] - ox;
    const cy = positions[i + 7] - oy;
    const cz = positions[i + 8] - oz;
    const six = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
    if (of) volumes[of[t]] += six;
    else sum += six;
  }
  if (!of) volumes[0] = sum;
  for (let g = 0; g < volumes.length; g++) volumes[g] /= 6;
  return volumes;
}
