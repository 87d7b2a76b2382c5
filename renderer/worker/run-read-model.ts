import { ShapeUtils, Vector2 } from 'three';
import { OBJLoader, STLLoader } from 'three-stdlib';
import { faceEdges } from '../../core/faces/face-edges.ts';
import { analysePart } from '../../core/mesh/analyse-part.ts';
import type { ModelLoaders } from '../../core/model-files/loader-parsers.ts';
import { readModel } from '../../core/model-files/read-model.ts';
import { success } from '../../core/result.ts';
import type { JobRunners } from './jobs.ts';
import { readContent } from './read-content.ts';

/** Shares of the whole job's time, from a million-triangle binary STL: reading, parsing, measuring. */
const READ_END = 0.15;
const PARSE_END = 0.35;

const loaders: ModelLoaders = {
  stl: new STLLoader(),
  obj: new OBJLoader(),
  cutPolygon: (contour) =>
    ShapeUtils.triangulateShape(
      contour.map(({ x, y }) => new Vector2(x, y)),
      [],
    ),
};

/** Reads a model file, checks it, measures it and splits it into faces. */
export const runReadModel: JobRunners['readModel'] = async ({ name, content, splitAngleRad }, report) => {
  const file = await readContent(name, content, (bytesRead, bytesTotal) =>
    report({
      phase: 'reading',
      fraction: bytesTotal ? (bytesRead / bytesTotal) * READ_END : null,
      bytesRead,
      ...(bytesTotal === null ? {} : { bytesTotal }),
    }),
  );
  if (!file.ok) return file;
  const bytes = file.value;
  report({ phase: 'taking the file apart', fraction: READ_END });
  const model = readModel({
    name,
    bytes,
    loaders,
    onProgress: (fraction) =>
      report({ phase: 'taking the file apart', fraction: READ_END + fraction * (PARSE_END - READ_END) }),
  });
  if (!model.ok) return model;
  const { positions, bodies, format, declaredUnit, notes } = model.value;
  const geometry = analysePart(positions, bodies, { splitAngleRad }, (fraction, phase) =>
    report({ phase, fraction: PARSE_END + fraction * (0.97 - PARSE_END) }),
  );
  report({ phase: 'drawing edges', fraction: 0.97 });
  const edges = faceEdges(geometry.graph.indexed, geometry.graph.twin, geometry.faces.faceOfTriangle);
  return success({ geometry, edges, bytes, format, declaredUnit: declaredUnit ?? null, notes });
};
