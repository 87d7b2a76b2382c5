import type { CadFace, CadFaces } from '../faces/cad-faces.ts';
import type { KnownAreas } from '../faces/known-areas.ts';
import { add, angleBetween, cross, dot, length, scale, subtract, unit, type Vec3 } from '../racking/vec3.ts';
import { edgeAdjacency, OPEN_EDGE } from './edge-adjacency.ts';
import { nextSide } from './half-edges.ts';
import { frontOfBack, rimOf, type SourcedMesh } from './source-triangles.ts';
import { surfaceArea } from './surface-area.ts';
import { weld } from './weld.ts';

/** Faces that lean less than this from one to the next run on; a fold so shallow changes nothing that can be measured. */
const RUNS_ON_RAD = 1e-3;
/** Along an outline the kernel's chords of a curve turn by a fifth of a radian at most; what turns by more is a corner … */
const CORNER_RAD = 0.3;
/** … and what turns by less than this is straight. */
const STRAIGHT_RAD = 1e-4;

/**
 * What a CAD file says of a sheet once it has a thickness t, half of it to each side, cut off square to it: both sides of each of
 * its faces are faces, and of some the area is known. The
 * surface at a distance h from one of area A has the area A − 2hM + h²G, with M and G the integrals of its mean and
 * Gaussian curvature (Steiner's formula): A on both sides of a plane, A (1 ± h/R) of a cylinder of radius R, A (1 ± h/R)² of a
 * sphere, however they are trimmed. It holds for a face that ends square: all along open edges, and where it runs on into the next
 * face without a fold. A plane that meets planes in folds has straight mitres there; what its outline is curved elsewhere is
 * the same on both sides and on the middle. The wall along an open edge of length L is t L: along straight edges, and round a
 * cylinder. Cones, rings and free surfaces are left to their facets, as are faces that folds of another kind end.
 *
 * @param mesh thickened, and nothing else done to it
 * @param positions the file's own triangles, which `cad` goes with
 * @param thickness model units
 */
export function thickenedAreas(
  { positions: all, sourceTriangle }: SourcedMesh,
  positions: Float32Array,
  cad: CadFaces,
  thickness: number,
): KnownAreas {
  const fileTriangles = positions.length / 9;
  const total = sourceTriangle.length;
  const hasBack = new Uint8Array(fileTriangles);
  for (let t = 0; t < total; t++) {
    const front = frontOfBack(fileTriangles, sourceTriangle[t]);
    if (front !== undefined) hasBack[front] = 1;
  }
  const sheet = new MiddleSurface(positions, cad, hasBack, thickness / 2);
  const { faces, faceOfTriangle } = cad;
  /** Of each face its front and its back, then a part for each wall. */
  const areas: number[] = [];
  const drawn = new Float64Array(2 * faces.length);
  const sideOf = (t: number): number => {
    const source = sourceTriangle[t];
    if (source < fileTriangles) return 2 * faceOfTriangle[source];
    const front = frontOfBack(fileTriangles, source);
    return front === undefined ? -1 : 2 * faceOfTriangle[front] + 1;
  };
  const areaOf = (t: number): number => surfaceArea(all.subarray(9 * t, 9 * t + 9));
  for (let t = 0; t < total; t++) {
    const side = sideOf(t);
    if (side >= 0) drawn[side] += areaOf(t);
  }
  faces.forEach((_, face) => {
    for (const side of [0, 1] as const) areas.push(sheet.sideArea(face, side, drawn[2 * face + side]) ?? NaN);
  });
  const walls = new Map<number, number>();
  const partOfTriangle = new Int32Array(total);
  for (let t = 0; t < total; t++) {
    const side = sideOf(t);
    if (side >= 0) partOfTriangle[t] = Number.isNaN(areas[side]) ? -1 : side;
    else {
      const rim = rimOf(fileTriangles, sourceTriangle[t]);
      if (rim === undefined) partOfTriangle[t] = -1;
      else {
        const known = walls.get(rim);
        const wall = known ?? areas.length;
        if (known === undefined) {
          walls.set(rim, wall);
          areas.push(sheet.wallArea(rim) ?? NaN);
        }
        partOfTriangle[t] = Number.isNaN(areas[wall]) ? -1 : wall;
      }
    }
  }
  const givenFace = Int32Array.from({ length: total }, (_, t) => sideOf(t));
  return {
    givenFace,
    partOfTriangle,
    areaOfPart: Float64Array.from(areas, (area) => (Number.isNaN(area) ? 0 : area)),
  };
}

/** How the faces of a sheet end, on the surface as it was drawn. */
class MiddleSurface {
  private readonly corners: Uint32Array;
  private readonly twin: Int32Array;
  private readonly drawn: Float64Array;
  private readonly triangles: number[][];
  /** Vertices at which a fold ends. */
  private readonly folded = new Set<number>();
  private readonly ends: { runsOn: boolean; folds: boolean; other: boolean; atFold: boolean }[];

  constructor(
    private readonly positions: Float32Array,
    private readonly cad: CadFaces,
    private readonly hasBack: Uint8Array,
    private readonly half: number,
  ) {
    const { triangles } = weld(positions);
    this.corners = triangles;
    this.twin = edgeAdjacency(triangles, 1 + triangles.reduce((most, v) => Math.max(most, v), 0)).twin;
    const { faces, faceOfTriangle } = cad;
    this.drawn = new Float64Array(faces.length);
    this.triangles = faces.map(() => []);
    faceOfTriangle.forEach((face, t) => {
      this.triangles[face].push(t);
      this.drawn[face] += surfaceArea(positions.subarray(9 * t, 9 * t + 9));
    });
    this.ends = faces.map(() => ({ runsOn: false, folds: false, other: false, atFold: false }));
    for (let h = 0; h < this.twin.length; h++) this.lookAt(h);
    faceOfTriangle.forEach((face, t) => {
      for (let k = 0; k < 3; k++) if (this.folded.has(triangles[3 * t + k])) this.ends[face].atFold = true;
    });
  }

  /** Of a side of a face, 0 the front; undefined where it is not known. @param drawn by its facets */
  sideArea(face: number, side: 0 | 1, drawn: number): number | undefined {
    const own = this.cad.faces[face];
    const { areaModelUnits2: area, kind, size } = own;
    const backs = this.triangles[face].reduce((sum, t) => sum + this.hasBack[t], 0);
    // A body that has its thickness is as the file says.
    if (backs === 0) return side === 0 ? area : undefined;
    if (backs < this.triangles[face].length) return undefined;
    const { runsOn, other, atFold } = this.ends[face];
    if (other) return undefined;
    if (atFold) {
      const isPolygonal = kind === 'plane' && !runsOn && this.curvesEndBeforeFolds(face);
      return isPolygonal ? drawn + area - this.drawn[face] : undefined;
    }
    if (kind === 'plane') return area;
    if (kind !== 'cylinder' && kind !== 'sphere') return undefined;
    const grows = (this.looksOutward(face) ? 1 : -1) * (side === 0 ? 1 : -1);
    const factor = 1 + (grows * this.half) / size;
    if (!(factor > 0)) return undefined;
    return area * (kind === 'sphere' ? factor ** 2 : factor);
  }

  /** Of the wall along an open edge; undefined where it is not known. @param halfEdge of the file's triangles */
  wallArea(halfEdge: number): number | undefined {
    const face = this.cad.faceOfTriangle[(halfEdge / 3) | 0];
    const own = this.cad.faces[face];
    const [from, to] = [halfEdge, nextSide(halfEdge)];
    if (this.folded.has(this.corners[from]) || this.folded.has(this.corners[to])) return undefined;
    const [p, q] = [this.place(from), this.place(to)];
    if (own.kind === 'plane') {
      return this.isStraight(halfEdge) ? 2 * this.half * length(subtract(q, p)) : undefined;
    }
    if (own.kind !== 'cylinder' || !(this.half < own.size)) return undefined;
    const axis = own.axis as Vec3;
    const along = dot(subtract(q, p), axis);
    const [a, b] = [acrossOf(own, p), acrossOf(own, q)];
    const turn = angleBetween(a, b);
    if (turn < STRAIGHT_RAD) return 2 * this.half * Math.abs(along);
    return Math.abs(along) < STRAIGHT_RAD * turn * own.size ? 2 * this.half * own.size * turn : undefined;
  }

  private lookAt(h: number): void {
    const { faceOfTriangle, faces } = this.cad;
    const t = (h / 3) | 0;
    if (this.hasBack[t] === 0) return;
    const face = faceOfTriangle[t];
    const ends = this.ends[face];
    const other = this.twin[h];
    if (other === OPEN_EDGE) return;
    if (other < 0) {
      ends.other = true;
      return;
    }
    const beside = faceOfTriangle[(other / 3) | 0];
    if (beside === face) return;
    const leans = [h, nextSide(h)].map((corner) => {
      const at = this.place(corner);
      const [one, two] = [this.normal(t, at), this.normal((other / 3) | 0, at)];
      return one && two ? angleBetween(one, two) : undefined;
    });
    if (leans.some((lean) => lean === undefined)) ends.other = true;
    else if (leans.every((lean) => lean! < RUNS_ON_RAD)) ends.runsOn = true;
    else {
      this.folded.add(this.corners[h]).add(this.corners[nextSide(h)]);
      if (faces[face].kind === 'plane' && faces[beside].kind === 'plane') ends.folds = true;
      else ends.other = true;
    }
  }

  /** Of the surface itself, at a place on it, as its triangle faces; undefined for a free surface. */
  private normal(t: number, at: Vec3): Vec3 | undefined {
    const face = this.cad.faces[this.cad.faceOfTriangle[t]];
    const [p, q, r] = [0, 1, 2].map((k) => this.place(3 * t + k));
    const facing = cross(subtract(q, p), subtract(r, p));
    const ways = normalsOf(face, at);
    // Of a cone's two leans the one that its triangle has.
    let best: Vec3 | undefined;
    for (const way of ways) {
      const turned = dot(way, facing) < 0 ? scale(way, -1) : way;
      if (!best || dot(turned, facing) > dot(best, facing)) best = turned;
    }
    return best;
  }

  private looksOutward(face: number): boolean {
    const own = this.cad.faces[face];
    let outward = 0;
    for (const t of this.triangles[face]) {
      const [p, q, r] = [0, 1, 2].map((k) => this.place(3 * t + k));
      outward += dot(
        cross(subtract(q, p), subtract(r, p)),
        normalsOf(own, scale(add(add(p, q), r), 1 / 3))[0],
      );
    }
    return outward > 0;
  }

  /** Whether what ends in a fold of a plane is straight: a curve that runs into a mitre has no length that is known. */
  private curvesEndBeforeFolds(face: number): boolean {
    return this.triangles[face].every((t) =>
      [3 * t, 3 * t + 1, 3 * t + 2].every(
        (h) =>
          this.twin[h] !== OPEN_EDGE ||
          !(this.folded.has(this.corners[h]) || this.folded.has(this.corners[nextSide(h)])) ||
          this.isStraight(h),
      ),
    );
  }

  /** Whether an open edge of a plane is one of its straight ones, by the outline's turns at its two ends. */
  private isStraight(halfEdge: number): boolean {
    const face = this.cad.faceOfTriangle[(halfEdge / 3) | 0];
    const area = this.cad.faces[face].areaModelUnits2;
    if (Math.abs(this.drawn[face] - area) < 1e-7 * area) return true;
    const direction = (h: number): Vec3 => unit(subtract(this.place(nextSide(h)), this.place(h)));
    const way = direction(halfEdge);
    const ends = [this.corners[halfEdge], this.corners[nextSide(halfEdge)]];
    return this.openEdgesAt(face, ends).every((other) => {
      if (other === halfEdge) return true;
      const turn = angleBetween(way, direction(other));
      return turn < STRAIGHT_RAD || turn > CORNER_RAD;
    });
  }

  private readonly openAt = new Map<number, Map<number, number[]>>();

  /** Open half-edges of a face that begin or end at one of these vertices. */
  private openEdgesAt(face: number, vertices: readonly number[]): number[] {
    let known = this.openAt.get(face);
    if (!known) {
      known = new Map();
      for (const t of this.triangles[face]) {
        for (let h = 3 * t; h < 3 * t + 3; h++) {
          if (this.twin[h] !== OPEN_EDGE) continue;
          for (const vertex of [this.corners[h], this.corners[nextSide(h)]]) {
            const list = known.get(vertex);
            if (list) list.push(h);
            else known.set(vertex, [h]);
          }
        }
      }
      this.openAt.set(face, known);
    }
    return vertices.flatMap((vertex) => known.get(vertex) ?? []);
  }

  private place(corner: number): Vec3 {
    const at = 3 * corner;
    return [this.positions[at], this.positions[at + 1], this.positions[at + 2]];
  }
}

function acrossOf({ axis, point }: CadFace, at: Vec3): Vec3 {
  const arm = subtract(at, point as Vec3);
  return subtract(arm, scale(axis as Vec3, dot(arm, axis as Vec3)));
}

/** Unit normals that a surface may have at a place on it; none for a free one and on an axis. */
function normalsOf(face: CadFace, at: Vec3): Vec3[] {
  const { kind, size, ringRadius, point } = face;
  const axis = face.axis as Vec3;
  if (kind === 'plane') return [axis];
  if (kind === 'sphere') return [unit(subtract(at, point as Vec3))];
  const across = acrossOf(face, at);
  const reach = length(across);
  if (kind === 'free' || !(reach > 0)) return [];
  const out = scale(across, 1 / reach);
  if (kind === 'cylinder') return [out];
  if (kind === 'cone') {
    return [1, -1].map((way) => add(scale(out, Math.cos(size)), scale(axis, way * Math.sin(size))));
  }
  return [unit(subtract(subtract(at, point as Vec3), scale(out, ringRadius)))];
}
