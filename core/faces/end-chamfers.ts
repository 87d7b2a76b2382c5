import type { PartGeometry } from '../mesh/part-geometry.ts';
import { FACE_KINDS } from './face-table.ts';
import type { FacetGains } from './facet-gains.ts';
import { FacetSides, type FacetSide } from './facet-sides.ts';
import { CREASE_RAD, FACE_SMOOTH } from './flat-facets.ts';
import { LONE_RAD } from './strip-looks.ts';
import { trianglesByFace } from './triangles-by-face.ts';

/** Facets of a face with three zones. */
const LEAST_FACETS = 12;
const MOST_FACETS = 1200;
/** Kinds of face that do not bend along their axis. */
const IN_ONE_LINE = (['plane', 'cylinder', 'cone'] as const).map((kind) => FACE_KINDS.indexOf(kind));

/**
 * Walls with a shallow chamfer at either end, turned: three zones in a row that end in sharp rims. Their corners lie on one
 * circle by symmetry, as those of a barrel do, and nothing goes on beyond them that would tell: they are sooner chamfers, and the
 * range holds both. Where they are very uneven it is told, see lone-turns.ts.
 *
 * @param mode per face, see flat-facets.ts
 * @returns half-edges where a wall meets its chamfers, both of each pair
 */
export function endChamfers({ graph, faces }: PartGeometry, gains: FacetGains, mode: Uint8Array): number[] {
  const { a, b, turnRad } = faces.borders;
  const sharp = new Uint8Array(faces.count);
  for (let i = 0; i < a.length; i++) {
    if (Math.abs(turnRad[i]) < CREASE_RAD) continue;
    if (sharp[a[i]] < 2) sharp[a[i]]++;
    if (sharp[b[i]] < 2) sharp[b[i]]++;
  }
  const wanted: number[] = [];
  for (let face = 0; face < faces.count; face++) {
    if (mode[face] !== FACE_SMOOTH || sharp[face] < 2 || IN_ONE_LINE.includes(faces.kind[face])) continue;
    const count = gains.facetCount[face];
    if (count >= LEAST_FACETS && count <= MOST_FACETS) wanted.push(face);
  }
  if (wanted.length === 0) return [];
  const mesh = new FacetSides(graph);
  const found: number[] = [];
  for (const triangles of trianglesByFace(faces.faceOfTriangle, wanted).values()) {
    const facets = new Set(triangles.map((t) => mesh.facet(t)));
    for (const wall of facets) {
      for (const { halfEdges } of chamferSides(mesh, facets, wall)) {
        for (const h of halfEdges) found.push(h, graph.twin[h]);
      }
    }
  }
  return found;
}

/** The two sides at which a facet meets chamfers, or none. */
function chamferSides(mesh: FacetSides, facets: ReadonlySet<number>, wall: number): readonly FacetSide[] {
  const sides = mesh.sides(wall) ?? [];
  const isOn = ({ beyond, turnRad }: FacetSide): boolean =>
    facets.has(beyond) && Math.abs(turnRad) < CREASE_RAD;
  if (sides.length !== 4 || !sides.every(isOn)) return [];
  const rims = sides.filter((side) => Math.abs(side.turnRad) > LONE_RAD && endsSharply(mesh, side));
  const areBoth = rims.length === 2 && !meet(rims[0], rims[1]) && rims[0].turnRad * rims[1].turnRad > 0;
  return areBoth ? rims : [];
}

/** Whether the facet beyond a side ends in a crease across from it. */
function endsSharply(mesh: FacetSides, side: FacetSide): boolean {
  const far = mesh.sides(side.beyond)?.filter((other) => !meet(other, side)) ?? [];
  return far.length > 0 && far.every(({ turnRad }) => Math.abs(turnRad) >= CREASE_RAD);
}

function meet(one: FacetSide, two: FacetSide): boolean {
  return one.from === two.from || one.from === two.to || one.to === two.from || one.to === two.to;
}
