import { buildCadFaceTable } from '../faces/build-cad-face-table.ts';
import { buildFaceTable } from '../faces/build-face-table.ts';
import { checkCadFaces, type CadFaces } from '../faces/cad-faces.ts';
import { exactAreas } from '../faces/exact-areas.ts';
import type { KnownAreas } from '../faces/known-areas.ts';
import { settleNeedlesInto } from '../faces/settle-needles.ts';
import type { SurfaceGraph } from '../faces/surface-graph.ts';
import { boundsOf, coordinateNoise } from './bounds.ts';
import { edgeAdjacency } from './edge-adjacency.ts';
import { apartFinding, bodiesApart } from './bodies-apart.ts';
import { findProblems, strayShells } from './find-problems.ts';
import { measureShells } from './measure-shells.ts';
import { measureTriangles } from './measure-triangles.ts';
import type { Body } from './mesh.ts';
import { pairedAdjacency } from './paired-adjacency.ts';
import type { PartGeometry } from './part-geometry.ts';
import { sealedVoids } from './sealed-voids.ts';
import { shellsOf } from './shells.ts';
import { topologyOf } from './topology.ts';
import { weld } from './weld.ts';

export interface AnalyseOptions {
  /** See DEFAULT_SPLIT_ANGLE_RAD in faces/split-faces.ts. */
  readonly splitAngleRad: number;
  /** Faces and exact areas from a CAD file: they stand in place of the split, whatever its angle. */
  readonly cad?: CadFaces;
  /** Of a CAD file's sheet that was given a thickness. */
  readonly known?: KnownAreas;
  /** Of a repaired or fused mesh, see source-triangles.ts. */
  readonly sourceTriangle?: Uint32Array;
  /** Its bodies have been fused: where it still touches itself along an edge, nothing is hidden there. */
  readonly isFused?: boolean;
}

/**
 * Everything that is measured on one part's mesh. The worker and the terminal both call this.
 *
 * @param positions 9 floats a triangle, model units, finite, at least one triangle: reading the file has seen to it
 * @param bodies named runs of triangles, passed on
 * @param onProgress share done, 0 to 1, and a word for what comes next
 * @throws RangeError when positions is empty, not whole triangles, or holds something other than finite numbers, or
 *   when `cad` does not fit it
 */
export function analysePart(
  positions: Float32Array,
  bodies: readonly Body[],
  { splitAngleRad, cad, known, sourceTriangle, isFused = false }: AnalyseOptions,
  onProgress: (fraction: number, phase: string) => void = () => {},
): PartGeometry {
  if (positions.length === 0 || positions.length % 9 !== 0) {
    throw new RangeError(`positions: need whole triangles, at least one; got length ${positions.length}`);
  }
  if (cad) checkCadFaces(cad, positions.length / 9);
  onProgress(0, 'joining corners');
  const indexed = weld(positions);
  onProgress(0.3, 'measuring');
  // Shared corners are a sixth of the loose ones and span the same box.
  const bounds = boundsOf(indexed.vertices);
  const noise = coordinateNoise(bounds);
  const measured = measureTriangles(positions, noise);
  const { normals, needles } = measured;
  if (!Number.isFinite(measured.area) || !Number.isFinite(noise)) {
    throw new RangeError('positions: all must be finite, but their area is not');
  }
  const areas = cad ? exactAreas(measured.areas, cad) : measured.areas;
  const area = cad ? cad.faces.reduce((sum, face) => sum + face.areaModelUnits2, 0) : measured.area;
  onProgress(0.4, 'finding neighbours');
  const adjacency = isFused
    ? pairedAdjacency(indexed)
    : edgeAdjacency(indexed.triangles, indexed.vertices.length / 3);
  onProgress(0.6, 'finding faces');
  settleNeedlesInto(normals, needles, indexed.vertices, indexed.triangles, adjacency.twin);
  const graph: SurfaceGraph = { indexed, twin: adjacency.twin, normals, triangleAreas: areas, noise };
  const faces = cad ? buildCadFaceTable(graph, cad) : buildFaceTable(graph, splitAngleRad, known?.givenFace);
  onProgress(0.9, 'checking');
  const shells = shellsOf(faces);
  const topology = topologyOf(indexed, adjacency, shells.count);
  const { measured: measuredShells, volume } = measureShells(
    positions,
    graph,
    faces,
    shells,
    topology,
    bounds,
  );
  const strays = strayShells(faces, shells, measuredShells);
  const problems = findProblems(graph, faces, shells, measuredShells, strays, topology, bounds, needles);
  const apart = bodiesApart(faces, shells, measuredShells, strays, areas);
  const findings = [
    ...(isFused ? problems.filter(({ code }) => code !== 'bodies-meet') : problems),
    ...apartFinding(apart),
  ];
  const voids = sealedVoids(areas, faces, shells, measuredShells, sourceTriangle);
  onProgress(1, 'done');
  return {
    positions,
    triangleCount: areas.length,
    bodies,
    triangleAreas: areas,
    area,
    volume,
    closed: topology.closed,
    min: bounds.min,
    max: bounds.max,
    topology,
    graph,
    faces,
    findings,
    voids,
    apart,
    ...(sourceTriangle ? { sourceTriangle } : {}),
    ...(cad ? { cad } : {}),
    ...(known ? { known } : {}),
  };
}

/**
 * The same part split into faces at another angle; the mesh itself is not gone over again. The faces of a CAD file stay
 * as they are.
 */
export function resplit(geometry: PartGeometry, splitAngleRad: number): PartGeometry {
  if (geometry.cad) return geometry;
  const faces = buildFaceTable(geometry.graph, splitAngleRad, geometry.known?.givenFace);
  return { ...geometry, faces };
}
