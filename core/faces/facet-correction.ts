import type { PartGeometry } from '../mesh/part-geometry.ts';
import { FACE_KINDS } from './face-table.ts';
import { facetGains, type FacetGains } from './facet-gains.ts';
import { FACE_FLAT, FACE_PIECE, FACE_ROUND, FACE_SMOOTH, ROUND_CREASE_RAD } from './flat-facets.ts';

/** What the user says about a face that could be either. */
export type FacetAnswer = 'round' | 'flat';

/** A face of which the mesh cannot tell whether it is round or has flats, with both areas, model units squared. */
export interface AmbiguousFace {
  readonly face: number;
  /** Flat pieces it is drawn with. */
  readonly facetCount: number;
  /** Turn from one to the next, rad. */
  readonly stepRad: number;
  readonly flatArea: number;
  readonly roundArea: number;
  /** All faces together that change with the answer (its ends as well): round less flat. */
  readonly gainOfPart: number;
  /** What is taken until the user answers. */
  readonly taken: FacetAnswer;
}

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

/** From here on few facets of one size may be meant: 25 and fewer round. Finer flats do not take 0.4 % to be wrong. */
const FEW_FACETS_RAD = (14 * Math.PI) / 180;
/** Spread of the turns (standard deviation over mean) up to which facets are of one size. */
const ONE_SIZE = 0.03;
/** Up to this many facets, without a tangent end, are sooner chamfers than a round. */
const CHAMFERS = 3;
/** Smallest over largest facet from which on so few are of one size. */
const ALIKE = 0.9;
/** Share of a correction that may be wrong: the worst found on drawn shapes is a tenth, see the table above. */
const UNSURE = 0.1;
/** Agreement of neighbours above which differences are the surface's own … */
const AGREED = 0.8;
/** … and below which they are all noise or folds. */
const DISAGREED = 0.3;

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
 *   … uneven facets (0.5 … 1.5)  0.016    0.009    0.004    0.001    0.001
 *   frustum with ends           -0.011   -0.014   -0.016   -0.017   -0.017
 *   pointed cone and base        0.009    0.005    0.002    0.001    0.000
 *   … in three rings             0.016    0.016    0.017    0.017    0.017
 *   rod with a point of 20°      0.010    0.005    0.002    0.001    0.000
 *   sphere, rings                0.001    0.002    0.001    0.000    0.000
 *   sphere, equal triangles      0.009    0.009    0.006    0.002    0.001
 *   torus                        0.038    0.022    0.010    0.002    0.001
 *   knob with a fillet           0.025    0.015    0.007    0.002    0.001
 *   bar with rounded edges       0.008    0.005    0.002    0.001    0.000
 *   triangles 200 : 5 on a bar   0.008    0.005    0.002    0.001    0.000
 *   half an ellipsoid 20 : 35    0.152    0.015    0.016    0.010    0.007
 *   spherical cap and base       0.100    0.073    0.047    0.022    0.016
 *   cross bore, cut by another   0.005        –    0.077    0.044    0.035
 *
 * The ellipsoid's tip at 12 turns by more than a crease. At 16 a flat milled on the cross-bored bar meets it on both sides at 34°, as a
 * wide facet of an uneven round would: a flat like that has to be split off by a smaller angle. Shallow creases that stand alone
 * are found, see lone-turns.ts.
 *
 * Tried: the height's share of the turn by circumcentres (exact on spheres, but wild where triangles are obtuse); a quadratic alone
 * along borders, which saw the rims of a cone wrong by an eighth of the error; fitting cylinders, cones, spheres and
 * tori and projecting on them, which is thrown off by corners cut into facets and knows nothing of free faces.
 *
 * A face of 25 facets round or fewer, all of one size, may be meant: it is listed with both areas, and its range holds both.
 *
 * @throws RangeError for an answer about a face that is not there
 */
export function facetCorrection(
  geometry: PartGeometry,
  { answers }: FacetCorrectionOptions = {},
): FacetCorrection {
  const { faces } = geometry;
  const { count } = faces;
  for (const row of answers?.keys() ?? []) {
    if (!(Number.isInteger(row) && row >= 0 && row < count)) {
      throw new RangeError(`answers: no face in row ${row}, there are ${count}`);
    }
  }
  const flat = faces.area;
  if (geometry.cad) return finish(flat, flat.slice(), flat.slice(), flat.slice(), []);

  const plane = FACE_KINDS.indexOf('plane');
  const mode = Uint8Array.from(faces.kind, (kind) => (kind === plane ? FACE_FLAT : FACE_SMOOTH));
  for (const [row, answer] of answers ?? []) {
    const round = faces.kind[row] === plane ? FACE_PIECE : FACE_ROUND;
    mode[row] = answer === 'round' ? round : FACE_FLAT;
  }
  let gains = facetGains(geometry, mode);
  const doubts = doubtfulFaces(geometry, gains, mode);
  // Faces taken as flat are worked out as such, their ends too.
  const chamfers = doubts.filter(({ taken }) => taken === 'flat');
  if (chamfers.some(({ face }) => gains.own[face] !== 0)) {
    for (const { face } of chamfers) mode[face] = FACE_FLAT;
    gains = facetGains(geometry, mode);
  }

  const corrected = new Float64Array(count);
  const low = new Float64Array(count);
  const high = new Float64Array(count);
  for (let f = 0; f < count; f++) {
    const trust = trustIn(gains.agreement[f]);
    const gain = gains.own[f] * trust + gains.border[f];
    const unsure = UNSURE * (Math.abs(gains.own[f]) + Math.abs(gains.border[f]));
    // Facets that contradict one another may be all noise, or all shape.
    const disputed = (1 - trust) * Math.abs(gains.own[f]);
    corrected[f] = Math.max(0, flat[f] + gain);
    low[f] = Math.max(0, corrected[f] - unsure - disputed);
    high[f] = corrected[f] + unsure + disputed;
  }
  const ambiguous = bothWays(
    geometry,
    mode,
    doubts.filter(({ ask }) => ask),
    corrected,
    low,
    high,
  );
  return finish(flat, corrected, low, high, ambiguous);
}

interface Doubt {
  readonly face: number;
  readonly stepRad: number;
  readonly facetCount: number;
  readonly taken: FacetAnswer;
  readonly ask: boolean;
}

function trustIn(agreement: number): number {
  return Math.min(1, Math.max(0, (agreement - DISAGREED) / (AGREED - DISAGREED)));
}

/** Smooth faces of few facets, and faces whose inner creases could all be a coarse round. */
function doubtfulFaces({ faces }: PartGeometry, gains: FacetGains, mode: Uint8Array): Doubt[] {
  const doubts: Doubt[] = [];
  const suspects: { readonly face: number; readonly stepRad: number; readonly even: boolean }[] = [];
  for (let face = 0; face < faces.count; face++) {
    if (mode[face] !== FACE_SMOOTH) continue;
    const creased = gains.creaseLength[face] > gains.edgeLength[face];
    const length = creased ? gains.creaseLength[face] : gains.edgeLength[face];
    if (!(length > 0)) continue;
    const stepRad = (creased ? gains.creaseTurn[face] : gains.edgeTurn[face]) / length;
    const squares = (creased ? gains.creaseTurn2[face] : gains.edgeTurn2[face]) / length;
    if (stepRad < FEW_FACETS_RAD || stepRad > ROUND_CREASE_RAD) continue;
    const even = squares / (stepRad * stepRad) - 1 <= ONE_SIZE * ONE_SIZE;
    if (!creased) {
      // Folds that go up and down are no round, and get no correction either.
      const folds = trustIn(gains.agreement[face]) === 0;
      if (!folds && (even || gains.facetCount[face] <= CHAMFERS)) suspects.push({ face, stepRad, even });
    } else if (even && gains.facetCount[face] > CHAMFERS) {
      doubts.push({ face, stepRad, facetCount: gains.facetCount[face], taken: 'flat', ask: true });
    }
  }
  const tangent = suspects.length > 0 ? tangentEnds(faces, suspects) : undefined;
  for (const { face, stepRad, even } of suspects) {
    if (tangent?.has(face)) continue;
    const facetCount = gains.facetCount[face];
    const taken = facetCount > CHAMFERS ? 'round' : 'flat';
    // Two or three flats of different sizes are bevels, and nobody needs to be asked.
    const alike = even && gains.leastFacet[face] >= ALIKE * gains.mostFacet[face];
    doubts.push({ face, stepRad, facetCount, taken, ask: taken === 'round' || alike });
  }
  return doubts.sort((one, two) => one.face - two.face);
}

/** Faces that run into a plane with half a step's turn: a round drawn tangent to it. No row of chamfers does. */
function tangentEnds(
  { borders, kind }: PartGeometry['faces'],
  suspects: readonly { readonly face: number; readonly stepRad: number }[],
): Set<number> {
  const plane = FACE_KINDS.indexOf('plane');
  const stepOf = new Map(suspects.map(({ face, stepRad }) => [face, stepRad]));
  const found = new Set<number>();
  const look = (face: number, beside: number, turnRad: number): void => {
    const step = stepOf.get(face);
    if (step === undefined || kind[beside] !== plane) return;
    const share = Math.abs(turnRad) / step;
    if (share > 0.3 && share < 0.7) found.add(face);
  };
  for (let i = 0; i < borders.a.length; i++) {
    look(borders.a[i], borders.b[i], borders.turnRad[i]);
    look(borders.b[i], borders.a[i], borders.turnRad[i]);
  }
  return found;
}

/** Works the doubtful faces out both ways and widens the range of all they touch. Changes `low` and `high`. */
function bothWays(
  geometry: PartGeometry,
  mode: Uint8Array,
  doubts: readonly Doubt[],
  corrected: Float64Array,
  low: Float64Array,
  high: Float64Array,
): AmbiguousFace[] {
  if (doubts.length === 0) return [];
  const { borders, count } = geometry.faces;
  const takenOf = new Map(doubts.map(({ face, taken }) => [face, taken]));
  // Only these faces and their neighbours can change; the rest is left out of both runs.
  const near = new Uint8Array(count);
  for (let i = 0; i < borders.a.length; i++) {
    if (takenOf.has(borders.a[i])) near[borders.b[i]] = 1;
    if (takenOf.has(borders.b[i])) near[borders.a[i]] = 1;
  }
  const asked = (way: number): FacetGains =>
    facetGains(
      geometry,
      mode.map((own, f) => (takenOf.has(f) ? way : near[f] ? own : FACE_FLAT)),
    );
  const round = asked(FACE_ROUND);
  const plain = asked(FACE_FLAT);
  const change = corrected.map((_, f) => round.own[f] + round.border[f] - plain.own[f] - plain.border[f]);
  const widen = (f: number, taken: FacetAnswer): void => {
    const other = taken === 'round' ? -change[f] : change[f];
    if (other < 0) low[f] = Math.max(0, Math.min(low[f], corrected[f] + other));
    else high[f] = Math.max(high[f], corrected[f] + other);
  };
  const gainOfPart = new Map<number, number>();
  for (const { face, taken } of doubts) {
    widen(face, taken);
    gainOfPart.set(face, change[face]);
  }
  for (let i = 0; i < borders.a.length; i++) {
    for (const [f, g] of [
      [borders.a[i], borders.b[i]],
      [borders.b[i], borders.a[i]],
    ]) {
      const taken = takenOf.get(f);
      if (taken === undefined || takenOf.has(g)) continue;
      widen(g, taken);
      gainOfPart.set(f, gainOfPart.get(f)! + change[g]);
    }
  }
  return doubts.map(({ face, stepRad, facetCount, taken }) => ({
    face,
    facetCount,
    stepRad,
    flatArea: taken === 'flat' ? corrected[face] : corrected[face] - change[face],
    roundArea: taken === 'round' ? corrected[face] : corrected[face] + change[face],
    gainOfPart: gainOfPart.get(face)!,
    taken,
  }));
}

function finish(
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
