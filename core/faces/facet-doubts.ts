import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { CoarseRound } from './coarse-rounds.ts';
import { FACE_KINDS } from './face-table.ts';
import type { FacetGains } from './facet-gains.ts';
import { spanOnCone, trustIn } from './facet-unsure.ts';
import { FACE_SMOOTH, ROUND_CREASE_RAD } from './flat-facets.ts';

/** What the user says about a face that could be either. */
export type FacetAnswer = 'round' | 'flat';

const CONE = FACE_KINDS.indexOf('cone');
/** From here on few facets of one size may be meant: 25 and fewer round. Finer flats do not take 0.4 % to be wrong. */
const FEW_FACETS_RAD = (14 * Math.PI) / 180;
/** Facets that span more are those of a hexagon. */
const HEXAGON_RAD = (52 * Math.PI) / 180;
/** Spread of the turns (standard deviation over mean) up to which facets are of one size. */
const ONE_SIZE = 0.03;
/** Up to this many facets, without a tangent end, are sooner chamfers than a round. */
const CHAMFERS = 3;
/** Smallest over largest facet from which on so few are of one size. */
const ALIKE = 0.9;

/** Faces that could be a round or flats. */
export interface Doubt {
  readonly faces: readonly number[];
  /** Half-edges that are no creases if it is round, see coarse-rounds.ts. */
  readonly joined: readonly number[];
  /** … and that are some. */
  readonly creases: readonly number[];
  readonly stepRad: number;
  readonly facetCount: number;
  readonly taken: FacetAnswer;
  readonly ask: boolean;
}

/** What is taken of a round found among creases, given what the user said of its faces. */
export function coarseDoubt(
  round: CoarseRound,
  answers: ReadonlyMap<number, FacetAnswer> | undefined,
): Doubt {
  const said = round.faces.map((face) => answers?.get(face)).find((answer) => answer !== undefined);
  return { ...round, taken: said ?? (round.even ? 'flat' : 'round'), ask: round.even && said === undefined };
}

/**
 * Smooth faces of few facets, and faces whose inner creases could all be a coarse round.
 *
 * @param mode per face, see flat-facets.ts
 * @param settled rows that are left out
 */
export function doubtfulFaces(
  { faces }: PartGeometry,
  gains: FacetGains,
  mode: Uint8Array,
  settled: ReadonlySet<number>,
): Doubt[] {
  const doubts: Doubt[] = [];
  const suspects: { readonly face: number; readonly stepRad: number; readonly even: boolean }[] = [];
  for (let face = 0; face < faces.count; face++) {
    if (mode[face] !== FACE_SMOOTH || settled.has(face)) continue;
    const creased = gains.creaseLength[face] > gains.edgeLength[face];
    const length = creased ? gains.creaseLength[face] : gains.edgeLength[face];
    if (!(length > 0)) continue;
    const stepRad = (creased ? gains.creaseTurn[face] : gains.edgeTurn[face]) / length;
    const squares = (creased ? gains.creaseTurn2[face] : gains.edgeTurn2[face]) / length;
    if (stepRad < FEW_FACETS_RAD || stepRad > ROUND_CREASE_RAD) continue;
    const even = squares / (stepRad * stepRad) - 1 <= ONE_SIZE * ONE_SIZE;
    if (!creased && faces.kind[face] === CONE && spanOnCone(faces, face, stepRad) > HEXAGON_RAD) {
      // The chamfer of a nut: of six facets round nobody is in doubt.
      const facetCount = gains.facetCount[face];
      doubts.push({ faces: [face], joined: [], creases: [], stepRad, facetCount, taken: 'flat', ask: false });
    } else if (!creased) {
      // Folds that go up and down are no round, and get no correction either.
      const folds = trustIn(gains.agreement[face]) === 0;
      if (!folds && (even || gains.facetCount[face] <= CHAMFERS)) suspects.push({ face, stepRad, even });
    } else if (even && gains.facetCount[face] > CHAMFERS) {
      const facetCount = gains.facetCount[face];
      doubts.push({ faces: [face], joined: [], creases: [], stepRad, facetCount, taken: 'flat', ask: true });
    }
  }
  const tangent = suspects.length > 0 ? tangentEnds(faces, suspects) : undefined;
  for (const { face, stepRad, even } of suspects) {
    if (tangent?.has(face)) continue;
    const facetCount = gains.facetCount[face];
    const taken = facetCount > CHAMFERS ? 'round' : 'flat';
    // Two or three flats of different sizes are bevels, and nobody needs to be asked.
    const alike = even && gains.leastFacet[face] >= ALIKE * gains.mostFacet[face];
    doubts.push({
      faces: [face],
      joined: [],
      creases: [],
      stepRad,
      facetCount,
      taken,
      ask: taken === 'round' || alike,
    });
  }
  return doubts;
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

/**
 * The point of a rod with as many facets as the rod is asked about together with it: one is not round and the other flats.
 */
export function withCoarse(
  { borders }: PartGeometry['faces'],
  coarse: readonly Doubt[],
  doubts: readonly Doubt[],
): { readonly lone: Doubt[]; readonly together: Doubt[] } {
  const lone = new Set(doubts);
  const doubtOf = new Map(doubts.flatMap((doubt) => doubt.faces.map((face) => [face, doubt])));
  const together = coarse.map((round): Doubt => {
    if (!round.ask || lone.size === 0) return round;
    const own = new Set(round.faces);
    for (let i = 0; i < borders.a.length; i++) {
      for (const [f, g] of [
        [borders.a[i], borders.b[i]],
        [borders.b[i], borders.a[i]],
      ]) {
        const beside = doubtOf.get(g);
        if (!own.has(f) || !beside || !lone.has(beside)) continue;
        if (beside.facetCount !== round.facetCount) continue;
        lone.delete(beside);
        for (const face of beside.faces) own.add(face);
      }
    }
    return { ...round, faces: [...own].sort((a, b) => a - b) };
  });
  return { lone: [...lone], together };
}
