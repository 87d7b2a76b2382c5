/**
 * Areas of the triangles times the factor of their face: what the facets of a round face cut off, or what a thread adds
 * to a bore, spread evenly over the face, so that a mask over half of it takes half.
 *
 * @param factors one array a reason, each with one factor a face
 */
export function scaledAreas(
  triangleAreas: Float64Array,
  faceOfTriangle: Uint32Array,
  ...factors: readonly Float64Array[]
): Float64Array {
  if (faceOfTriangle.length !== triangleAreas.length) {
    throw new RangeError(
      `faceOfTriangle: ${faceOfTriangle.length} entries for ${triangleAreas.length} areas`,
    );
  }
  const together = factors.length > 0 ? factors[0].slice() : new Float64Array(0);
  for (const factor of factors.slice(1)) {
    if (factor.length !== together.length) {
      throw new RangeError(`factors: ${factor.length} and ${together.length} faces`);
    }
    for (let f = 0; f < factor.length; f++) together[f] *= factor[f];
  }
  if (factors.length === 0) return triangleAreas.slice();
  const out = new Float64Array(triangleAreas.length);
  for (let t = 0; t < out.length; t++) out[t] = triangleAreas[t] * together[faceOfTriangle[t]];
  return out;
}
