import { buildFaceTable } from '../../core/faces/build-face-table.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../core/faces/split-faces.ts';
import { analysePart, resplit } from '../../core/mesh/analyse-part.ts';
import { boundsOf, coordinateNoise } from '../../core/mesh/bounds.ts';
import { edgeAdjacency } from '../../core/mesh/edge-adjacency.ts';
import { measureTriangles } from '../../core/mesh/measure-triangles.ts';
import { weld } from '../../core/mesh/weld.ts';
import { medianOf, printTimings, timeCases, type BenchSubject, type Timing } from './harness.ts';
import { filletedKnobs, wavyTorus } from './meshes.ts';

/**
 * Weld, normals, neighbours and faces; each alone and all together. The promise is on the wavy torus in grid order;
 * the other meshes show what order and shape do to it.
 */
export const analysis: BenchSubject = {
  name: 'geometry/analysis',
  run: () => {
    const grid = wavyTorus(1_000_000);
    const large = wavyTorus(5_000_000);
    const small = measure('wavy torus, grid order', grid, 7);
    measure('wavy torus, no order', wavyTorus(1_000_000, true), 5);
    measure('knobs with fillets', filletedKnobs(1_000_000), 5);
    measure('wavy torus, grid order', large, 5);
    // In the same rounds, so that a busy machine slows both.
    const growth = timeCases(
      [
        { name: '1 M', run: () => together(grid) },
        { name: '5 M', run: () => together(large) },
      ],
      9,
    );
    printTimings('growth', growth);
    return [
      {
        what: '1 M: weld + normals + neighbours + faces',
        value: medianOf(small, 'together'),
        limit: 450,
        unit: ' ms',
      },
      {
        what: 'growth from 1 M to 5 M against linear',
        value: medianOf(growth, '5 M') / (5 * medianOf(growth, '1 M')),
        limit: 1.2,
        unit: ' ×',
      },
    ];
  },
};

function measure(title: string, positions: Float32Array, rounds: number): Timing[] {
  const options = { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD };
  const indexed = weld(positions);
  const vertexCount = indexed.vertices.length / 3;
  const noise = coordinateNoise(boundsOf(indexed.vertices));
  const { areas, normals } = measureTriangles(positions, noise);
  const { twin } = edgeAdjacency(indexed.triangles, vertexCount);
  const graph = { indexed, twin, normals, triangleAreas: areas, noise };
  const part = analysePart(positions, [], options);
  const timings = timeCases(
    [
      { name: 'weld', run: () => weld(positions) },
      { name: 'areas and normals', run: () => measureTriangles(positions, noise) },
      { name: 'neighbours', run: () => edgeAdjacency(indexed.triangles, vertexCount) },
      { name: 'faces', run: () => buildFaceTable(graph, options.splitAngleRad) },
      { name: 'together', run: () => together(positions) },
      { name: 'whole analysis', run: () => analysePart(positions, [], options) },
      { name: 'another split angle', run: () => resplit(part, 0.5) },
    ],
    rounds,
  );
  const count = (part.triangleCount / 1e6).toFixed(1);
  printTimings(`${title}, ${count} M triangles, ${part.faces.count} faces`, timings, 'together');
  return timings;
}

/** Weld, normals, neighbours, faces: what the promise is on. */
function together(positions: Float32Array): unknown {
  const indexed = weld(positions);
  const noise = coordinateNoise(boundsOf(indexed.vertices));
  const { areas, normals } = measureTriangles(positions, noise);
  const { twin } = edgeAdjacency(indexed.triangles, indexed.vertices.length / 3);
  const graph = { indexed, twin, normals, triangleAreas: areas, noise };
  return buildFaceTable(graph, DEFAULT_SPLIT_ANGLE_RAD);
}
