/**
 * What the readers need of the library's loaders, by shape alone: core knows no three. The worker and the terminal
 * hand in three-stdlib's STLLoader and OBJLoader and three's polygon cutter; all three fit as they are.
 */

export interface LoaderAttribute {
  readonly array: ArrayLike<number>;
}

export interface LoaderGeometry {
  getAttribute(name: string): LoaderAttribute | undefined;
}

export interface StlLoaderLike {
  parse(data: ArrayBuffer): LoaderGeometry;
}

export interface ObjNodeLike {
  readonly name: string;
  readonly children: readonly ObjNodeLike[];
  readonly geometry?: LoaderGeometry;
}

export interface ObjLoaderLike {
  parse(text: string): ObjNodeLike;
}

export interface PlanePoint {
  readonly x: number;
  readonly y: number;
}

export interface ModelLoaders {
  readonly stl: StlLoaderLike;
  readonly obj: ObjLoaderLike;
  /** Cuts a simple polygon, possibly with reentrant corners, into triangles of point numbers (three's ShapeUtils.triangulateShape, on Vector2). */
  readonly cutPolygon: (contour: readonly PlanePoint[]) => number[][];
}
