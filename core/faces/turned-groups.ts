import { edgeLength } from '../mesh/edge-length.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import { edgeTurns } from './edge-turns.ts';
import type { FacetAnswer } from './facet-doubts.ts';
import { CREASE_RAD } from './flat-facets.ts';
import type { OutlineChord } from './outline-arcs.ts';
import { type TurnedPiece } from './turned-pieces.ts';

/** Facets round, all of one size, that may be meant: see facet-doubts.ts. */
const MOST_MEANT = 25;

/** Bands of a piece with no crease between them, flat ones left out. */
export interface TurnedGroup {
  readonly bands: readonly number[];
  /** Ascending. */
  readonly faces: readonly number[];
  readonly facetCount: number;
  /** Angle about the axis from one triangle to the next, rad. */
  readonly stepRad: number;
  readonly taken: FacetAnswer;
  readonly ask: boolean;
}

/**
 * Bands that are not flat, put together where the outline runs on from one to the next.
 *
 * @param isFlat per band
 * @param told per band whether it is taken for round here: about others nothing is asked
 */
export function turnedGroups(
  geometry: PartGeometry,
  piece: TurnedPiece,
  chords: readonly OutlineChord[],
  isFlat: readonly boolean[],
  told: readonly boolean[],
  answers: ReadonlyMap<number, FacetAnswer> | undefined,
): TurnedGroup[] {
  const lists: number[][] = [];
  let own: number[] = [];
  piece.bands.forEach((_, i) => {
    if (!isFlat[i]) own.push(i);
    if (chords[i].runsOn) return;
    if (own.length > 0) lists.push(own);
    own = [];
  });
  if (piece.isLoop && lists.length > 0) lists[0] = [...own, ...lists[0]];
  else if (own.length > 0) lists.push(own);
  const judged = (bands: readonly number[], isMeant: boolean): TurnedGroup => {
    const rows = new Set<number>();
    let facetCount = 0;
    for (const i of bands) {
      facetCount += piece.bands[i].length;
      let last = -1;
      for (const t of piece.bands[i]) {
        const face = geometry.faces.faceOfTriangle[t];
        if (face !== last) rows.add(face);
        last = face;
      }
    }
    const faces = [...rows].sort((a, b) => a - b);
    const said = faces.map((face) => answers?.get(face)).find((answer) => answer !== undefined);
    return {
      bands,
      faces,
      facetCount,
      stepRad: (2 * Math.PI) / piece.bands[bands[0]].length,
      taken: said ?? 'round',
      ask: said === undefined && isMeant && bands.every((i) => told[i]),
    };
  };
  // What is asked about and meets the next such one in a ring is one question: one is not round and the other flats.
  const groups: TurnedGroup[] = [];
  for (const list of lists) {
    const group = judged(list, mayBeMeant(geometry, piece, list));
    const before = groups.at(-1);
    if (before?.ask && group.ask && before.bands.at(-1) === list[0] - 1) {
      groups[groups.length - 1] = judged([...before.bands, ...list], true);
    } else groups.push(group);
  }
  return groups;
}

/** Whether triangles of one size may be flats that are meant: one row of few, or some that mostly meet in creases. */
function mayBeMeant(
  { graph }: PartGeometry,
  { rings, bands, isLoop }: TurnedPiece,
  own: readonly number[],
): boolean {
  if (!own.every((i) => rings[i].even && rings[(i + 1) % rings.length].even)) return false;
  if (own.length === 1) return bands[own[0]].length <= MOST_MEANT;
  const { twin, indexed } = graph;
  const turns = edgeTurns(graph);
  const isWhole = isLoop && own.length === bands.length;
  const rims = new Set(
    isWhole ? [] : [own[0], (own.at(-1)! + 1) % rings.length].flatMap((i) => rings[i].halfEdges),
  );
  let creased = 0;
  let all = 0;
  for (const i of own) {
    // Round a band all are alike.
    for (const t of bands[i].slice(0, 2)) {
      for (let h = 3 * t; h < 3 * t + 3; h++) {
        if (rims.has(h) || rims.has(twin[h])) continue;
        const length = edgeLength(indexed, h);
        all += length;
        if (Math.abs(turns[h]) >= CREASE_RAD) creased += length;
      }
    }
  }
  return 2 * creased > all;
}
