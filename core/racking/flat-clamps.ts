import { cast, cornerOf, normalOf, type ClampPlace, type Surface } from './clamp-places.ts';
import { castRay } from './ray-cast.ts';
import { add, anyPerpendicular, cross, dot, scale, subtract, unit, type Vec3 } from './vec3.ts';

/** Jaws of a sprung clamp open no wider; common practice. */
const WIDEST_JAW_M = 0.03;
/** How far in from an edge its jaws reach, and how thick they and its back are; common practice. */
export const JAW_DEPTH_M = 0.04;
const JAW_THICKNESS_M = 0.004;
const SLIDE_DIRECTIONS = 16;
/** Thinner is foil, and rays meet rounding. */
const THINNEST_JAW_M = 2e-4;
/** Two faces that are further from parallel than this squeeze the clamp off: half the friction angle at µ 0.3. */
export const MOST_SKEW_RAD = 0.29;
const MOST_SAMPLES = 1500;

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
  const inFromEdge = opposed ? reachFromEdge(surface, at, normal, far, span, metresPerUnit) : undefined;
  const held = inFromEdge !== undefined;
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
    ...(held ? { inFromEdge } : {}),
  };
}

/**
 * From how near an edge a C-shaped clamp can be slid on, model units: in that direction along the face the metal ends
 * within the jaws' depth, the clamp's back has room beyond, and nothing stands in the way of either jaw. undefined where
 * there is no such direction.
 */
function reachFromEdge(
  surface: Surface,
  at: Vec3,
  normal: Vec3,
  farNormal: Vec3,
  span: number,
  metresPerUnit: number,
): number | undefined {
  const thick = JAW_THICKNESS_M / metresPerUnit;
  const depth = JAW_DEPTH_M / metresPerUnit;
  const middle = subtract(at, scale(normal, span / 2));
  const near = add(at, scale(normal, thick / 2));
  const metal = cast(surface);
  const opposite = subtract(at, scale(normal, span));
  const far = add(opposite, scale(farNormal, thick / 2));
  if (castRay(metal, at, normal, 1e-2 * thick, thick)) return undefined;
  if (castRay(metal, opposite, farNormal, 1e-2 * thick, thick)) return undefined;
  const aside = anyPerpendicular(unit(normal));
  const across = cross(normal, aside);
  let nearest: number | undefined;
  for (let i = 0; i < SLIDE_DIRECTIONS; i++) {
    const angle = (2 * Math.PI * i) / SLIDE_DIRECTIONS;
    const way = add(scale(aside, Math.cos(angle)), scale(across, Math.sin(angle)));
    const edge = castRay(metal, middle, way, 0, depth);
    if (!edge || (nearest !== undefined && edge.distance >= nearest)) continue;
    const least = edge.distance + 1e-3 * thick;
    if (castRay(metal, middle, way, least, least + thick)) continue;
    // In the hole of a solid block the back would have to go through metal to the jaws.
    const back = add(at, add(scale(normal, thick), scale(way, least + thick / 2)));
    if (castRay(metal, back, scale(normal, -1), 0, span + 2 * thick)) continue;
    if (castRay(metal, near, way, 0, least + thick) || castRay(metal, far, way, 0, least + thick)) continue;
    nearest = edge.distance;
  }
  return nearest;
}
