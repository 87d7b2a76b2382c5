import type { PartGeometry } from '../mesh/part-geometry.ts';
import { FACE_KINDS } from './face-table.ts';
import type { Doubt, FacetAnswer } from './facet-doubts.ts';
import { facetGains, type FacetGains } from './facet-gains.ts';
import type { KnownFace } from './surfaces/known-faces.ts';
import { EDGE_CREASE, EDGE_RUNS_ON, FACE_FLAT, FACE_ROUND, FACE_SMOOTH } from './flat-facets.ts';

/** Faces of which the mesh cannot tell whether they are round or flats, with both areas, model units squared. */
export interface AmbiguousFace {
  /** The first of them, by which the question is known. */
  readonly face: number;
  /** All that the answer is about, ascending: one round face, or the flats of one bar. */
  readonly faces: readonly number[];
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

/** How every face is taken, see flat-facets.ts, and the share of its gain that may be wrong. */
export interface Taken {
  readonly mode: Uint8Array;
  readonly known: Uint8Array | undefined;
  readonly share: Float64Array;
  readonly surfaces: ReadonlyMap<number, KnownFace>;
}

/** Works the doubtful faces out both ways and widens the range of all they touch. Changes `low` and `high`. */
export function bothWays(
  geometry: PartGeometry,
  { mode, known, share, surfaces }: Taken,
  doubts: readonly Doubt[],
  corrected: Float64Array,
  low: Float64Array,
  high: Float64Array,
): AmbiguousFace[] {
  if (doubts.length === 0) return [];
  const { borders, kind, area } = geometry.faces;
  const plane = FACE_KINDS.indexOf('plane');
  const doubtOf = new Map(doubts.flatMap((doubt) => doubt.faces.map((face) => [face, doubt])));
  /** Doubts beside a face that is none itself. */
  const beside = new Map<number, Set<Doubt>>();
  for (let i = 0; i < borders.a.length; i++) {
    for (const [f, g] of [
      [borders.a[i], borders.b[i]],
      [borders.b[i], borders.a[i]],
    ]) {
      const doubt = doubtOf.get(f);
      if (!doubt || doubtOf.has(g)) continue;
      const list = beside.get(g);
      if (list) list.add(doubt);
      else beside.set(g, new Set([doubt]));
    }
  }
  // Only these faces and their neighbours can change; the rest is left out of both runs.
  const asked = (is: FacetAnswer): FacetGains => {
    const ways = mode.map((own, f) => {
      const doubt = doubtOf.get(f);
      if (!doubt) return beside.has(f) ? own : FACE_FLAT;
      if (is === 'flat') return FACE_FLAT;
      return kind[f] === plane || doubt.joined.length > 0 ? FACE_SMOOTH : FACE_ROUND;
    });
    const over = known?.slice();
    if (is === 'round') for (const doubt of doubts) markRoundInto(over, doubt);
    return facetGains(geometry, ways, over, surfaces);
  };
  const round = asked('round');
  const plain = asked('flat');
  const gainOf = ({ own, border }: FacetGains, f: number): number => own[f] + border[f];
  const unsureOf = ({ own, border }: FacetGains, f: number): number =>
    share[f] * (Math.abs(own[f]) + Math.abs(border[f]));
  const change = Float64Array.from(corrected, (_, f) => gainOf(round, f) - gainOf(plain, f));
  for (const f of doubtOf.keys()) {
    low[f] = Math.max(0, Math.min(low[f], area[f] + gainOf(plain, f) - unsureOf(plain, f)));
    high[f] = Math.max(high[f], area[f] + gainOf(round, f) + unsureOf(round, f));
  }
  const gainOfPart = new Map(doubts.map((doubt) => [doubt, sumOver(doubt.faces, change)]));
  for (const [f, of] of beside) {
    const takens = new Set(Array.from(of, ({ taken }) => taken));
    // As flats the areas are what they are; the figure for a round has its own uncertainty.
    const unsure = share[f] * Math.abs(change[f]);
    if (takens.has('flat')) {
      low[f] = Math.max(0, Math.min(low[f], corrected[f] + Math.min(0, change[f] - unsure)));
      high[f] = Math.max(high[f], corrected[f] + Math.max(0, change[f] + unsure));
    }
    if (takens.has('round')) {
      low[f] = Math.max(0, Math.min(low[f], corrected[f] - change[f]));
      high[f] = Math.max(high[f], corrected[f] - change[f]);
    }
    const [first] = of;
    gainOfPart.set(first, gainOfPart.get(first)! + change[f]);
  }
  return doubts
    .map((doubt): AmbiguousFace => {
      const { faces, stepRad, facetCount, taken } = doubt;
      const [own, gain] = [sumOver(faces, corrected), sumOver(faces, change)];
      return {
        face: faces[0],
        faces,
        facetCount,
        stepRad,
        flatArea: taken === 'flat' ? own : own - gain,
        roundArea: taken === 'round' ? own : own + gain,
        gainOfPart: gainOfPart.get(doubt)!,
        taken,
      };
    })
    .sort((one, two) => one.face - two.face);
}

/** Says of its edges what they are if it is round. `known` as in flat-facets.ts, not needed where there are no such edges. */
export function markRoundInto(known: Uint8Array | undefined, { joined, creases }: Doubt): void {
  for (const h of joined) known![h] = EDGE_RUNS_ON;
  for (const h of creases) known![h] = EDGE_CREASE;
}

function sumOver(rows: readonly number[], values: Float64Array): number {
  return rows.reduce((total, f) => total + values[f], 0);
}
