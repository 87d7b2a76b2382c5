import { faceEdges } from '../../core/faces/face-edges.ts';
import { withFacets } from '../../core/job/correct-facets.ts';
import { resplit } from '../../core/mesh/analyse-part.ts';
import { success } from '../../core/result.ts';
import type { JobRunners } from './jobs.ts';

export const runResplit: JobRunners['resplit'] = async (
  { geometry, splitAngleRad, facetAnswers },
  report,
) => {
  report({ phase: 'finding faces', fraction: 0 });
  const { faces, facets } = withFacets(resplit(geometry, splitAngleRad), facetAnswers);
  report({ phase: 'drawing edges', fraction: 0.8 });
  const { indexed, twin } = geometry.graph;
  return success({ faces, facets, edges: faceEdges(indexed, twin, faces.faceOfTriangle) });
};
