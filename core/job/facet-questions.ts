import type { AmbiguousFace } from '../faces/facets-both-ways.ts';
import { faceId } from '../faces/face-table.ts';
import { sourceOf } from '../mesh/mesh-triangles.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { Part } from './job.ts';
import { worthAsking } from './worth-asking.ts';

/** Faces of which the mesh cannot tell whether they are one round, drawn coarse, or flat sides. */
export interface FacetQuestion {
  /** The first of them. */
  readonly row: number;
  /** All that the answer is about. */
  readonly rows: readonly number[];
  readonly facetCount: number;
  /** Of these faces. */
  readonly flatM2: number;
  readonly roundM2: number;
  /** Of the whole part, its ends too: round less flat. */
  readonly gainM2: number;
  readonly taken: AmbiguousFace['taken'];
}

/**
 * Those that matter, see worth-asking.ts.
 *
 * @param scale2 square metres in one square model unit
 */
export function facetQuestions({ area, facets }: PartGeometry, part: Part, scale2: number): FacetQuestion[] {
  if (part.surface.facets !== 'true') return [];
  return worthAsking(facets?.ambiguous ?? [], area).map(
    ({ face, faces, facetCount, flatArea, roundArea, gainOfPart, taken }) => ({
      row: face,
      rows: faces,
      facetCount,
      flatM2: flatArea * scale2,
      roundM2: roundArea * scale2,
      gainM2: gainOfPart * scale2,
      taken,
    }),
  );
}

/** An answer about a face, kept for every face that is asked about together with it. */
export function withFacetAnswer(part: Part, geometry: PartGeometry, row: number, is: 'round' | 'flat'): Part {
  const asked = geometry.facets?.ambiguous.find(({ faces }) => faces.includes(row));
  const said = (asked?.faces ?? [row]).map((face) => sourceOf(geometry, geometry.faces.firstTriangle[face]));
  const others = part.surface.facetAnswers.filter(({ triangle }) => !said.includes(triangle));
  const facetAnswers = [...others, ...said.map((triangle) => ({ triangle, is }))];
  return { ...part, surface: { ...part.surface, facetAnswers } };
}

/** "f2 to f9", "f2 and f7", "f2, f5 and 6 more". */
export function rowsText(rows: readonly number[]): string {
  const ids = rows.map(faceId);
  const [first] = ids;
  if (rows.length > 2 && rows.every((row, i) => row === rows[0] + i)) return `${first} to ${ids.at(-1)}`;
  if (rows.length <= 2) return ids.join(' and ');
  return `${first}, ${ids[1]} and ${rows.length - 2} more`;
}

/** The question in words, as window, messages and terminal ask it. */
export function questionText({ rows, facetCount }: Pick<FacetQuestion, 'rows' | 'facetCount'>): string {
  return rows.length === 1
    ? `Is ${rowsText(rows)} round, or does it have ${facetCount} flat sides?`
    : `Are ${rowsText(rows)} one round, drawn coarse with ${facetCount} facets, or flat sides?`;
}
