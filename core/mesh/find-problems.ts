import type { FaceTable } from '../faces/face-table.ts';
import type { SurfaceGraph } from '../faces/surface-graph.ts';
import type { Bounds } from './bounds.ts';
import { duplicateTriangles } from './duplicate-triangles.ts';
import { COLLAPSED_EDGE, CROWDED_EDGE, OPEN_EDGE, runSameWay } from './edge-adjacency.ts';
import type { Finding } from './part-geometry.ts';
import type { ShellMeasure } from './measure-shells.ts';
import type { Shells } from './shells.ts';
import type { Topology } from './topology.ts';

/**
 * Largest extents, in model units, that make a part for somebody's own tank in any of the units a file may be in:
 * from 2 mm read as metres to 5 m read as millimetres. Common practice.
 */
const EXTENT_LOW = 0.002;
const EXTENT_HIGH = 5000;
/** Steps of the coordinates across the part below which curves come out ragged. */
const FEWEST_STEPS = 20_000;

/**
 * What the user should know about the mesh before trusting its area. Empty for a sound one.
 *
 * @param strays as `strayShells` has them
 * @param needles triangles without a direction of their own: those without area are among them
 */
export function findProblems(
  graph: SurfaceGraph,
  faces: FaceTable,
  shells: Shells,
  measured: readonly ShellMeasure[],
  strays: ReadonlySet<number>,
  topology: Topology,
  bounds: Bounds,
  needles: Uint32Array,
): Finding[] {
  const findings: Finding[] = [];
  const { triangles } = graph.indexed;
  const { twin, triangleAreas, noise } = graph;
  const total = triangleAreas.length;
  const extents = bounds.max.map((high, k) => high - bounds.min[k]);
  const largest = Math.max(...extents);

  if (!faces.area.some((area) => area > 0)) {
    findings.push({
      code: 'no-area',
      level: 'stop',
      message: 'All triangles of the model have collapsed to lines or points, so it has no surface.',
      remedy: 'Export the part again and check that it is a solid there.',
      triangles: new Uint32Array(),
    });
    return findings;
  }
  if (largest < EXTENT_LOW || largest > EXTENT_HIGH) {
    findings.push({
      code: 'suspect-size',
      level: 'check',
      message: `The model is ${print(largest)} long in its own units, which is no likely size for a part in mm, cm, m, inches or feet.`,
      remedy:
        'Check the scale in the program that drew it and export it again, or choose the unit that gives its true size.',
      triangles: new Uint32Array(),
    });
  }
  if (largest < FEWEST_STEPS * noise) {
    findings.push({
      code: 'far-from-origin',
      level: 'check',
      message:
        'The model sits so far from its origin that its coordinates are coarse against its size, so small features may be distorted.',
      remedy: 'Move the part to the origin in the program that drew it and export it again.',
      triangles: new Uint32Array(),
    });
  }
  if (topology.openEdges > 0) {
    findings.push({
      code: 'open-edges',
      level: 'check',
      message: `${plural(topology.openEdges, 'edge has', 'edges have')} a triangle on one side only, so the surface has holes or is a sheet without thickness; its area counts one side of what is there.`,
      remedy:
        'Close the holes in the program that drew it, give a sheet its thickness, or go on if the gaps are too small to matter.',
      triangles: trianglesWhere(total, (t) => anyEdge(twin, t, OPEN_EDGE)),
    });
  }
  if (topology.crowdedEdges > 0) {
    findings.push({
      code: 'crowded-edges',
      level: 'check',
      message: `${plural(topology.crowdedEdges, 'edge has', 'edges have')} three triangles or more, so bodies touch there or a wall runs inside the part; hidden surface may be counted.`,
      remedy: 'Fuse the bodies, or join them into one solid in the program that drew them.',
      triangles: trianglesWhere(total, (t) => anyEdge(twin, t, CROWDED_EDGE)),
    });
  }
  if (topology.sameWayEdges > 0) {
    findings.push({
      code: 'turned-triangles',
      level: 'check',
      message: `Along ${plural(topology.sameWayEdges, 'edge', 'edges')} the neighbouring triangles face opposite ways, so inside and outside cannot be told apart there; the area is not affected.`,
      remedy: 'Let the program that drew it make the normals consistent, and export again.',
      triangles: trianglesWhere(total, (t) => {
        for (let h = 3 * t; h < 3 * t + 3; h++) {
          if (twin[h] >= 0 && runSameWay(triangles, h, twin[h])) return true;
        }
        return false;
      }),
    });
  }
  const flat = needles.filter((t) => triangleAreas[t] === 0 || twin[3 * t] === COLLAPSED_EDGE);
  if (flat.length > 0) {
    findings.push({
      code: 'degenerate-triangles',
      level: 'note',
      message: `${plural(flat.length, 'triangle has', 'triangles have')} no area because corners coincide or lie on a line.`,
      remedy: 'Nothing to do: they add nothing to the area and go with their neighbours.',
      triangles: flat,
    });
  }
  const duplicates = duplicateTriangles(triangles, twin);
  if (duplicates.length > 0) {
    findings.push({
      code: 'duplicate-triangles',
      level: 'check',
      message: `${plural(duplicates.length, 'triangle lies', 'triangles lie')} exactly on another one, so that surface is counted twice.`,
      remedy: 'Remove the doubled surface or body in the program that drew it and export again.',
      triangles: duplicates,
    });
  }
  findings.push(...shellFindings(graph, faces, shells, measured, strays));
  return findings;
}

function shellFindings(
  graph: SurfaceGraph,
  faces: FaceTable,
  shells: Shells,
  measured: readonly ShellMeasure[],
  strays: ReadonlySet<number>,
): Finding[] {
  const findings: Finding[] = [];
  const trianglesOf = (chosen: ReadonlySet<number>) =>
    trianglesWhere(graph.triangleAreas.length, (t) => chosen.has(shells.ofFace[faces.faceOfTriangle[t]]));
  const insideOut = new Set(measured.filter((s) => s.role === 'inside-out').map((s) => s.shell));
  if (insideOut.size > 0) {
    const whole = insideOut.size === shells.count;
    findings.push({
      code: 'inside-out',
      level: 'check',
      message: whole
        ? 'The whole model is inside out: its triangles face inwards; the area is not affected.'
        : `${plural(insideOut.size, 'body of the model is', 'bodies of the model are')} inside out: the triangles face inwards; the area is not affected.`,
      remedy: 'Let the program that drew it turn the normals outwards, and export again.',
      triangles: trianglesOf(insideOut),
    });
  }
  const cavities = new Set(measured.filter((s) => s.role === 'cavity').map((s) => s.shell));
  if (cavities.size > 0) {
    findings.push(cavityFinding(cavities.size, trianglesOf(cavities)));
  }
  if (strays.size > 0) {
    const share = sharePercent(faces, shells, strays);
    findings.push({
      code: 'stray-bodies',
      level: 'check',
      message: `${plural(strays.size, 'body is', 'bodies are')} far smaller than the rest, as forgotten sketches and rests of cutting are; together they are ${share} of the area.`,
      remedy: 'Look at them in the view; leave them out if the real part has nothing there.',
      triangles: trianglesOf(strays),
    });
  }
  // Pieces of a torn surface touch each other; whether bodies do shows once its edges are joined.
  const meeting = new Set(
    measured.filter((s) => !s.isOpen && (s.meets || s.role === 'buried')).map((s) => s.shell),
  );
  if (meeting.size > 0) {
    findings.push({
      code: 'bodies-meet',
      level: 'check',
      message: `${plural(meeting.size, 'separate body', 'separate bodies')} of the model touch, cut or lie inside another, so surface hidden between them is counted.`,
      remedy:
        'Fuse the bodies, or join them into one solid in the program that drew them, or mask the hidden faces.',
      triangles: trianglesOf(meeting),
    });
  }
  return findings;
}

/** @param triangles of their walls, ascending */
export function cavityFinding(count: number, triangles: Uint32Array): Finding {
  return {
    code: 'closed-cavity',
    level: 'check',
    message: `The model has ${plural(count, 'cavity', 'cavities')} without a way out, whose walls no bath reaches; they are left out of the area.`,
    remedy:
      'If the real part has a vent or drain there, say so: then the walls count, and acid can stay inside. If it has none, hold it under water first: where bubbles rise, acid creeps in, and comes out of the finished part for days.',
    triangles,
  };
}

/** Less of the largest body's area than this is stray: a hundredth of its size in each direction. */
const STRAY_SHARE = 1e-4;

export function strayShells(
  faces: FaceTable,
  shells: Shells,
  measured: readonly ShellMeasure[],
): ReadonlySet<number> {
  if (shells.count < 2) return new Set();
  const areas = areasOfShells(faces, shells);
  const largest = areas.reduce((most, area) => Math.max(most, area), 0);
  return new Set(
    measured
      .filter(({ role, meets }) => role !== 'cavity' && role !== 'buried' && !meets)
      .filter(({ shell }) => areas[shell] > 0 && areas[shell] < STRAY_SHARE * largest)
      .map(({ shell }) => shell),
  );
}

function areasOfShells(faces: FaceTable, shells: Shells): Float64Array {
  const areas = new Float64Array(shells.count);
  for (let face = 0; face < faces.count; face++) areas[shells.ofFace[face]] += faces.area[face];
  return areas;
}

function sharePercent(faces: FaceTable, shells: Shells, chosen: ReadonlySet<number>): string {
  const areas = areasOfShells(faces, shells);
  const all = areas.reduce((sum, area) => sum + area, 0);
  const own = [...chosen].reduce((sum, shell) => sum + areas[shell], 0);
  return `${Number(((100 * own) / all).toPrecision(2))} %`;
}

function trianglesWhere(count: number, member: (triangle: number) => boolean): Uint32Array {
  const found: number[] = [];
  for (let t = 0; t < count; t++) if (member(t)) found.push(t);
  return Uint32Array.from(found);
}

function anyEdge(twin: Int32Array, t: number, code: number): boolean {
  return twin[3 * t] === code || twin[3 * t + 1] === code || twin[3 * t + 2] === code;
}

function plural(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

function print(value: number): string {
  return Number(value.toPrecision(3)).toString();
}
