import { boreReach } from '../faces/bore-ends.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { castRay } from './ray-cast.ts';
import type { RoundPlace } from './round-places.ts';
import type { TriangleBvh } from './triangle-bvh.ts';
import { add, anyPerpendicular, cross, dot, scale, subtract, unit, type Vec3 } from './vec3.ts';

/** `hole`: whether it goes through is not known, since the mesh has a gap there. */
export type ClampKind =
  'through hole' | 'blind hole' | 'hole' | 'bore' | 'boss' | 'opposed flats' | 'one side only';

/** A spot a hanger could hold, with what holds it there. Model units. */
export interface ClampPlace {
  readonly kind: ClampKind;
  readonly at: Vec3;
  readonly triangle: number;
  /** Outward, at `at`. */
  readonly normal: Vec3;
  /** Where the hanger comes from: the open end of a hole, a little off a face. */
  readonly entry: Vec3;
  /** Area that the clamp could press on. */
  readonly area: number;
  /** Between the jaws, or the diameter of the hole or boss. */
  readonly span: number;
  /** How far the two pressed faces are from parallel, rad; 0 for round places. */
  readonly skewRad: number;
}

export interface Surface {
  readonly geometry: PartGeometry;
  /** Float64, model units. */
  readonly vertices: Float64Array;
  readonly bvh: TriangleBvh;
  /** Per face row: its triangles, `triangles[start[row] … start[row + 1])`. */
  readonly faceStart: Uint32Array;
  readonly faceTriangles: Uint32Array;
}

/** Jaws of a sprung clamp open no wider; common practice. */
export const WIDEST_JAW_M = 0.03;
/** How far in from an edge its jaws reach, and how thick they and its back are; common practice. */
const JAW_DEPTH_M = 0.04;
const JAW_THICKNESS_M = 0.004;
const SLIDE_DIRECTIONS = 16;
/** Thinner is foil, and rays meet rounding. */
const THINNEST_JAW_M = 2e-4;
/** Bolts, plugs and expanding wire; wider bores take a sprung brace. */
const WIDEST_PLUG_M = 0.025;
const WIDEST_BORE_M = 0.08;
const WIDEST_BOSS_M = 0.03;
/** Two faces that are further from parallel than this squeeze the clamp off: half the friction angle at µ 0.3. */
export const MOST_SKEW_RAD = 0.29;
const MOST_SAMPLES = 1500;

const HOLE_KINDS = { through: 'through hole', blind: 'blind hole', unknown: 'hole' } as const;

export function normalOf(geometry: PartGeometry, triangle: number): Vec3 {
  const { normals } = geometry.graph;
  return [normals[3 * triangle], normals[3 * triangle + 1], normals[3 * triangle + 2]];
}

/** Triangles of every face, face after face. */
export function listFaceTriangles(geometry: PartGeometry): {
  faceStart: Uint32Array;
  faceTriangles: Uint32Array;
} {
  const { faces } = geometry;
  const faceStart = new Uint32Array(faces.count + 1);
  for (let row = 0; row < faces.count; row++) faceStart[row + 1] = faceStart[row] + faces.triangleCount[row];
  const fill = faceStart.slice(0, faces.count);
  const faceTriangles = new Uint32Array(geometry.triangleCount);
  for (let t = 0; t < geometry.triangleCount; t++) faceTriangles[fill[faces.faceOfTriangle[t]]++] = t;
  return { faceStart, faceTriangles };
}

/** Holes, bores and bosses that a hanger can hold by, at the side that carries when hung `up`. */
export function roundClampPlaces(
  surface: Surface,
  places: readonly RoundPlace[],
  up: Vec3,
  centre: Vec3,
  metresPerUnit: number,
): ClampPlace[] {
  const found: ClampPlace[] = [];
  for (const place of places) {
    const diameterM = 2 * place.radius * metresPerUnit;
    if (diameterM > (place.inward ? WIDEST_BORE_M : WIDEST_BOSS_M)) continue;
    const reach = place.ends && boreReach(place.ends);
    if (reach === 'shut') continue;
    const kind: ClampKind = !place.inward ? 'boss' : diameterM > WIDEST_PLUG_M ? 'bore' : HOLE_KINDS[reach!];
    const sideways = subtract(up, scale(place.axis, dot(up, place.axis)));
    const out = subtract(place.middle, centre);
    const away = subtract(out, scale(place.axis, dot(out, place.axis)));
    // A bore hangs on its upper wall; a boss is clasped, so its upper side serves as well. In an upright bore no wall is
    // upper: the one away from the centre of gravity, so that bores on two sides of it hold the part level between them.
    const carry =
      Math.hypot(...sideways) > 0.1
        ? unit(sideways)
        : Math.hypot(...away) > 0.01 * place.radius
          ? unit(away)
          : anyPerpendicular(place.axis);
    const wanted = add(place.middle, scale(carry, place.radius));
    const spot = nearestOnFaces(surface, place.rows, wanted);
    if (!spot) continue;
    // The open end that is higher, so that a hook comes down to it.
    const ends = ([-1, 1] as const).filter((_, i) => place.ends?.[i] !== 'closed');
    const way = ends.sort((a, b) => dot(place.axis, up) * (b - a))[0] ?? 1;
    const beyond = place.inward ? place.depth / 2 + 0.5 * place.radius : 0;
    found.push({
      kind,
      ...spot,
      entry: place.inward
        ? add(place.middle, scale(place.axis, way * beyond))
        : add(spot.at, scale(spot.normal, 0.5 * place.radius)),
      // A bolt's flank or a wire's turns touch about a quarter of the wall.
      area: place.area / 4,
      span: 2 * place.radius,
      skewRad: 0,
    });
  }
  return found;
}

/** The point of some faces that is nearest to `wanted`, by closest point on their triangles. */
function nearestOnFaces(
  surface: Surface,
  rows: readonly number[],
  wanted: Vec3,
): { at: Vec3; triangle: number; normal: Vec3 } | undefined {
  let best = Infinity;
  let at: Vec3 = wanted;
  let triangle = -1;
  for (const row of rows) {
    for (let i = surface.faceStart[row]; i < surface.faceStart[row + 1]; i++) {
      const t = surface.faceTriangles[i];
      const point = closestOnTriangle(surface, t, wanted);
      const d = subtract(point, wanted);
      const squared = dot(d, d);
      if (squared < best) {
        best = squared;
        at = point;
        triangle = t;
      }
    }
  }
  return triangle < 0 ? undefined : { at, triangle, normal: normalOf(surface.geometry, triangle) };
}

function cornerOf({ vertices, geometry }: Surface, triangle: number, k: number): Vec3 {
  const v = 3 * geometry.graph.indexed.triangles[3 * triangle + k];
  return [vertices[v], vertices[v + 1], vertices[v + 2]];
}

/** Ericson, Real-Time Collision Detection, 2005, 5.1.5. */
export function closestOnTriangle(surface: Surface, triangle: number, p: Vec3): Vec3 {
  const a = cornerOf(surface, triangle, 0);
  const b = cornerOf(surface, triangle, 1);
  const c = cornerOf(surface, triangle, 2);
  const ab = subtract(b, a);
  const ac = subtract(c, a);
  const ap = subtract(p, a);
  const d1 = dot(ab, ap);
  const d2 = dot(ac, ap);
  if (d1 <= 0 && d2 <= 0) return a;
  const bp = subtract(p, b);
  const d3 = dot(ab, bp);
  const d4 = dot(ac, bp);
  if (d3 >= 0 && d4 <= d3) return b;
  const vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) return add(a, scale(ab, d1 / (d1 - d3)));
  const cp = subtract(p, c);
  const d5 = dot(ab, cp);
  const d6 = dot(ac, cp);
  if (d6 >= 0 && d5 <= d6) return c;
  const vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) return add(a, scale(ac, d2 / (d2 - d6)));
  const va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    return add(b, scale(subtract(c, b), (d4 - d3) / (d4 - d3 + (d5 - d6))));
  }
  const sum = va + vb + vc;
  return add(add(a, scale(ab, vb / sum)), scale(ac, vc / sum));
}

/**
 * Spots on the surface where a clamp's two jaws meet metal: just inside the borders of faces, where a jaw reaches, and
 * in the middle of triangles spread over the whole surface. Deterministic: every so many in the order of the mesh.
 * @param accept triangles that may be touched at all
 */
export function flatClampPlaces(
  surface: Surface,
  padRadius: number,
  metresPerUnit: number,
  accept: (triangle: number) => boolean,
): ClampPlace[] {
  const { geometry } = surface;
  const { twin } = geometry.graph;
  const { faceOfTriangle } = geometry.faces;
  const found: ClampPlace[] = [];
  const consider = (triangle: number, at: Vec3): void => {
    if (!accept(triangle)) return;
    const place = jawsAt(surface, triangle, at, padRadius, metresPerUnit);
    if (place && place.kind === 'opposed flats') found.push(place);
  };
  const borderEdges: number[] = [];
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] >= 0 && faceOfTriangle[Math.floor(h / 3)] !== faceOfTriangle[Math.floor(twin[h] / 3)])
      borderEdges.push(h);
  }
  const stride = Math.max(1, Math.floor(borderEdges.length / MOST_SAMPLES));
  for (let i = 0; i < borderEdges.length; i += stride) {
    const h = borderEdges[i];
    const t = Math.floor(h / 3);
    const k = h % 3;
    const from = cornerOf(surface, t, k);
    const to = cornerOf(surface, t, (k + 1) % 3);
    const along = subtract(to, from);
    const size = Math.hypot(...along);
    if (!(size > 0)) continue;
    // Long edges of plain blocks get several spots.
    const spots = stride > 1 ? 1 : Math.min(7, Math.max(1, Math.floor(size / (6 * padRadius))));
    const inwards = cross(normalOf(geometry, t), scale(along, 1 / size));
    for (let s = 0; s < spots; s++) {
      const edge = add(from, scale(along, (s + 0.5) / spots));
      const wanted = add(edge, scale(inwards, 1.6 * padRadius));
      const over = triangleUnder(surface, wanted, normalOf(geometry, t), padRadius, faceOfTriangle[t]);
      if (over) consider(over.triangle, over.at);
    }
  }
  const every = Math.max(1, Math.floor(geometry.triangleCount / MOST_SAMPLES));
  for (let t = Math.floor(every / 2); t < geometry.triangleCount; t += every) {
    const middle = scale(
      add(add(cornerOf(surface, t, 0), cornerOf(surface, t, 1)), cornerOf(surface, t, 2)),
      1 / 3,
    );
    consider(t, middle);
  }
  return found;
}

/** The surface right under a point a little above a face, if it is that face. */
function triangleUnder(
  surface: Surface,
  wanted: Vec3,
  normal: Vec3,
  padRadius: number,
  row: number,
): { triangle: number; at: Vec3 } | undefined {
  const lifted = add(wanted, scale(normal, 0.5 * padRadius));
  const hit = castRay(cast(surface), lifted, scale(normal, -1), 0, padRadius);
  if (!hit || surface.geometry.faces.faceOfTriangle[hit.triangle] !== row) return undefined;
  return { triangle: hit.triangle, at: subtract(lifted, scale(normal, hit.distance)) };
}

export function cast(surface: Surface): Parameters<typeof castRay>[0] {
  return {
    vertices: surface.vertices,
    triangles: surface.geometry.graph.indexed.triangles,
    bvh: surface.bvh,
  };
}

/** What two jaws find at a spot: the metal's thickness there and whether its far side is opposed. */
export function jawsAt(
  surface: Surface,
  triangle: number,
  at: Vec3,
  padRadius: number,
  metresPerUnit: number,
): ClampPlace | undefined {
  const normal = normalOf(surface.geometry, triangle);
  const lift = 1e-4 * padRadius;
  const hit = castRay(cast(surface), subtract(at, scale(normal, lift)), scale(normal, -1), 0);
  if (!hit) return undefined;
  const span = hit.distance + lift;
  const far = normalOf(surface.geometry, hit.triangle);
  const skewRad = Math.acos(Math.min(1, Math.max(-1, -dot(far, normal))));
  const spanM = span * metresPerUnit;
  const opposed = skewRad <= MOST_SKEW_RAD && spanM <= WIDEST_JAW_M && spanM >= THINNEST_JAW_M;
  const held = opposed && clampGetsThere(surface, at, normal, far, span, metresPerUnit);
  const pad = Math.PI * padRadius ** 2;
  const { faces } = surface.geometry;
  const near = Math.min(pad, faces.area[faces.faceOfTriangle[triangle]]);
  const other = Math.min(pad, faces.area[faces.faceOfTriangle[hit.triangle]]);
  return {
    kind: held ? 'opposed flats' : 'one side only',
    at,
    triangle,
    normal,
    entry: add(at, scale(normal, 2 * padRadius)),
    area: held ? near + other : near,
    span,
    skewRad,
  };
}

/**
 * Whether a C-shaped clamp can be slid on: in some direction along the face the metal ends within the jaws' depth, the
 * clamp's back has room beyond, and nothing stands in the way of either jaw.
 */
function clampGetsThere(
  surface: Surface,
  at: Vec3,
  normal: Vec3,
  farNormal: Vec3,
  span: number,
  metresPerUnit: number,
): boolean {
  const thick = JAW_THICKNESS_M / metresPerUnit;
  const depth = JAW_DEPTH_M / metresPerUnit;
  const middle = subtract(at, scale(normal, span / 2));
  const near = add(at, scale(normal, thick / 2));
  const metal = cast(surface);
  const opposite = subtract(at, scale(normal, span));
  const far = add(opposite, scale(farNormal, thick / 2));
  if (castRay(metal, at, normal, 1e-2 * thick, thick)) return false;
  if (castRay(metal, opposite, farNormal, 1e-2 * thick, thick)) return false;
  const aside = anyPerpendicular(unit(normal));
  const across = cross(normal, aside);
  for (let i = 0; i < SLIDE_DIRECTIONS; i++) {
    const angle = (2 * Math.PI * i) / SLIDE_DIRECTIONS;
    const way = add(scale(aside, Math.cos(angle)), scale(across, Math.sin(angle)));
    const edge = castRay(metal, middle, way, 0, depth);
    if (!edge) continue;
    const least = edge.distance + 1e-3 * thick;
    if (castRay(metal, middle, way, least, least + thick)) continue;
    if (castRay(metal, near, way, 0, least + thick) || castRay(metal, far, way, 0, least + thick)) continue;
    return true;
  }
  return false;
}
