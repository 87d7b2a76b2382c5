import type { PartGeometry } from '../mesh/part-geometry.ts';
import { coarseRounds } from './coarse-rounds.ts';
import { endChamfers } from './end-chamfers.ts';
import { FACE_KINDS } from './face-table.ts';
import { coarseDoubt, doubtfulFaces, withCoarse, type Doubt, type FacetAnswer } from './facet-doubts.ts';
import { facetGains, type FacetGains } from './facet-gains.ts';
import { CROSSED, trustIn, unsureShare, widenForOtherInto, widenShareInto } from './facet-unsure.ts';
import { bothWays, markRoundInto, type AmbiguousFace } from './facets-both-ways.ts';
import {
  EDGE_ARC,
  EDGE_CREASE,
  EDGE_RUNS_ON,
  FACE_FLAT,
  FACE_PIECE,
  FACE_ROUND,
  FACE_SMOOTH,
} from './flat-facets.ts';
import { milledFlats } from './milled-flats.ts';
import { knownFaces, type KnownFace } from './surfaces/known-faces.ts';
import { turnedFaces, type TurnedFaces } from './turned-faces.ts';

export interface FacetCorrectionOptions {
  /** Per face row. A face with an answer is no longer asked about. */
  readonly answers?: ReadonlyMap<number, FacetAnswer>;
}

/** Areas in model units squared, one entry a face. */
export interface FacetCorrection {
  /** Corrected over flat: what triangle areas of the face are to be multiplied by. */
  readonly factorOfFace: Float64Array;
  readonly correctedAreaOfFace: Float64Array;
  readonly low: Float64Array;
  readonly high: Float64Array;
  readonly total: {
    readonly flat: number;
    readonly corrected: number;
    readonly low: number;
    readonly high: number;
  };
  readonly ambiguous: readonly AmbiguousFace[];
}

/**
 * What the part's faces would measure if no facets had been cut. Scheme, in facet-gains.ts, facet-bulge.ts and
 * border-arcs.ts:
 *
 * A mesh's corners lie on the true surface, its facets below it. Over one facet let h be the surface's height. To second
 * order its area is the facet's + ½ ∫ |∇h|² + the wedges that open between neighbours' prisms along curved edges.
 * With h a quadratic that vanishes at the corners of a triangle, both come from the rises g of the surface inward over
 * the middles of the three sides, and from nothing else:
 *
 *   gain = area / 6 · (Σ gₖ² + 2 Σ gₖ lₖ (gᵢ/lᵢ + gⱼ/lⱼ)),   l the sides
 *
 * and g is the edge's turn, shared between its two triangles by their heights over it. For the strips of a cylinder this is
 * θ²/24 of the area, however wide each is; for an equilateral triangle on a sphere 5/24 (side/R)²: the first
 * terms of the closed forms. Facets of more triangles, or with a side on a border, get h by a small fit. Along borders
 * the true edge is an arc: each side gains or loses the segment between chord and arc. That is what a disc's rim lacks and what a
 * plate has too much round its holes. Flat faces have h = 0; where a face is left flat, its ends stay polygons.
 *
 * Error left as a share of the raw error (negative: past the truth):
 *
 *   facets round                    12       16       24       48       64
 *   cylinder with ends           0.008    0.005    0.002    0.001    0.000
 *   … uneven facets (0.5 … 1.5)  0.000    0.000    0.000    0.000    0.000
 *   frustum with ends            0.009    0.005    0.002    0.001    0.000
 *   pointed cone and base        0.009    0.005    0.002    0.001    0.000
 *   … in three rings             0.027    0.023    0.020    0.018    0.018
 *   rod with a point of 20°      0.011    0.006    0.003    0.001    0.000
 *   sphere, rings                0.001    0.002    0.001    0.000    0.000
 *   sphere, equal triangles      0.009    0.009    0.006    0.002    0.001
 *   torus                        0.038    0.021    0.010    0.002    0.001
 *   knob with a fillet           0.020    0.012    0.005    0.001    0.001
 *   bar with rounded edges       0.008    0.005    0.002    0.000    0.000
 *   triangles 200 : 5 on a bar   0.008    0.005    0.002    0.001    0.000
 *   half an ellipsoid, n/4 zones 0.555    0.071    0.003    0.000    0.000
 *   spherical cap and base       0.013    0.009    0.005    0.001    0.001
 *   cross bore, cut by another   0.005        –    0.077    0.044    0.035
 *
 * The ellipsoid's tip at 12 turns by more than a crease. Flats that turn by less than one are told from rounds by their corners, which
 * lie on no cylinder or cone unless they are of one size, see round-evidence.ts. Shallow creases that stand alone are found, see lone-turns.ts;
 * shallow flats on a round that is else drawn with one step and shallow chamfers at both ends of a wall, see milled-flats.ts and
 * end-chamfers.ts: they are taken for flats and chamfers, and the range holds both. Creases that belong to a round of few or
 * very uneven facets are found by their rings, see coarse-rounds.ts, those between zones of a fillet or a dome by its profile, see
 * profile-runs.ts; `npm run bench -- geometry/facets` prints what is left over solids of random size. Rings of corners half a step off one
 * another, of triangles that stand up and down by turns, and rings of quads that are not of one width are measured by their outline
 * instead, see ring-search.ts and turned-gains.ts. Where the former
 * are not whole (a hole goes through, a body cuts them) they are shared by more than heights at borders and on cones, see border-triangles.ts and
 * cone-spans.ts. Not told: such rests so low that their rims turn inward by 10° and more; they may be off by more than the facets, outside the range.
 *
 * Tried: the height's share of the turn by circumcentres (exact on spheres, but wild where triangles are obtuse); a quadratic alone
 * along borders, which saw the rims of a cone wrong by an eighth of the error; fitting cylinders, cones, spheres and
 * tori and projecting on them, which is thrown off by corners cut into facets and knows nothing of free faces.
 *
 * A round of 8 to 25 facets, all of one size, may be meant as flats: it is listed with both areas, and its range holds both.
 *
 * @throws RangeError for an answer about a face that is not there
 */
export function facetCorrection(
  geometry: PartGeometry,
  { answers }: FacetCorrectionOptions = {},
): FacetCorrection {
  const { faces } = geometry;
  const flat = faces.area;
  const mode = modesOf(faces, answers);
  if (geometry.cad) return correctionOf(flat, flat.slice(), flat.slice(), flat.slice(), []);

  const share = new Float64Array(faces.count).fill(unsureShare(0));
  const turned = turnedFaces(geometry, answers);
  for (const face of turned?.whole ?? []) mode[face] = FACE_FLAT;
  const single = knownFaces(geometry);
  const { coarse, known: joined } = takeCoarse(geometry, answers, mode, share, turned, single);
  // A zone of a fillet is a cone for itself.
  const surfaces = new Map(single);
  for (const { faces: zones } of coarse) for (const face of zones) surfaces.delete(face);
  const worked = gainsBesideFlats(geometry, mode, joined, surfaces);
  const { known, asRounds, surfaces: unbroken } = worked;
  const inCoarse = new Set(coarse.flatMap((round) => round.faces));
  const doubtful = doubtfulFaces(geometry, worked.gains, mode, inCoarse);
  const { lone, together } = withCoarse(faces, coarse, doubtful);
  const gains = gainsBesideChamfers(geometry, mode, known, worked, [...lone, ...together]);
  widenShareInto(share, faces, gains);
  const { corrected, low, high } = believed(flat, gains, share, inCoarse);
  const asked = [...together, ...lone].filter(({ ask }) => ask);
  const ambiguous = bothWays(
    geometry,
    { mode, known, share, surfaces: unbroken },
    asked,
    corrected,
    low,
    high,
  );
  if (asRounds) widenForOtherInto(low, high, share, gains, asRounds);
  if (!turned) return correctionOf(flat, corrected, low, high, ambiguous);
  for (let f = 0; f < faces.count; f++) {
    corrected[f] += turned.gain[f];
    low[f] = Math.max(0, low[f] + turned.gain[f] - turned.unsure[f] + turned.less[f]);
    high[f] += turned.gain[f] + turned.unsure[f] + turned.more[f];
  }
  const all = [...ambiguous, ...turned.ambiguous].sort((one, two) => one.face - two.face);
  return correctionOf(flat, corrected, low, high, all);
}

/** How each face is taken to begin with, see flat-facets.ts. */
function modesOf(
  { count, kind }: PartGeometry['faces'],
  answers: FacetCorrectionOptions['answers'],
): Uint8Array {
  const plane = FACE_KINDS.indexOf('plane');
  const mode = Uint8Array.from(kind, (own) => (own === plane ? FACE_FLAT : FACE_SMOOTH));
  for (const [row, answer] of answers ?? []) {
    if (!(Number.isInteger(row) && row >= 0 && row < count)) {
      throw new RangeError(`answers: no face in row ${row}, there are ${count}`);
    }
    const round = kind[row] === plane ? FACE_PIECE : FACE_ROUND;
    mode[row] = answer === 'round' ? round : FACE_FLAT;
  }
  return mode;
}

/** Rounds among the creases, and what is known of their edges. Changes `mode` and `share` of their faces. */
function takeCoarse(
  geometry: PartGeometry,
  answers: FacetCorrectionOptions['answers'],
  mode: Uint8Array,
  share: Float64Array,
  turned: TurnedFaces | undefined,
  surfaces: ReadonlyMap<number, KnownFace>,
): { readonly coarse: Doubt[]; readonly known: Uint8Array | undefined } {
  const rounds = coarseRounds(geometry).filter(
    ({ faces }) => !faces.some((face) => turned?.whole.has(face) || surfaces.get(face)?.inner.length),
  );
  const arcs = turned?.rims ?? [];
  // Creases of needles that lie on one surface are none.
  const inner = [...surfaces].flatMap(([face, own]) => (mode[face] === FACE_FLAT ? [] : own.inner));
  const isKnown = rounds.length + arcs.length + inner.length > 0;
  const known = isKnown ? new Uint8Array(geometry.graph.twin.length) : undefined;
  for (const h of arcs) known![h] = EDGE_ARC;
  for (const h of inner) known![h] = EDGE_RUNS_ON;
  const coarse = rounds.map((round) => {
    const doubt = coarseDoubt(round, answers);
    for (const face of round.faces) {
      mode[face] = doubt.taken === 'round' ? FACE_SMOOTH : FACE_FLAT;
      share[face] = Math.max(unsureShare(round.widestRad), round.isCut ? CROSSED : 0);
    }
    if (doubt.taken === 'round') markRoundInto(known, doubt);
    return doubt;
  });
  return { coarse, known };
}

/**
 * Gains where milled flats are flat and chamfers at both ends of a wall meet it in creases; `asRounds`, as if there were none,
 * is what their doubt is measured by.
 */
function gainsBesideFlats(
  geometry: PartGeometry,
  mode: Uint8Array,
  joined: Uint8Array | undefined,
  surfaces: ReadonlyMap<number, KnownFace>,
): Worked {
  const gains = facetGains(geometry, mode, joined, surfaces);
  const creases = [...milledFlats(geometry, gains, mode), ...endChamfers(geometry, gains, mode)];
  if (creases.length === 0) return { gains, asRounds: undefined, known: joined, surfaces };
  const known = joined?.slice() ?? new Uint8Array(geometry.graph.twin.length);
  const left = new Map(surfaces);
  for (const h of creases) {
    known[h] = EDGE_CREASE;
    // Their corners lie on the round all the same.
    left.delete(geometry.faces.faceOfTriangle[(h / 3) | 0]);
  }
  return { gains: facetGains(geometry, mode, known, left), asRounds: gains, known, surfaces: left };
}

interface Worked {
  readonly gains: FacetGains;
  /** Undefined where there are no such creases. */
  readonly asRounds: FacetGains | undefined;
  readonly known: Uint8Array | undefined;
  /** Of faces that no such crease goes through. */
  readonly surfaces: ReadonlyMap<number, KnownFace>;
}

/** Gains where doubtful faces that are taken as flat are worked out as such, their ends too. Changes `mode`. */
function gainsBesideChamfers(
  geometry: PartGeometry,
  mode: Uint8Array,
  known: Uint8Array | undefined,
  { gains, surfaces }: Worked,
  doubts: readonly Doubt[],
): FacetGains {
  const chamfers = doubts.filter(({ taken }) => taken === 'flat').flatMap((doubt) => doubt.faces);
  if (!chamfers.some((face) => gains.own[face] !== 0 || gains.border[face] !== 0)) return gains;
  for (const face of chamfers) mode[face] = FACE_FLAT;
  return facetGains(geometry, mode, known, surfaces);
}

/** Areas with the gains, as far as they are believed, and their ranges. */
function believed(
  flat: Float64Array,
  gains: FacetGains,
  share: Float64Array,
  inCoarse: ReadonlySet<number>,
): { readonly corrected: Float64Array; readonly low: Float64Array; readonly high: Float64Array } {
  const [corrected, low, high] = [flat.slice(), flat.slice(), flat.slice()];
  for (let f = 0; f < flat.length; f++) {
    const trust = inCoarse.has(f) || gains.most[f] > 0 ? 1 : trustIn(gains.agreement[f]);
    const gain = gains.own[f] * trust + gains.border[f];
    const unsure = share[f] * (Math.abs(gains.own[f]) + Math.abs(gains.border[f]));
    // Facets that contradict one another may be all noise, or all shape.
    const disputed = (1 - trust) * Math.abs(gains.own[f]);
    corrected[f] = Math.max(0, flat[f] + gain);
    low[f] = Math.max(0, corrected[f] - unsure - disputed);
    high[f] = corrected[f] + unsure + disputed;
    if (gains.most[f] > 0) {
      low[f] = Math.min(low[f], flat[f]);
      high[f] = Math.max(high[f], flat[f] + gains.most[f]);
    }
  }
  return { corrected, low, high };
}

/** Factors and totals from areas and ranges, one entry a face. */
export function correctionOf(
  flat: Float64Array,
  corrected: Float64Array,
  low: Float64Array,
  high: Float64Array,
  ambiguous: readonly AmbiguousFace[],
): FacetCorrection {
  const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);
  return {
    factorOfFace: flat.map((area, f) => (area > 0 ? corrected[f] / area : 1)),
    correctedAreaOfFace: corrected,
    low,
    high,
    total: { flat: sum(flat), corrected: sum(corrected), low: sum(low), high: sum(high) },
    ambiguous,
  };
}
