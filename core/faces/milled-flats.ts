import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { FacetGains } from './facet-gains.ts';
import { FacetSides, type FacetSide } from './facet-sides.ts';
import { FACE_KINDS } from './face-table.ts';
import { CREASE_RAD, FACE_ROUND, FACE_SMOOTH } from './flat-facets.ts';
import { EQUAL, usual } from './ring-spans.ts';
import { trianglesByFace } from './triangles-by-face.ts';

const SPHERE = FACE_KINDS.indexOf('sphere');
const TORUS = FACE_KINDS.indexOf('torus');

/** A round of more facets is so fine that nobody draws it facet by facet; with fewer, none of them is the usual one. */
const MOST_FACETS = 400;
const LEAST_FACETS = 6;
/** Share of equal turns or widths above which a round is drawn with one step. */
const MOSTLY = 0.5;
/** A turn this far from the usual one, as a share, is another. */
const OTHER = 0.03;
/** Share of a face's facets that are strips from rim to rim. */
const STRIPS = 0.75;

/** A facet with one smooth side to the left and one to the right. */
interface Strip {
  readonly sides: readonly [FacetSide, FacetSide];
  /** From one side to the other, model units; NaN where they are not parallel. */
  readonly width: number;
}

/**
 * Flats milled on a round so shallow that they meet it by less than a crease turns. One alone cannot be told from a wide
 * facet of an uneven round: its corners lie on the circle as well. But where most of the other facets turn by one and the same step,
 * it is sooner a flat.
 *
 * @param mode per face, see flat-facets.ts
 * @returns half-edges along the sides of the flats, both of each pair
 */
export function milledFlats(geometry: PartGeometry, gains: FacetGains, mode: Uint8Array): number[] {
  const { graph, faces } = geometry;
  const wanted: number[] = [];
  for (let face = 0; face < faces.count; face++) {
    const count = gains.facetCount[face];
    if (mode[face] !== FACE_SMOOTH && mode[face] !== FACE_ROUND) continue;
    if (count < LEAST_FACETS || count > MOST_FACETS) continue;
    if (faces.kind[face] === SPHERE || faces.kind[face] === TORUS) continue;
    if (turnSpread(gains, face) > EQUAL || gains.mostFacet[face] > (1 + OTHER) * gains.leastFacet[face]) {
      wanted.push(face);
    }
  }
  if (wanted.length === 0) return [];
  const mesh = new FacetSides(graph);
  const found: number[] = [];
  for (const triangles of trianglesByFace(faces.faceOfTriangle, wanted).values()) {
    for (const strip of unlikeMost(stripsOf(mesh, triangles))) {
      for (const side of strip.sides) for (const h of side.halfEdges) found.push(h, graph.twin[h]);
    }
  }
  return found;
}

/** Standard deviation of a face's turns over their mean. */
function turnSpread({ edgeLength, edgeTurn, edgeTurn2 }: FacetGains, face: number): number {
  if (!(edgeLength[face] > 0)) return 0;
  const mean = edgeTurn[face] / edgeLength[face];
  return Math.sqrt(Math.max(0, edgeTurn2[face] / edgeLength[face] / (mean * mean) - 1));
}

/** The strips that a face is made of; none where too many of its facets are others. */
function stripsOf(mesh: FacetSides, triangles: readonly number[]): Strip[] {
  const facets = new Set(triangles.map((t) => mesh.facet(t)));
  const strips: Strip[] = [];
  let others = 0;
  for (const facet of facets) {
    const smooth = mesh.sides(facet)?.filter(({ turnRad }) => Math.abs(turnRad) < CREASE_RAD) ?? [];
    if (smooth.length === 2) {
      const [one, two] = smooth;
      strips.push({ sides: [one, two], width: mesh.apart(one, two) });
    } else if (++others > (1 - STRIPS) * facets.size) return [];
  }
  return strips;
}

/**
 * Those of a round's strips that are no facets of it; none where most strips differ. Of a flat drawn by a CAD program both turns
 * are larger than the usual one. Of one cut out of a mesh they are larger or smaller, as it comes to lie, and together no less than two of
 * those; or, where it lies along a facet, as usual, and it is only wider than the others.
 */
function unlikeMost(strips: readonly Strip[]): Strip[] {
  // Every side between two strips comes twice, which leaves shares and the median as they are.
  const turns = strips.flatMap(({ sides }) => sides.map(({ turnRad }) => turnRad));
  const turn = usualOf(turns);
  if (Number.isNaN(turn)) return [];
  const width = usualOf(strips.map((strip) => strip.width).filter((own) => !Number.isNaN(own)));
  return strips.filter((strip) => {
    const [one, two] = strip.sides.map(({ turnRad }) => turnRad / turn);
    const [isOther1, isOther2] = [Math.abs(one - 1) > OTHER, Math.abs(two - 1) > OTHER];
    if (isOther1 && isOther2) return one + two > 2 - 2 * EQUAL;
    return !isOther1 && !isOther2 && strip.width > (1 + 2 * OTHER) * width;
  });
}

/** The value that most have; NaN where there is none. */
function usualOf(values: readonly number[]): number {
  const { value, has } = usual(values);
  return has.filter(Boolean).length > MOSTLY * values.length ? value : NaN;
}
