import { nextSide } from './half-edges.ts';
import { failure, success, type Result } from '../result.ts';
import { boundsOf, coordinateNoise } from './bounds.ts';
import { flattenSetsInto, joinSets, singleSets } from './disjoint-sets.ts';
import { dropThinPockets } from './drop-thin-pockets.ts';
import { growContacts } from './grow-contacts.ts';
import { runSameWay } from './edge-adjacency.ts';
import { separateShells, type SeparateShells } from './separate-shells.ts';
import type { SolidHandle, SolidKit } from './solid-kit.ts';
import { solidsOf, type Solid } from './solids.ts';
import type { SourcedMesh } from './source-triangles.ts';
import { surfaceArea } from './surface-area.ts';
import { weld } from './weld.ts';

export interface FusedMesh extends SourcedMesh {
  /** Bodies of metal before. */
  readonly bodiesBefore: number;
  /** Pairs of bodies that touched, overlapped or lay in each other. */
  readonly contacts: number;
  /** Bodies that are not closed: left as they are, and not fused with the others. */
  readonly leftOpen: number;
  /** What fusing took off, model units squared. */
  readonly removedArea: number;
}

/** A gap of this many steps of the coordinates is none: both sides were drawn on one plane and rounded apart. */
const NOISE_STEPS = 8;

/**
 * Joins bodies that touch or overlap into one surface: the one that acid can reach from outside, and the walls of
 * voids that the bodies close off between them. Pieces of a triangle keep its source, and come in its place.
 *
 * @param gap bodies nearer than this, model units, count as touching; 0 for those that touch as drawn
 * @param kit manifold-3d, started
 * @param bodyOf per triangle: its body, where the file says so
 * Failures: `fuse-open` (a body has holes or is a sheet), `fuse-inside-out`, `fuse-failed` (the library's own word).
 */
export function fuseBodies(
  mesh: SourcedMesh,
  gap: number,
  kit: SolidKit,
  bodyOf?: Uint32Array,
): Result<FusedMesh> {
  if (!(gap >= 0 && Number.isFinite(gap))) throw new RangeError(`gap: must be at least 0, got ${gap}`);
  const { positions } = mesh;
  const indexed = weld(positions);
  const shells = separateShells(indexed, bodyOf);
  const { solids, openShells, insideOutShells } = solidsOf(positions, shells);
  if (openShells.length > 0 && solids.length < 2) {
    return failure(
      'fuse-open',
      `${openShells.length} of ${shells.count} bodies ${openShells.length === 1 ? 'is' : 'are'} not closed, and only closed bodies can be fused.`,
      'Close the gaps or drop the open surface first, then fuse.',
    );
  }
  if (insideOutShells.length > 0 || solids.length === 0) {
    return failure(
      'fuse-inside-out',
      'A body is inside out, so its metal and the bath outside cannot be told apart.',
      'Turn it first, then fuse.',
    );
  }
  const slack = Math.max(NOISE_STEPS * coordinateNoise(boundsOf(positions)), gap);
  const roots = cornerRoots(indexed.triangles, shells);
  const { pairs, growth } = growContacts(positions, solids, roots, slack);
  const kept = trianglesOutside(solids, positions.length / 9);
  const before = {
    bodiesBefore: solids.length,
    contacts: pairs.length / 2,
    leftOpen: openShells.length,
  };
  if (pairs.length === 0) return success({ ...mesh, ...before, removedArea: 0 });
  const made: SolidHandle[] = [];
  try {
    for (const solid of solids) {
      made.push(
        kit.Manifold.ofMesh(new kit.Mesh({ numProp: 3, ...solidMesh(positions, solid, roots, growth) })),
      );
    }
    const union = kit.Manifold.union(made);
    made.push(union);
    const status = union.status();
    if (status !== 'NoError') return notFused(status);
    const { numProp, vertProperties, triVerts, faceID } = union.getMesh();
    const fused = dropThinPockets(inSourceOrder({ numProp, vertProperties, triVerts, faceID }, mesh, kept));
    return success({
      ...fused,
      ...before,
      removedArea: surfaceArea(positions) - surfaceArea(fused.positions),
    });
  } catch (error) {
    return notFused(error instanceof Error ? error.message : String(error));
  } finally {
    for (const solid of made) solid.delete();
  }
}

function notFused(reason: string): Result<never> {
  return failure(
    'fuse-failed',
    `The bodies could not be fused (${reason}).`,
    'Join them in the program that drew them and export again, or mask the hidden faces.',
  );
}

/** Per corner: the lowest corner of its vertex, a vertex being what hangs together round a point through neighbours. */
function cornerRoots(triangles: Uint32Array, { twin }: SeparateShells): Int32Array {
  const parent = singleSets(triangles.length);
  for (let h = 0; h < twin.length; h++) {
    const other = twin[h];
    if (other <= h) continue;
    const next = nextSide(h);
    const across = nextSide(other);
    if (runSameWay(triangles, h, other)) {
      joinSets(parent, h, other);
      joinSets(parent, next, across);
    } else {
      joinSets(parent, h, across);
      joinSets(parent, next, other);
    }
  }
  flattenSetsInto(parent);
  return parent;
}

function solidMesh(
  positions: Float32Array,
  { triangles }: Solid,
  roots: Int32Array,
  growth: ReadonlyMap<number, readonly [number, number, number]>,
): { vertProperties: Float32Array; triVerts: Uint32Array; faceID: Uint32Array } {
  const numberOf = new Map<number, number>();
  const triVerts = new Uint32Array(3 * triangles.length);
  const places = new Float32Array(9 * triangles.length);
  triangles.forEach((t, i) => {
    for (let k = 0; k < 3; k++) {
      const root = roots[3 * t + k];
      let number = numberOf.get(root);
      if (number === undefined) {
        number = numberOf.size;
        numberOf.set(root, number);
        const way = growth.get(root);
        for (let axis = 0; axis < 3; axis++) {
          places[3 * number + axis] = positions[3 * root + axis] + (way ? way[axis] : 0);
        }
      }
      triVerts[3 * i + k] = number;
    }
  });
  return { vertProperties: places.slice(0, 3 * numberOf.size), triVerts, faceID: triangles };
}

/** Triangles that belong to no solid. */
function trianglesOutside(solids: readonly Solid[], total: number): Uint32Array {
  const inSolid = new Uint8Array(total);
  for (const { triangles } of solids) for (const t of triangles) inSolid[t] = 1;
  return Uint32Array.from(inSolid.keys()).filter((t) => inSolid[t] === 0);
}

interface LibraryMesh {
  readonly numProp: number;
  readonly vertProperties: Float32Array;
  readonly triVerts: Uint32Array;
  readonly faceID: Uint32Array;
}

/**
 * The library's triangles as loose ones in order of their source, with those of `mesh` that were kept as they are; what rounding has
 * collapsed is left out.
 */
function inSourceOrder(
  { numProp, vertProperties, triVerts, faceID }: LibraryMesh,
  { positions: from, sourceTriangle }: SourcedMesh,
  kept: Uint32Array,
): SourcedMesh {
  const at = (corner: number, axis: number): number => vertProperties[triVerts[corner] * numProp + axis];
  const same = (a: number, b: number): boolean =>
    at(a, 0) === at(b, 0) && at(a, 1) === at(b, 1) && at(a, 2) === at(b, 2);
  const start = new Uint32Array(sourceTriangle.length + 1);
  const keep = new Uint8Array(faceID.length);
  for (let t = 0; t < faceID.length; t++) {
    const c = 3 * t;
    if (same(c, c + 1) || same(c + 1, c + 2) || same(c + 2, c)) continue;
    keep[t] = 1;
    start[faceID[t] + 1]++;
  }
  for (const t of kept) start[t + 1]++;
  for (let s = 0; s < sourceTriangle.length; s++) start[s + 1] += start[s];
  const count = start[sourceTriangle.length];
  const positions = new Float32Array(9 * count);
  const source = new Uint32Array(count);
  for (let t = 0; t < faceID.length; t++) {
    if (keep[t] === 0) continue;
    const to = start[faceID[t]]++;
    source[to] = sourceTriangle[faceID[t]];
    for (let k = 0; k < 9; k++) positions[9 * to + k] = at(3 * t + ((k / 3) | 0), k % 3);
  }
  for (const t of kept) {
    const to = start[t]++;
    source[to] = sourceTriangle[t];
    positions.set(from.subarray(9 * t, 9 * t + 9), 9 * to);
  }
  return { positions, sourceTriangle: source };
}
