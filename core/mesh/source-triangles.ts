/**
 * What the user says about a part refers to the triangles of its file. A mesh that was repaired or fused carries, for
 * each of its triangles, the file's triangle it came from, so that masks and pins outlive every repair and its undo.
 */
export interface SourcedMesh {
  /** 9 floats a triangle. */
  readonly positions: Float32Array;
  /**
   * Per triangle: the triangle of the file it is or is a piece of. All that fills one gap has one number beyond those of the file,
   * that of the first side round the gap: see gapSource. The back of a sheet and the walls along its edges have numbers beyond those:
   * see backSource and rimSource.
   */
  readonly sourceTriangle: Uint32Array;
}

/**
 * The source of what fills a gap: the same whatever else is repaired, as long as the triangle beside it is there.
 *
 * @param side 0, 1 or 2: which side of `triangle`, a triangle of the file, lies on the gap
 */
export function gapSource(fileTriangles: number, triangle: number, side: number): number {
  return fileTriangles + 3 * triangle + side;
}

/** The source of a sheet's back, behind its triangle of source `front`. */
export function backSource(fileTriangles: number, front: number): number {
  return 4 * fileTriangles + front;
}

/** The source of the triangle in front of a sheet's back; undefined for all that is no back. */
export function frontOfBack(fileTriangles: number, source: number): number | undefined {
  return source >= 4 * fileTriangles && source < 8 * fileTriangles ? source - 4 * fileTriangles : undefined;
}

/** The source of the wall along an open edge: side 0, 1 or 2 of the triangle of source `front`. */
export function rimSource(fileTriangles: number, front: number, side: number): number {
  return 8 * fileTriangles + 3 * front + side;
}

/** The side of the file's triangles, 3 t + k, that a wall stands on; undefined for all that is no wall. */
export function rimOf(fileTriangles: number, source: number): number | undefined {
  return source >= 8 * fileTriangles ? source - 8 * fileTriangles : undefined;
}

/** The file's own triangles as they are. */
export function asSource(positions: Float32Array): SourcedMesh {
  if (positions.length % 9 !== 0) {
    throw new RangeError(`positions: length must be a multiple of 9, got ${positions.length}`);
  }
  const sourceTriangle = new Uint32Array(positions.length / 9);
  for (let t = 0; t < sourceTriangle.length; t++) sourceTriangle[t] = t;
  return { positions, sourceTriangle };
}

/** The triangles for which `keep` holds, in their order; the same mesh where that is all of them. */
export function keepTriangles(mesh: SourcedMesh, keep: (triangle: number) => boolean): SourcedMesh {
  const total = mesh.sourceTriangle.length;
  const kept = new Uint32Array(total);
  let count = 0;
  for (let t = 0; t < total; t++) if (keep(t)) kept[count++] = t;
  if (count === total) return mesh;
  const positions = new Float32Array(9 * count);
  const sourceTriangle = new Uint32Array(count);
  for (let i = 0; i < count; i++) {
    positions.set(mesh.positions.subarray(9 * kept[i], 9 * kept[i] + 9), 9 * i);
    sourceTriangle[i] = mesh.sourceTriangle[kept[i]];
  }
  return { positions, sourceTriangle };
}
