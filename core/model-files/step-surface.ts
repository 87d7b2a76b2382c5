import type { CadFace } from '../faces/cad-faces.ts';
import type { FaceKind } from '../faces/face-table.ts';
import type { KernelShape, KernelSurface, StepKernel } from './step-kernel.ts';

type Vector = [number, number, number];

const KINDS: Readonly<Record<string, FaceKind>> = {
  GeomAbs_Plane: 'plane',
  GeomAbs_Cylinder: 'cylinder',
  GeomAbs_Cone: 'cone',
  GeomAbs_Sphere: 'sphere',
  GeomAbs_Torus: 'torus',
};

/**
 * Kind, size and place of a CAD face. The kernel's build does not carry cones and tori across to JavaScript, but every
 * one of its elementary surfaces is parametrised in a fixed way (u turns about the axis; v runs along the ruling or
 * round the pipe), so that two points half a turn apart with their derivatives give all there is to know, exactly.
 */
export function stepSurface(kernel: StepKernel, face: KernelShape): Omit<CadFace, 'areaModelUnits2'> {
  const surface = new kernel.BRepAdaptor_Surface(face, true);
  try {
    const kind = KINDS[surface.GetType()] ?? 'free';
    if (kind === 'free') return { kind, size: 0, ringRadius: 0, axis: [0, 0, 0], point: [0, 0, 0] };
    if (kind === 'plane') {
      const { point, alongU, alongV } = at(surface, 0, 0);
      return { kind, size: 0, ringRadius: 0, axis: unit(cross(alongU, alongV)), point };
    }
    // Where a cone's ruling has passed its tip, or a sphere at a pole, u still turns: v is taken where the face is.
    const v = kind === 'cone' ? surface.FirstVParameter() : 0;
    const here = at(surface, 0, v);
    const there = at(surface, Math.PI, v);
    const middle = here.point.map((value, k) => (value + there.point[k]!) / 2) as Vector;
    const reach = length(minus(here.point, there.point)) / 2;
    if (kind === 'cylinder') {
      return { kind, size: reach, ringRadius: 0, axis: unit(here.alongV), point: middle };
    }
    if (kind === 'sphere') return { kind, size: reach, ringRadius: 0, axis: [0, 0, 0], point: middle };
    if (kind === 'torus') {
      const pipe = length(here.alongV);
      return { kind, size: pipe, ringRadius: reach - pipe, axis: unit(here.alongV), point: middle };
    }
    // The rulings on both sides lean towards the axis by the half-angle: what is across cancels out.
    const both = here.alongV.map((value, k) => (value + there.alongV[k]!) / 2) as Vector;
    const lean = length(minus(here.alongV, there.alongV)) / 2;
    return { kind, size: Math.atan2(lean, length(both)), ringRadius: 0, axis: unit(both), point: middle };
  } finally {
    surface.delete();
  }
}

/** Nine numbers: one triangle on a face, spread over its range. Stands in for facets that the kernel cannot make. */
export function standInTriangle(kernel: StepKernel, face: KernelShape): Float32Array {
  const surface = new kernel.BRepAdaptor_Surface(face, true);
  try {
    const [u0, u1] = [surface.FirstUParameter(), surface.LastUParameter()];
    const [v0, v1] = [surface.FirstVParameter(), surface.LastVParameter()];
    return Float32Array.from(
      [0, 1, 2].flatMap((k) => at(surface, u0 + ((u1 - u0) * k) / 3, v0 + ((v1 - v0) * k) / 2).point),
    );
  } finally {
    surface.delete();
  }
}

function at(surface: KernelSurface, u: number, v: number): { point: Vector; alongU: Vector; alongV: Vector } {
  const { Point, D1U, D1V } = surface.EvalD1(u, v);
  const [point, alongU, alongV] = [Point, D1U, D1V].map((vector): Vector => {
    const numbers: Vector = [vector.X(), vector.Y(), vector.Z()];
    vector.delete();
    return numbers;
  });
  return { point: point!, alongU: alongU!, alongV: alongV! };
}

function minus(a: Vector, b: Vector): Vector {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
}

function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

function length(a: Vector): number {
  return Math.hypot(a[0], a[1], a[2]);
}

function unit(a: Vector): Vector {
  const size = length(a) || 1;
  return [a[0] / size, a[1] / size, a[2] / size];
}
