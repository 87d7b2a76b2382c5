/**
 * What the STEP reader needs of the OpenCascade kernel, by shape alone, in the kernel's own names: core knows no
 * WebAssembly. The worker and the terminal hand in replicad-opencascadejs, started; it fits as it is. Objects of the
 * kernel live in its own memory until `delete`.
 */
export interface KernelObject {
  delete(): void;
}

interface KernelVector extends KernelObject {
  X(): number;
  Y(): number;
  Z(): number;
}

export interface KernelShape extends KernelObject {
  IsNull(): boolean;
}

export interface KernelSurface extends KernelObject {
  /** The name of the kernel's surface type, as "GeomAbs_Plane". */
  GetType(): string;
  FirstUParameter(): number;
  FirstVParameter(): number;
  LastUParameter(): number;
  LastVParameter(): number;
  EvalD1(
    u: number,
    v: number,
  ): { readonly Point: KernelVector; readonly D1U: KernelVector; readonly D1V: KernelVector };
}

interface KernelExplorer extends KernelObject {
  More(): boolean;
  Next(): void;
  Current(): KernelShape;
}

interface KernelProperties extends KernelObject {
  Mass(): number;
}

interface KernelBox extends KernelObject {
  IsVoid(): boolean;
  CornerMin(): KernelVector;
  CornerMax(): KernelVector;
}

/** Addresses in the kernel's memory, and sizes in numbers, of one shape's facets. */
export interface KernelFacets extends KernelObject {
  /** float32, 3 a vertex. */
  getVerticesPtr(): number;
  getVerticesSize(): number;
  /** uint32, 3 a triangle. */
  getTrianglesPtr(): number;
  getTrianglesSize(): number;
  /** int32, 3 a face: first index among the triangles' numbers, how many, a mark of the face. */
  getFaceGroupsPtr(): number;
  getFaceGroupsSize(): number;
}

interface KernelReader extends KernelObject {
  ReadFile(name: string): unknown;
  NbRootsForTransfer(): number;
  TransferRoot(number: number, progress: KernelObject): boolean;
  OneShape(): KernelShape;
}

export interface StepKernel {
  readonly FS: {
    writeFile(name: string, bytes: Uint8Array): void;
    unlink(name: string): void;
  };
  /** `buffer` is another one after every growth. */
  readonly wasmMemory: { readonly buffer: ArrayBufferLike };
  readonly STEPControl_Reader: new () => KernelReader;
  readonly Message_ProgressRange: new () => KernelObject;
  readonly TopAbs_ShapeEnum: {
    readonly TopAbs_SOLID: unknown;
    readonly TopAbs_FACE: unknown;
  };
  readonly TopExp_Explorer: new (shape: KernelShape, find: unknown, avoid?: unknown) => KernelExplorer;
  readonly TopoDS: { Face(shape: KernelShape): KernelShape };
  readonly GProp_GProps: new () => KernelProperties;
  readonly BRepGProp: {
    SurfaceProperties(
      shape: KernelShape,
      into: KernelProperties,
      skipShared: boolean,
      useTriangulation: boolean,
    ): void;
    /** Refines until the relative error is below `precision`; gives the error reached. */
    SurfaceProperties(
      shape: KernelShape,
      into: KernelProperties,
      precision: number,
      skipShared: boolean,
    ): number;
  };
  readonly BRepAdaptor_Surface: new (face: KernelShape, restricted?: boolean) => KernelSurface;
  readonly Bnd_Box: new () => KernelBox;
  readonly BRepBndLib: { Add(shape: KernelShape, box: KernelBox, useTriangulation: boolean): void };
  readonly ReplicadMeshExtractor: {
    extract(
      shape: KernelShape,
      tolerance: number,
      angularTolerance: number,
      skipNormals: boolean,
    ): KernelFacets;
  };
  readonly ReplicadShapeHasher: { HashCode(shape: KernelShape, upperBound: number): number };
  /** Type and message of an exception that the kernel threw; it is no Error. */
  getExceptionMessage(exception: never): readonly string[];
}
