import type { CadFace, CadFaces } from '../faces/cad-faces.ts';
import type { Body } from '../mesh/mesh.ts';
import { surfaceArea } from '../mesh/surface-area.ts';
import { failure, success, type Result } from '../result.ts';
import type { ModelUnit } from '../job/job.ts';
import { MAX_TRIANGLES, type ModelNote, type ReportLoading } from './loaded-model.ts';
import { tooManyTriangles } from './read-binary-stl.ts';
import { scanStep, type StepText } from './scan-step.ts';
import type { KernelObject, KernelShape, StepKernel } from './step-kernel.ts';
import { statedUnit, stepNotes } from './step-notes.ts';
import { standInTriangle, stepSurface } from './step-surface.ts';

export interface StepModel {
  /** Millimetres: the kernel converts from whatever the file states. */
  readonly positions: Float32Array<ArrayBuffer>;
  readonly bodies: readonly Body[];
  readonly cad: CadFaces;
  /** False where the file states no length unit; its numbers are then taken as millimetres. */
  readonly unitIsStated: boolean;
  /** The one unit that the file states, where it is one of a model's. */
  readonly drawnIn?: ModelUnit;
  readonly notes: readonly ModelNote[];
}

/** Facets lie within a five-thousandth of the part's longest side of the true surface (0.04 mm on 200 mm) … */
const CHORD_SHARE = 2e-4;
/** … and turn by at most this from one to the next: 32 round a hole, however small. */
const TURN_RAD = 0.2;
/** A part that is larger than 10 km, in mm, or smaller than a nanometre is a damaged file. */
const LARGEST_MM = 1e7;
const SMALLEST_MM = 1e-6;
const MOST_FACES = 1_000_000;
const FILE = '/model.step';

/** Relative error of a face's area. The kernel's quick way is up to 3e-3 out on splines, 2e-4 on a plain disc. */
const AREA_PRECISION = 1e-6;
/** An area that differs from its facets' by more than this is looked at twice: coarse facets lose under a hundredth. */
const SUSPECT_SHARE = 0.02;
/** The mark that the kernel's mesher gives a face is its hash below this. */
const HASH_BOUND = 2 ** 31 - 1;

export interface DrawnFace {
  readonly face: CadFace;
  /** 9 floats a triangle, at least one. */
  readonly positions: Float32Array;
  /** False where the kernel could make no facets and one triangle stands in. */
  readonly whole: boolean;
}

/**
 * Reads a STEP file through the OpenCascade kernel: every solid becomes a body, every face of the CAD a face with its
 * exact area. Failures: those of scanStep, `step-damaged`, `no-triangles`, `too-large`, `no-size`,
 * `too-many-triangles`, `step-kernel-failed`. After that last one the kernel must not be used again.
 */
export function readStep(
  bytes: Uint8Array,
  stem: string,
  kernel: StepKernel,
  onProgress: ReportLoading = () => {},
): Result<StepModel> {
  onProgress(0, 'looking over the STEP text');
  const text = scanStep(bytes);
  if (!text.ok) return text;
  const kept: KernelObject[] = [];
  const keep = <T extends KernelObject>(object: T): T => {
    kept.push(object);
    return object;
  };
  try {
    return build(bytes, stem, kernel, text.value, keep, onProgress);
  } catch (error) {
    return kernelFailed(kernel, error);
  } finally {
    try {
      for (const object of kept.reverse()) object.delete();
      kernel.FS.unlink(FILE);
    } catch {
      // A kernel that broke off inside has nothing left to tidy.
    }
  }
}

function kernelFailed(kernel: StepKernel, error: unknown): Result<never> {
  let reason = error instanceof Error ? error.message : '';
  if (!(error instanceof Error)) {
    try {
      reason = kernel.getExceptionMessage(error as never).join(': ');
    } catch {
      reason = String(error);
    }
  }
  if (/memory|OOM|alloc/i.test(reason)) {
    return failure(
      'out-of-memory',
      `The STEP file needs more memory than the CAD kernel has (${reason}).`,
      'Export the part alone, without the rest of its assembly, or as STL.',
    );
  }
  return failure(
    'step-kernel-failed',
    `The CAD kernel broke off while it read the STEP file (${reason}).`,
    'Export the part again as STEP AP214 or AP242, or as STL.',
  );
}

function build(
  bytes: Uint8Array,
  stem: string,
  kernel: StepKernel,
  text: StepText,
  keep: <T extends KernelObject>(object: T) => T,
  onProgress: ReportLoading,
): Result<StepModel> {
  onProgress(0.05, 'reading STEP');
  kernel.FS.writeFile(FILE, bytes);
  const reader = keep(new kernel.STEPControl_Reader());
  const status = String(reader.ReadFile(FILE));
  const roots = status === 'IFSelect_RetDone' ? reader.NbRootsForTransfer() : 0;
  if (roots === 0) {
    return failure(
      'step-damaged',
      status === 'IFSelect_RetDone'
        ? 'The STEP file describes no shape.'
        : 'The CAD kernel could not make sense of the STEP file.',
      'Export the part again as a solid, as STEP AP214 or AP242.',
    );
  }
  let lost = 0;
  for (let root = 1; root <= roots; root++) {
    onProgress(0.2 + (0.35 * (root - 1)) / roots, 'building the solids');
    const range = keep(new kernel.Message_ProgressRange());
    if (!reader.TransferRoot(root, range)) lost++;
  }
  const shape = keep(reader.OneShape());
  if (shape.IsNull()) return noSurface();
  const size = longestSide(kernel, shape);
  if (Number.isNaN(size)) return noSurface();
  if (!(size < LARGEST_MM)) {
    return failure(
      'too-large',
      `The shape in the STEP file is ${Number.isFinite(size) ? `${size.toExponential(1)} mm` : 'endlessly'} large, which no part is.`,
      'The file is damaged, or its unit is wrong: export the part again.',
    );
  }
  if (size < SMALLEST_MM) {
    return failure('no-size', 'The shape in the STEP file has no size.', 'Export the part again as a solid.');
  }
  const chordTolerance = Number((size * CHORD_SHARE).toPrecision(2));

  onProgress(0.55, 'measuring faces');
  const { TopAbs_SOLID, TopAbs_FACE } = kernel.TopAbs_ShapeEnum;
  const solids = shapesIn(kernel, shape, TopAbs_SOLID).map(keep);
  const loose = shapesIn(kernel, shape, TopAbs_FACE, TopAbs_SOLID).map(keep);
  const groups = [
    ...solids.map((solid, i) => ({ name: solids.length > 1 ? `solid ${i + 1}` : stem, shapes: [solid] })),
    ...(loose.length > 0 ? [{ name: solids.length > 0 ? 'loose surfaces' : stem, shapes: loose }] : []),
  ];
  const bodies: Body[] = [];
  const drawn: DrawnFace[] = [];
  let triangles = 0;
  let faceTotal = 0;
  for (const [index, group] of groups.entries()) {
    onProgress(0.55 + (0.4 * index) / groups.length, 'measuring faces');
    const firstTriangle = triangles;
    for (const part of group.shapes) {
      const faces = drawFaces(kernel, part, chordTolerance, MOST_FACES - faceTotal);
      if (!faces) {
        return failure(
          'step-too-many-faces',
          `The STEP file holds more than ${MOST_FACES} faces.`,
          'Export the part alone, without the rest of its assembly.',
        );
      }
      faceTotal += faces.length;
      for (const face of faces) {
        drawn.push(face);
        triangles += face.positions.length / 9;
      }
      if (triangles > MAX_TRIANGLES) return tooManyTriangles(triangles);
    }
    if (triangles > firstTriangle) {
      bodies.push({ name: group.name, firstTriangle, triangleCount: triangles - firstTriangle });
    }
  }
  if (triangles === 0) return noSurface();
  onProgress(0.95, 'collecting');
  const positions = new Float32Array(triangles * 9);
  const faceOfTriangle = new Uint32Array(triangles);
  let at = 0;
  drawn.forEach((face, row) => {
    positions.set(face.positions, at * 9);
    faceOfTriangle.fill(row, at, at + face.positions.length / 9);
    at += face.positions.length / 9;
  });
  return success({
    positions,
    bodies,
    cad: { faceOfTriangle, faces: drawn.map(({ face }) => face), chordTolerance },
    unitIsStated: text.metresPerUnit.length > 0,
    ...statedUnit(text),
    notes: stepNotes(text, drawn, lost, loose.length, solids.length),
  });
}

function noSurface(): Result<never> {
  return failure(
    'no-triangles',
    'The STEP file holds no surface.',
    'Export the part again as a solid; an assembly file that only names other files holds no shape of its own.',
  );
}

function longestSide(kernel: StepKernel, shape: KernelShape): number {
  const box = new kernel.Bnd_Box();
  try {
    kernel.BRepBndLib.Add(shape, box, false);
    if (box.IsVoid()) return NaN;
    const [low, high] = [box.CornerMin(), box.CornerMax()];
    const size = Math.max(high.X() - low.X(), high.Y() - low.Y(), high.Z() - low.Z());
    low.delete();
    high.delete();
    return size;
  } finally {
    box.delete();
  }
}

function shapesIn(kernel: StepKernel, shape: KernelShape, find: unknown, avoid?: unknown): KernelShape[] {
  const explorer =
    avoid === undefined
      ? new kernel.TopExp_Explorer(shape, find)
      : new kernel.TopExp_Explorer(shape, find, avoid);
  const found: KernelShape[] = [];
  for (; explorer.More(); explorer.Next()) found.push(explorer.Current());
  explorer.delete();
  return found;
}

/** Every face of one solid (or of one face alone) with its exact area and its facets; null above `most`. */
function drawFaces(
  kernel: StepKernel,
  shape: KernelShape,
  chordTolerance: number,
  most: number,
): DrawnFace[] | null {
  const shapes = shapesIn(kernel, shape, kernel.TopAbs_ShapeEnum.TopAbs_FACE);
  try {
    if (shapes.length > most) return null;
    const facets = facetsByFace(kernel, shape, chordTolerance, shapes);
    return shapes.map((item, row): DrawnFace => {
      const face = kernel.TopoDS.Face(item);
      try {
        const facet = facets[row]!;
        const area = faceArea(kernel, face, facet);
        return {
          face: { ...stepSurface(kernel, face), areaModelUnits2: area },
          positions: facet.length > 0 ? facet : standInTriangle(kernel, face),
          whole: facet.length > 0,
        };
      } finally {
        face.delete();
      }
    });
  } finally {
    for (const item of shapes) item.delete();
  }
}

/** Area by the kernel's adaptive integration; where that is far from the facets, the nearer of its two ways. */
function faceArea(kernel: StepKernel, face: KernelShape, facets: Float32Array): number {
  const properties = new kernel.GProp_GProps();
  kernel.BRepGProp.SurfaceProperties(face, properties, AREA_PRECISION, false);
  // A face that is turned over in its solid can come out negative.
  const area = Math.abs(properties.Mass());
  properties.delete();
  const drawn = facets.length > 0 ? surfaceArea(facets) : area;
  if (Math.abs(area - drawn) <= SUSPECT_SHARE * drawn) return area;
  const quick = new kernel.GProp_GProps();
  kernel.BRepGProp.SurfaceProperties(face, quick, false, false);
  const other = Math.abs(quick.Mass());
  quick.delete();
  return Math.abs(other - drawn) < Math.abs(area - drawn) || !Number.isFinite(area) ? other : area;
}

/** The facets of a solid, one array a face in the order of `faces`; empty for a face the kernel could not mesh. */
function facetsByFace(
  kernel: StepKernel,
  shape: KernelShape,
  chordTolerance: number,
  faces: readonly KernelShape[],
): Float32Array[] {
  const marks = faces.map((face) => kernel.ReplicadShapeHasher.HashCode(face, HASH_BOUND));
  const facets = kernel.ReplicadMeshExtractor.extract(shape, chordTolerance, TURN_RAD, true);
  try {
    const { buffer } = kernel.wasmMemory;
    const vertices = new Float32Array(buffer, facets.getVerticesPtr(), facets.getVerticesSize());
    const corners = new Uint32Array(buffer, facets.getTrianglesPtr(), facets.getTrianglesSize());
    const groups = new Int32Array(buffer, facets.getFaceGroupsPtr(), facets.getFaceGroupsSize());
    // The mesher goes through the faces in the same order and leaves out those it has nothing for.
    let group = 0;
    const found = marks.map((mark) => {
      if (groups[3 * group + 2] !== mark) return new Float32Array(0);
      const first = groups[3 * group]!;
      const positions = new Float32Array(groups[3 * group + 1]! * 3);
      let filled = 0;
      for (let i = first; i < first + positions.length / 3; i += 3) {
        for (let k = 0; k < 9; k++)
          positions[filled + k] = vertices[corners[i + Math.floor(k / 3)]! * 3 + (k % 3)]!;
        // At the tip of a cone or the pole of a ball the mesher leaves triangles with two corners in one place.
        if (!hasTwinCorners(positions, filled)) filled += 9;
      }
      group++;
      return positions.slice(0, filled);
    });
    if (group * 3 !== groups.length) {
      throw new Error(`${groups.length / 3} faces were meshed, ${group} of them known`);
    }
    return found;
  } finally {
    facets.delete();
  }
}

function hasTwinCorners(p: Float32Array, at: number): boolean {
  const same = (a: number, b: number): boolean =>
    p[at + a] === p[at + b] && p[at + a + 1] === p[at + b + 1] && p[at + a + 2] === p[at + b + 2];
  return same(0, 3) || same(3, 6) || same(6, 0);
}
