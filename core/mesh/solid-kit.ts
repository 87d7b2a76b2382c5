/**
 * What fusing and drawing bodies need of manifold-3d, by shape alone and in its own names: core knows no WebAssembly.
 * The worker and the terminal hand in the library, started. A Solid lives in the library's memory until `delete`.
 */
export interface SolidMesh {
  readonly numProp: number;
  /** `numProp` floats a vertex, the first three its place. */
  readonly vertProperties: Float32Array;
  readonly triVerts: Uint32Array;
  /** Per triangle, kept through unions. */
  readonly faceID: Uint32Array;
}

export type Vec3 = [number, number, number];

export interface SolidHandle {
  getMesh(): SolidMesh;
  status(): string;
  isEmpty(): boolean;
  translate(by: Vec3): SolidHandle;
  /** Degrees about x, then y, then z. */
  rotate(degrees: Vec3): SolidHandle;
  delete(): void;
}

export interface OutlineHandle {
  extrude(height: number): SolidHandle;
  revolve(segments: number): SolidHandle;
  delete(): void;
}

export interface SolidKit {
  readonly Mesh: new (options: {
    numProp: number;
    vertProperties: Float32Array;
    triVerts: Uint32Array;
    faceID?: Uint32Array;
  }) => SolidMesh;
  readonly Manifold: {
    ofMesh(mesh: SolidMesh): SolidHandle;
    union(solids: readonly SolidHandle[]): SolidHandle;
    difference(solids: readonly SolidHandle[]): SolidHandle;
    hull(solids: readonly (SolidHandle | Vec3)[]): SolidHandle;
    cube(size: Vec3): SolidHandle;
    cylinder(height: number, radiusLow: number, radiusHigh: number, segments: number): SolidHandle;
  };
  readonly CrossSection: {
    ofPolygons(polygons: [number, number][][]): OutlineHandle;
  };
}
