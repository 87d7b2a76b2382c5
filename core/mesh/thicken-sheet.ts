import { NormalSystem } from '../faces/normal-system.ts';
import { cross, dot, length, scale, subtract, type Vec3 } from '../racking/vec3.ts';
import { joinSets, rootOf, singleSets } from './disjoint-sets.ts';
import { CROWDED_EDGE, edgeAdjacency, OPEN_EDGE, runSameWay } from './edge-adjacency.ts';
import { nextSide } from './half-edges.ts';
import { backSource, rimSource, type SourcedMesh } from './source-triangles.ts';
import { weld } from './weld.ts';

/** At a sharp fold a corner goes no further than this many half thicknesses. */
const FARTHEST = 4;
/** Pulls the place of a corner, where its flats alone do not settle it, to their common direction. */
const PULL = 1e-2;

/**
 * Gives a surface that was drawn without thickness one: half of it to each side, mitred at folds, with walls along its open edges.
 * The front keeps its sources; what comes goes last, the backs before the walls. Bodies that are closed, or of which triangles
 * face opposite ways or three meet at an edge, stay as they are; the same mesh where nothing is left to do.
 *
 * @param thickness model units, above 0
 * @param fileTriangles how many triangles the file has
 */
export function thickenSheet(mesh: SourcedMesh, thickness: number, fileTriangles: number): SourcedMesh {
  if (!(thickness > 0 && Number.isFinite(thickness))) {
    throw new RangeError(`thickness: must be above 0, got ${thickness}`);
  }
  const { vertices, triangles } = weld(mesh.positions);
  const { twin } = edgeAdjacency(triangles, vertices.length / 3);
  const sheet = sheetOf(triangles, twin);
  const thin: number[] = [];
  for (let t = 0; t < sheet.length; t++) if (sheet[t] >= 0) thin.push(t);
  if (thin.length === 0) return mesh;
  const away = offsets(vertices, triangles, sheet, thin, thickness / 2);
  const corner = (h: number, side: 1 | -1): number[] => {
    const from = 3 * triangles[h];
    const by = away.get(keyOf(sheet[(h / 3) | 0], triangles[h]))!;
    return by.map((move, k) => vertices[from + k] + side * move);
  };
  const walls: number[] = [];
  for (const t of thin) {
    for (let h = 3 * t; h < 3 * t + 3; h++) if (twin[h] === OPEN_EDGE) walls.push(h);
  }
  const total = mesh.sourceTriangle.length;
  const positions = new Float32Array(9 * (total + thin.length + 2 * walls.length));
  const sourceTriangle = new Uint32Array(positions.length / 9);
  positions.set(mesh.positions);
  sourceTriangle.set(mesh.sourceTriangle);
  let at = total;
  for (const t of thin) {
    const sides = [3 * t, 3 * t + 1, 3 * t + 2];
    positions.set(
      sides.flatMap((h) => corner(h, 1)),
      9 * t,
    );
    positions.set(
      sides.reverse().flatMap((h) => corner(h, -1)),
      9 * at,
    );
    sourceTriangle[at++] = backSource(fileTriangles, mesh.sourceTriangle[t]);
  }
  for (const h of walls) {
    const [a, b, under, beside] = [
      corner(h, 1),
      corner(nextSide(h), 1),
      corner(h, -1),
      corner(nextSide(h), -1),
    ];
    positions.set([...b, ...a, ...under, ...b, ...under, ...beside], 9 * at);
    const source = rimSource(fileTriangles, mesh.sourceTriangle[(h / 3) | 0], h % 3);
    sourceTriangle.fill(source, at, at + 2);
    at += 2;
  }
  return { positions, sourceTriangle };
}

/** How many open surfaces a mesh has: those that a thickness can be given to, and why it cannot be given to the others. */
export interface OpenSurfaces {
  readonly thin: number;
  /** Neighbouring triangles face opposite ways. */
  readonly turned: number;
  /** Three triangles or more meet at an edge. */
  readonly crowded: number;
}

export function openSurfaces(positions: Float32Array): OpenSurfaces {
  const { vertices, triangles } = weld(positions);
  const { open, turned, crowded } = shellKinds(triangles, edgeAdjacency(triangles, vertices.length / 3).twin);
  const all = [...open];
  return {
    thin: all.filter((shell) => !turned.has(shell) && !crowded.has(shell)).length,
    turned: all.filter((shell) => turned.has(shell) && !crowded.has(shell)).length,
    crowded: all.filter((shell) => crowded.has(shell)).length,
  };
}

/** Per triangle its shell, and which shells have an edge of each kind. */
function shellKinds(triangles: Uint32Array, twin: Int32Array) {
  const sets = singleSets(triangles.length / 3);
  for (let h = 0; h < twin.length; h++) if (twin[h] >= 0) joinSets(sets, (h / 3) | 0, (twin[h] / 3) | 0);
  const shellOf = Int32Array.from({ length: triangles.length / 3 }, (_, t) => rootOf(sets, t));
  const [open, turned, crowded] = [new Set<number>(), new Set<number>(), new Set<number>()];
  for (let h = 0; h < twin.length; h++) {
    const shell = shellOf[(h / 3) | 0];
    if (twin[h] === OPEN_EDGE) open.add(shell);
    if (twin[h] === CROWDED_EDGE) crowded.add(shell);
    if (twin[h] >= 0 && runSameWay(triangles, h, twin[h])) turned.add(shell);
  }
  return { shellOf, open, turned, crowded };
}

/** Per triangle the number of the open shell it belongs to, or −1 where that is closed or has no two sides. */
function sheetOf(triangles: Uint32Array, twin: Int32Array): Int32Array {
  const { shellOf, open, turned, crowded } = shellKinds(triangles, twin);
  return shellOf.map((shell) => (open.has(shell) && !turned.has(shell) && !crowded.has(shell) ? shell : -1));
}

const keyOf = (shell: number, vertex: number): string => `${shell} ${vertex}`;

/** How far each corner of a sheet goes to its front side, so that every flat at it moves out by `half`. */
function offsets(
  vertices: Float32Array,
  triangles: Uint32Array,
  sheet: Int32Array,
  thin: readonly number[],
  half: number,
): Map<string, number[]> {
  const flats = new Map<string, Flat[]>();
  for (const t of thin) {
    const p = [0, 1, 2].map((k): Vec3 => {
      const at = 3 * triangles[3 * t + k];
      return [vertices[at], vertices[at + 1], vertices[at + 2]];
    });
    const normal = cross(subtract(p[1], p[0]), subtract(p[2], p[0]));
    const twice = length(normal);
    for (let k = 0; k < 3; k++) {
      const [to, other] = [subtract(p[(k + 1) % 3], p[k]), subtract(p[(k + 2) % 3], p[k])];
      const key = keyOf(sheet[t], triangles[3 * t + k]);
      const known = flats.get(key) ?? [];
      flats.set(key, known);
      // A triangle without area has no direction; its corners go with their neighbours'.
      if (!(twice > 0)) continue;
      known.push({ normal: scale(normal, 1 / twice), weight: Math.atan2(twice, dot(to, other)) });
    }
  }
  const system = new NormalSystem(3);
  return new Map([...flats].map(([key, known]) => [key, offset(system, known, half)]));
}

/** One triangle at a corner, weighed by its angle there. */
interface Flat {
  readonly normal: Vec3;
  readonly weight: number;
}

function offset(system: NormalSystem, flats: readonly Flat[], half: number): number[] {
  const sum = [0, 0, 0];
  for (const { normal, weight } of flats) for (let k = 0; k < 3; k++) sum[k] += weight * normal[k];
  const pull = Math.hypot(...sum);
  if (!(pull > 0)) return [0, 0, 0];
  const along = sum.map((x) => x / pull);
  const all = flats.reduce((now, { weight }) => now + weight, 0);
  // Along their common direction the flats lie back by pull / all on the mean.
  const reach = Math.min(FARTHEST, all / pull) * half;
  system.clear();
  for (const { normal, weight } of flats) {
    system.row(normal[0], normal[1], normal[2], 0, 0, 0);
    system.add(Math.sqrt(weight / all), half);
  }
  for (let k = 0; k < 3; k++) {
    system.row(k === 0 ? 1 : 0, k === 1 ? 1 : 0, k === 2 ? 1 : 0, 0, 0, 0);
    system.add(PULL, reach * along[k]);
  }
  const found = system.solve();
  const isNear = Math.hypot(found[0], found[1], found[2]) <= FARTHEST * half;
  return isNear ? [found[0], found[1], found[2]] : along.map((x) => reach * x);
}
