/**
 * The two forms of a mesh: loose triangles as a file gives them, `positions` with 9 floats a triangle (x y z of three
 * corners, counter-clockwise seen from outside), and the welded form below. Lengths are in the model's own units; `metresPerUnit` is applied where a figure is made,
 * so that confirming another unit never touches the mesh.
 */

/** Corners shared: `vertices` holds 3 floats a vertex, `triangles` 3 vertex numbers a triangle, same order as the soup it was welded from. */
export interface IndexedMesh {
  readonly vertices: Float32Array;
  readonly triangles: Uint32Array;
}

/** A named run of triangles: an OBJ object, an STL solid, a STEP solid. */
export interface Body {
  readonly name: string;
  readonly firstTriangle: number;
  readonly triangleCount: number;
}
