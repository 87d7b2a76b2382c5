import type { FaceTable } from '../faces/face-table.ts';
import type { SurfaceGraph } from '../faces/surface-graph.ts';
import type { Bounds } from './bounds.ts';
import { joinSets, rootOf, singleSets } from './disjoint-sets.ts';
import { CROWDED_EDGE, OPEN_EDGE, runSameWay } from './edge-adjacency.ts';
import type { Topology } from './topology.ts';
import type { Shells } from './shells.ts';
import { holds, intersection, overlap, overlapping, shellBoxes, type Box } from './shell-boxes.ts';
import { membersOf } from './members-of.ts';
import { volumeAndParts } from './signed-volume.ts';
import { trianglesTouch } from './triangles-touch.ts';
import { windingNumber } from './winding-number.ts';

export interface ShellMeasure {
  readonly shell: number;
  readonly volume: number;
  /** Closed and all one way round. */
  readonly sound: boolean;
  /** It is a sheet or torn: edges of it have a triangle on one side only. */
  readonly isOpen: boolean;
  /**
   * `cavity` faces inwards and lies in another body, as the wall of a hollow does; `buried` faces outwards and lies in
   * another body. Open or mixed shells are `body`.
   */
  readonly role: 'body' | 'inside-out' | 'cavity' | 'buried';
  /** Its surface touches or cuts another body's. */
  readonly meets: boolean;
  /** Lowest of the shells it hangs together with, over bodies that touch, cut or lie in one another; its own number alone. */
  readonly piece: number;
}

/** A lattice or a scan's crumbs can have more; where all their boxes overlap the pairs alone would take seconds then. */
export const MOST_SHELLS = 5000;

/** Volume and role of every shell, and the volume of all. One sound shell is the usual case and costs one pass. */
export function measureShells(
  positions: Float32Array,
  graph: SurfaceGraph,
  faces: FaceTable,
  shells: Shells,
  topology: Topology,
  bounds: Bounds,
): { readonly measured: ShellMeasure[]; readonly volume: number } {
  const from = bounds.min.map((low, k) => (low + bounds.max[k]) / 2) as [number, number, number];
  if (shells.count === 1) {
    const { volume } = volumeAndParts(positions, from);
    const { closed, openEdges } = topology;
    const role = closed && volume < 0 ? 'inside-out' : 'body';
    const one = { shell: 0, volume, sound: closed, isOpen: openEdges > 0, meets: false, piece: 0 };
    return { measured: [{ ...one, role }], volume };
  }
  const total = graph.triangleAreas.length;
  const of = new Uint32Array(total);
  const { faceOfTriangle } = faces;
  const { ofFace } = shells;
  // A face's triangles mostly come in runs.
  for (let t = 0; t < total;) {
    const face = faceOfTriangle[t];
    const shell = ofFace[face];
    for (; t < total && faceOfTriangle[t] === face; t++) of[t] = shell;
  }
  const sound = new Uint8Array(shells.count).fill(1);
  const isOpen = new Uint8Array(shells.count);
  const { twin } = graph;
  const { triangles } = graph.indexed;
  const allSound = topology.closed && topology.collapsedTriangles === 0;
  for (let t = 0, h = 0; t < total && !allSound; t++) {
    for (let k = 0; k < 3; k++, h++) {
      const other = twin[h];
      if (other === OPEN_EDGE) isOpen[of[t]] = 1;
      if (other < 0 || runSameWay(triangles, h, other)) sound[of[t]] = 0;
    }
  }
  const { volume: whole, parts: volumes } = volumeAndParts(positions, from, { of, count: shells.count });
  const boxes = shellBoxes(positions, of, shells.count);
  // Apart as they mostly lie, no two are compared triangle by triangle.
  let lists: Uint32Array[] | undefined;
  const members = (): Uint32Array[] => (lists ??= membersOf(of, shells.count));
  const slack = 4 * graph.noise;
  const pairsAreFew = shells.count <= MOST_SHELLS;
  const beside = pairsAreFew ? overlapping(boxes, slack) : (): number[] => [];
  const pieces = singleSets(shells.count);
  if (topology.crowdedEdges > 0) joinOverCrowdedEdges(pieces, of, graph);
  const met = new Map<number, boolean>();
  const meet = (a: number, b: number): boolean => {
    const pair = Math.min(a, b) * shells.count + Math.max(a, b);
    let answer = met.get(pair);
    if (answer === undefined) {
      const shared = intersection(boxes[a], boxes[b], slack);
      met.set(pair, (answer = surfacesMeet(positions, members()[a], members()[b], shared, slack)));
    }
    if (answer) joinSets(pieces, a, b);
    return answer;
  };
  const measured = Array.from({ length: shells.count }, (_, shell) => {
    const volume = volumes[shell];
    const base = { shell, volume, sound: sound[shell] === 1, isOpen: isOpen[shell] === 1 };
    let role: ShellMeasure['role'] = 'body';
    const others = beside(shell);
    if (base.sound) {
      // Outside its own box a closed shell winds round nothing.
      const around = others.filter(
        (other) => volumes[other] > 0 && sound[other] === 1 && holds(boxes[other], boxes[shell]),
      );
      if (around.length > 0 && liesInside(positions, members(), shell, around)) {
        role = volume < 0 ? 'cavity' : 'buried';
        for (const other of around) joinSets(pieces, shell, other);
      } else if (volume < 0) role = 'inside-out';
    }
    const like = role === 'cavity' ? [] : others.filter((other) => volumes[other] > 0 === volume > 0);
    // All of them, not the first alone: what hangs together is told from it.
    const meets = like.filter((other) => meet(shell, other)).length > 0;
    return { ...base, role, meets };
  });
  return {
    measured: measured.map((one) => ({ ...one, piece: rootOf(pieces, one.shell) })),
    volume: whole,
  };
}

/** Where three triangles or more share an edge, their shells hang together. */
function joinOverCrowdedEdges(pieces: Int32Array, of: Uint32Array, { twin, indexed }: SurfaceGraph): void {
  const { triangles } = indexed;
  const shellAt = new Map<number, number>();
  for (let h = 0; h < twin.length; h++) {
    if (twin[h] !== CROWDED_EDGE) continue;
    const from = triangles[h];
    const to = triangles[h % 3 === 2 ? h - 2 : h + 1];
    const edge = Math.min(from, to) * (indexed.vertices.length / 3) + Math.max(from, to);
    const shell = of[(h / 3) | 0];
    const known = shellAt.get(edge);
    if (known === undefined) shellAt.set(edge, shell);
    else joinSets(pieces, known, shell);
  }
}

/** True when a corner of `shell` lies inside the chosen shells. */
function liesInside(
  positions: Float32Array,
  members: readonly Uint32Array[],
  shell: number,
  around: readonly number[],
): boolean {
  const [px, py, pz] = positions.subarray(members[shell][0] * 9);
  return around.reduce((sum, s) => sum + windingNumber(positions, members[s], px, py, pz), 0) > 0.5;
}

/**
 * True when a triangle of one shell touches or cuts one of the other. Only those in the box that the shells share are
 * looked at, through a grid, so that thousands on both sides stay cheap.
 */
function surfacesMeet(
  positions: Float32Array,
  a: Uint32Array,
  b: Uint32Array,
  shared: Box,
  slack: number,
): boolean {
  const own = trianglesIn(positions, a, shared);
  const others = own.length === 0 ? [] : trianglesIn(positions, b, shared);
  if (others.length === 0) return false;
  const cells = Math.max(1, Math.min(64, Math.round(Math.cbrt(own.length))));
  const size = [0, 1, 2].map((k) => (shared[k + 3] - shared[k]) / cells || 1);
  const grid = new Map<number, { triangle: number; box: Box }[]>();
  const visit = (box: Box, each: (cell: number) => boolean): boolean => {
    const low = [0, 1, 2].map((k) => clampCell((box[k] - slack - shared[k]) / size[k], cells));
    const high = [0, 1, 2].map((k) => clampCell((box[k + 3] + slack - shared[k]) / size[k], cells));
    for (let x = low[0]; x <= high[0]; x++) {
      for (let y = low[1]; y <= high[1]; y++) {
        for (let z = low[2]; z <= high[2]; z++) {
          if (each((x * cells + y) * cells + z)) return true;
        }
      }
    }
    return false;
  };
  for (const item of own) {
    visit(item.box, (cell) => {
      const list = grid.get(cell);
      if (list) list.push(item);
      else grid.set(cell, [item]);
      return false;
    });
  }
  return others.some(({ triangle, box }) =>
    visit(box, (cell) =>
      (grid.get(cell) ?? []).some(
        (candidate) =>
          overlap(candidate.box, box, slack) &&
          trianglesTouch(positions, candidate.triangle, triangle, slack),
      ),
    ),
  );
}

function clampCell(value: number, cells: number): number {
  return Math.max(0, Math.min(cells - 1, Math.floor(value)));
}

function trianglesIn(
  positions: Float32Array,
  members: Uint32Array,
  shared: Box,
): { triangle: number; box: Box }[] {
  const found: { triangle: number; box: Box }[] = [];
  for (const t of members) {
    const box = new Float64Array(6);
    for (let k = 0; k < 3; k++) {
      const [p, q, r] = [positions[9 * t + k], positions[9 * t + 3 + k], positions[9 * t + 6 + k]];
      box[k] = Math.min(p, q, r);
      box[k + 3] = Math.max(p, q, r);
    }
    if (overlap(box, shared, 0)) found.push({ triangle: t, box });
  }
  return found;
}
