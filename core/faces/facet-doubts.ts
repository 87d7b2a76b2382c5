import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { CoarseRound } from './coarse-rounds.ts';
import { FACE_KINDS } from './face-table.ts';
import type { FacetGains } from './facet-gains.ts';
import { spanOnCone, trustIn } from './facet-unsure.ts';
import { FacetSides } from './facet-sides.ts';
import { CREASE_RAD, FACE_SMOOTH, ROUND_CREASE_RAD } from './flat-facets.ts';
import { bendsSteadily, roundEvidence, type RoundEvidence } from './round-evidence.ts';
import { trianglesByFace } from './triangles-by-face.ts';

/** What the user says about a face that could be either. */
export type FacetAnswer = 'round' | 'flat';

const CYLINDER = FACE_KINDS.indexOf('cylinder');
const CONE = FACE_KINDS.indexOf('cone');
/** From here on few facets of one size may be meant: 25 and fewer round. Finer flats do not take 0.4 % to be wrong. */
const FEW_FACETS_RAD = (14 * Math.PI) / 180;
/** A face of no more facets may be flats however little they turn … */
const FEW_FACETS = 10;
/** … and so may one that is no cylinder: the steps of a cut stone. */
const FEW_ZONES = 75;
/** Spread of the turns (standard deviation over mean) up to which facets are of one size. */
const ONE_SIZE = 0.03;
/** Up to this many facets, without a tangent end, are sooner chamfers than a round. */
const CHAMFERS = 3;
/** Smallest over largest facet from which on so few are of one size. */
const ALIKE = 0.9;

/** Cosine of a cone's half-angle below which its facets turn too little to tell how wide they are. */
const NEARLY_FLAT = 0.05;

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
  { graph, faces }: PartGeometry,
  gains: FacetGains,
  mode: Uint8Array,
  settled: ReadonlySet<number>,
): Doubt[] {
  const doubts: Doubt[] = [];
  const suspects: Suspect[] = [];
  for (let face = 0; face < faces.count; face++) {
    if (mode[face] !== FACE_SMOOTH || settled.has(face)) continue;
    const facetCount = gains.facetCount[face];
    const creased =
      gains.creaseLength[face] > gains.edgeLength[face] &&
      gains.creaseTurn[face] > CREASE_RAD * gains.creaseLength[face];
    const length = creased ? gains.creaseLength[face] : gains.edgeLength[face];
    if (!(length > 0)) {
      // So flat that its turns do not count, which its rim does not show.
      if (gains.border[face] !== 0 && facetCount <= FEW_ZONES)
        suspects.push({ face, stepRad: 0, even: true });
      continue;
    }
    const stepRad = (creased ? gains.creaseTurn[face] : gains.edgeTurn[face]) / length;
    const squares = (creased ? gains.creaseTurn2[face] : gains.edgeTurn2[face]) / length;
    if (stepRad > ROUND_CREASE_RAD) continue;
    const even = squares / (stepRad * stepRad) - 1 <= ONE_SIZE * ONE_SIZE;
    if (creased) {
      // Uneven ones are no round that is known as such, and yet few of their edges are smooth: chamfers on a bar of few sides.
      const isFolded = !even && facetCount <= FEW_ZONES && trustIn(gains.agreement[face]) > 0;
      if ((even || isFolded) && facetCount > CHAMFERS) {
        doubts.push({ ...ALONE, faces: [face], stepRad, facetCount, taken: 'flat', ask: true });
      }
      // Folds that go up and down are no round, and get no correction either.
    } else if (trustIn(gains.agreement[face]) > 0) {
      const isFew = facetCount <= (faces.kind[face] === CYLINDER ? FEW_FACETS : FEW_ZONES);
      if (isFew || isCoarse(faces, face, stepRad, facetCount)) suspects.push({ face, stepRad, even });
    }
  }
  if (suspects.length === 0) return doubts;
  const mesh = new FacetSides(graph);
  const tangent = tangentEnds(faces, suspects);
  const trianglesOf = trianglesByFace(
    faces.faceOfTriangle,
    suspects.map(({ face }) => face),
  );
  for (const suspect of suspects) {
    const { face, even } = suspect;
    const facetCount = gains.facetCount[face];
    const triangles = trianglesOf.get(face)!;
    const { is, spanRad } = evidenceOf(mesh, triangles, faces.kind[face], facetCount, even);
    const stepRad = suspect.stepRad || spanRad;
    // Two or three flats of different sizes are bevels, and nobody needs to be asked.
    const isAlike = even && gains.leastFacet[face] >= ALIKE * gains.mostFacet[face];
    const mayBeTangent = facetCount > CHAMFERS || isAlike;
    if (is === 'round' || (is === 'equal' && spanRad > 0 && mayBeTangent && tangent.has(face))) continue;
    if (is === 'equal' && spanRad < FEW_FACETS_RAD && !isCoarse(faces, face, stepRad, facetCount)) continue;
    const doubt = { ...ALONE, faces: [face], stepRad, facetCount };
    if (is === 'flats') doubts.push({ ...doubt, taken: 'flat', ask: false });
    else if (facetCount <= CHAMFERS) doubts.push({ ...doubt, taken: 'flat', ask: isAlike });
    else {
      const taken = is === 'equal' || bendsSteadily(mesh, triangles) ? 'round' : 'flat';
      doubts.push({ ...doubt, taken, ask: true });
    }
  }
  return doubts;
}

/** Whether a face's facets are so wide that they may be flats. Of a cone that is nearly a disc their number tells, not their turn. */
function isCoarse(faces: PartGeometry['faces'], face: number, stepRad: number, facetCount: number): boolean {
  if (faces.kind[face] === CONE && Math.cos(faces.size[face]) < NEARLY_FLAT) {
    return 2 * Math.PI >= FEW_FACETS_RAD * facetCount;
  }
  return (faces.kind[face] === CONE ? spanOnCone(faces, face, stepRad) : stepRad) >= FEW_FACETS_RAD;
}

interface Suspect {
  readonly face: number;
  readonly stepRad: number;
  /** All its turns are alike. */
  readonly even: boolean;
}

/** Of a doubt about one face. */
const ALONE = { joined: [], creases: [] };

/** Facets whose corners lie on a surface of each kind by no chance. */
const ON_SURFACE = new Map(
  (
    [
      ['cylinder', 5],
      ['cone', 5],
      ['sphere', 16],
      ['torus', 24],
    ] as const
  ).map(([kind, facets]) => [FACE_KINDS.indexOf(kind), facets]),
);
/** A face of more facets is not looked at one by one. */
const MOST_FACETS = 400;

function evidenceOf(
  mesh: FacetSides,
  triangles: readonly number[],
  kind: number,
  facetCount: number,
  even: boolean,
): RoundEvidence {
  const found =
    facetCount > MOST_FACETS
      ? ({ is: 'untold', spanRad: 0, isTold: false } as const)
      : roundEvidence(mesh, triangles);
  if (found.is !== 'untold' || found.isTold) return found;
  if (even) return { ...found, is: 'equal' };
  return facetCount >= (ON_SURFACE.get(kind) ?? MOST_FACETS) ? { ...found, is: 'round' } : found;
}

/** Faces that run into a plane with half a step's turn: a round drawn tangent to it. No row of chamfers does. */
function tangentEnds({ borders, kind }: PartGeometry['faces'], suspects: readonly Suspect[]): Set<number> {
  const plane = FACE_KINDS.indexOf('plane');
  const stepOf = new Map(suspects.map(({ face, stepRad }) => [face, stepRad]));
  const found = new Set<number>();
  const look = (face: number, beside: number, turnRad: number): void => {
    const step = stepOf.get(face);
    if (step === undefined || kind[beside] !== plane) return;
    const share = Math.abs(turnRad) / step;
    if (share > 0.4 && share < 0.6) found.add(face);
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
