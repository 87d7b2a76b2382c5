import { facetCorrection } from '../faces/facet-correction.ts';
import type { FacetAnswer } from '../faces/facet-doubts.ts';
import { withKnownAreas } from '../faces/known-areas.ts';
import { triangleFrom } from '../mesh/mesh-triangles.ts';
import type { PartGeometry } from '../mesh/part-geometry.ts';
import type { PartSurface } from './job-surface.ts';

/** The part with the true areas of its round faces worked out, the user's answers taken. */
export function withFacets(geometry: PartGeometry, answers: PartSurface['facetAnswers']): PartGeometry {
  const byRow = new Map<number, FacetAnswer>();
  for (const answer of answers) {
    const t = triangleFrom(geometry, answer.triangle);
    if (t !== undefined) byRow.set(geometry.faces.faceOfTriangle[t], answer.is);
  }
  const facets = facetCorrection(geometry, { answers: byRow });
  return { ...geometry, facets: geometry.known ? withKnownAreas(facets, geometry, geometry.known) : facets };
}
