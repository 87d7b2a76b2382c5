import type { StepKernel } from './step-kernel.ts';

/**
 * What the readers need of the library's loaders, by shape alone: core knows no three. The worker and the terminal
 * hand in three-stdlib's STLLoader, OBJLoader and PLYLoader and three's polygon cutter; all fit as they are.
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

export interface PlyLoaderLike {
  parse(data: ArrayBuffer): LoaderGeometry & { getIndex(): LoaderAttribute | null };
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
  readonly ply: PlyLoaderLike;
  /** Started only for a STEP file, see needsStepKernel: it is 23 MB. */
  readonly step?: StepKernel;
  /** Cuts a simple polygon, possibly with reentrant corners, into triangles of point numbers (three's ShapeUtils.triangulateShape, on Vector2). */
  readonly cutPolygon: (contour: readonly PlanePoint[]) => number[][];
}
