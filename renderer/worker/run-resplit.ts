import { buildFaceTable } from '../../core/faces/build-face-table.ts';
import { faceEdges } from '../../core/faces/face-edges.ts';
import { success } from '../../core/result.ts';
import type { JobRunners } from './jobs.ts';

export const runResplit: JobRunners['resplit'] = async ({ graph, splitAngleRad }, report) => {
  report({ phase: 'finding faces', fraction: 0 });
  const faces = buildFaceTable(graph, splitAngleRad);
  report({ phase: 'drawing edges', fraction: 0.8 });
  return success({ faces, edges: faceEdges(graph.indexed, graph.twin, faces.faceOfTriangle) });
};
