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
/** Share of a correction that may be wrong: the worst found on drawn shapes is 0.1, see the table above. */
const UNSURE = 0.1;
/** Agreement of neighbours above which differences are the surface's own … */
const AGREED = 0.8;
/** … and below which they are all noise or folds. */
const DISAGREED = 0.3;

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

/** Smooth faces of few facets of one size, and faces whose inner creases could all be a coarse round. */
function doubtfulFaces({ faces }: PartGeometry, gains: FacetGains, mode: Uint8Array): Doubt[] {
  const { borders } = faces;
  const doubts: Doubt[] = [];
  let tangentTurn: Float64Array | undefined;
  const plane = FACE_KINDS.indexOf('plane');
  for (let face = 0; face < faces.count; face++) {
    if (mode[face] !== FACE_SMOOTH) continue;
    const facetCount = gains.facetCount[face];
    const creased = gains.creaseLength[face] > gains.edgeLength[face];
    const length = creased ? gains.creaseLength[face] : gains.edgeLength[face];
    if (!(length > 0)) continue;
    const stepRad = (creased ? gains.creaseTurn[face] : gains.edgeTurn[face]) / length;
    const squares = (creased ? gains.creaseTurn2[face] : gains.edgeTurn2[face]) / length;
    if (stepRad < FEW_FACETS_RAD || stepRad > ROUND_CREASE_RAD) continue;
    // Folds that go up and down are no round.
    if (!creased && trustIn(gains.agreement[face]) === 0) continue;
    if (squares / (stepRad * stepRad) - 1 > ONE_SIZE * ONE_SIZE) continue;
    if (creased) {
      doubts.push({ face, stepRad, facetCount, taken: 'flat', ask: true });
      continue;
    }
    // A round that runs into planes on its tangents turns by half a step there; no row of chamfers does.
    if (!tangentTurn) {
      tangentTurn = new Float64Array(faces.count);
      for (let i = 0; i < borders.a.length; i++) {
        const [a, b] = [borders.a[i], borders.b[i]];
        const turn = Math.abs(borders.turnRad[i]);
        if (faces.kind[b] === plane) tangentTurn[a] = nearerHalf(tangentTurn[a], turn, gains, a);
        if (faces.kind[a] === plane) tangentTurn[b] = nearerHalf(tangentTurn[b], turn, gains, b);
      }
    }
    const share = tangentTurn[face] / stepRad;
    if (share > 0.3 && share < 0.7) continue;
    const taken = facetCount > CHAMFERS ? 'round' : 'flat';
    // Two or three flats of different sizes are bevels, and nobody needs to be asked.
    const bevels = taken === 'flat' && gains.leastFacet[face] < ALIKE * gains.mostFacet[face];
    doubts.push({ face, stepRad, facetCount, taken, ask: !bevels });
  }
  return doubts;
}

function nearerHalf(known: number, turn: number, gains: FacetGains, face: number): number {
  const half = gains.edgeTurn[face] / (gains.edgeLength[face] || 1) / 2;
  return known === 0 || Math.abs(turn - half) < Math.abs(known - half) ? turn : known;
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
