import { measurePockets, type PocketMeasure } from './measure-pockets.ts';
import { orderByHeight, type HeightOrder } from './height-order.ts';
import { rotationForUp } from './pose.ts';
import { sweepPockets, turnedOver, type PocketSweep, type SweepState } from './sweep-pockets.ts';
import type { TrapMesh } from './trap-mesh.ts';
import { dot, unit, type Vec3 } from './vec3.ts';

/** A place that gas cannot leave while the part is under, or that liquid cannot leave once it is out. Model units. */
export interface Pocket {
  readonly volume: number;
  /** Surface it covers: never coated where it is gas. */
  readonly area: number;
  /** Of the level surface where it opens. */
  readonly openingArea: number;
  /** From the level where it opens to its far end. */
  readonly depth: number;
  /** Height of that level along `up`, in the model's own coordinates. */
  readonly level: number;
  readonly spillAt: Vec3;
  readonly deepestAt: Vec3;
  /** Part of volume and area that liquid could fill but never reaches, because the way there leads through the gas. */
  readonly shelteredVolume: number;
  readonly shelteredArea: number;
  /** Wholly or partly inside, ascending. */
  readonly triangles: Uint32Array;
}

export interface Traps {
  readonly up: Vec3;
  /** Largest first. The most that can stay: a pocket is taken as filled to where it opens. */
  readonly gas: readonly Pocket[];
  readonly liquid: readonly Pocket[];
  /** Hollows without any way in: neither coated nor filled. */
  readonly sealedVoids: readonly { readonly volume: number; readonly area: number }[];
  /** Lowest point of the part, where the last drop hangs. */
  readonly lastDripAt: Vec3;
}

/**
 * Gas and liquid that a part keeps in one attitude. Exact on the mesh: see sweep-pockets.ts for the way and why it is
 * right. What it leaves out: surface tension (a narrow hole can hold more), and siphons (a bent tube can let out less
 * or more than its rim says); both are for the user's eye.
 * @param up the model's direction that points up in the bath; any length
 */
export function findTraps(mesh: TrapMesh, up: Vec3): Traps {
  const direction = unit(up);
  const heights = orderByHeight(mesh.vertices, rotationForUp(direction));
  const fromBelow = turnedOver(heights);
  const down: Vec3 = [-direction[0], -direction[1], -direction[2]];
  const gasSweep = sweepPockets(mesh, heights, direction);
  const shelter = shelteredBehind(mesh, gasSweep, heights);
  const liquidSweep = sweepPockets(mesh, fromBelow, down, shelter.watch);

  const gasLevels = gasSweep.pockets.map((pocket) => pocket.levelKey);
  const gas = measurePockets(mesh, heights, gasSweep.pocketOfVertex, gasLevels, false, true);
  const sheltered = shelter.found()
    ? measurePockets(
        mesh,
        fromBelow,
        shelter.pocketOfVertex,
        gasLevels.map((level) => topKey(heights) - level),
        true,
        true,
      )
    : [];
  const liquid = measurePockets(
    mesh,
    fromBelow,
    liquidSweep.pocketOfVertex,
    liquidSweep.pockets.map((pocket) => pocket.levelKey),
    true,
    true,
  );
  const originHeight = dot(mesh.origin, direction);
  return {
    up: direction,
    gas: describe(mesh, heights, gasSweep, gas, 1, originHeight, sheltered, shelter.swallowed),
    liquid: describe(mesh, fromBelow, liquidSweep, liquid, -1, originHeight),
    sealedVoids: measureVoids(mesh, heights, gasSweep),
    lastDripAt: place(mesh, heights.order[heights.order.length - 1]!),
  };
}

const topKey = (heights: HeightOrder): number => heights.key[heights.order[0]!]!;

function place(mesh: TrapMesh, vertex: number): Vec3 {
  return [
    mesh.vertices[3 * vertex]! + mesh.origin[0],
    mesh.vertices[3 * vertex + 1]! + mesh.origin[1],
    mesh.vertices[3 * vertex + 2]! + mesh.origin[2],
  ];
}

/**
 * Below a gas pocket's level there can be hollows whose only way out leads up through the gas: a cup inside an
 * upturned cup. The bath never gets there. They are found on the way of the sweep from below: what is joined just
 * below the level, is not outside, and has every edge that rises through the level end in gas.
 */
function shelteredBehind(mesh: TrapMesh, gas: PocketSweep, heights: HeightOrder) {
  const { neighbourStart, neighbours, vertexCount } = mesh;
  const pocketOfVertex = new Int32Array(vertexCount).fill(-1);
  const placeOf = new Map<number, number>();
  for (const pocket of gas.pockets) placeOf.set(pocket.spillVertex, -1);
  for (let i = 0; i < vertexCount && placeOf.size > 0; i++) {
    if (placeOf.has(heights.order[i]!)) placeOf.set(heights.order[i]!, vertexCount - 1 - i);
  }
  const vertexLists: number[][] = gas.pockets.map(() => []);
  if (gas.pockets.length > 0) {
    for (let v = 0; v < vertexCount; v++) {
      const pocket = gas.pocketOfVertex[v]!;
      if (pocket >= 0) vertexLists[pocket]!.push(v);
    }
  }
  const inTurn = gas.pockets
    .map((pocket, index) => ({ index, place: placeOf.get(pocket.spillVertex)! }))
    .sort((a, b) => a.place - b.place);
  const topKeyOf = (pocket: number): number => heights.key[gas.pockets[pocket]!.peakVertex]!;
  const swallowed = new Set<number>();
  let any = false;
  const visit = (turn: number, state: SweepState): void => {
    const pocket = inTurn[turn]!.index;
    const seen = new Set<number>();
    for (const vertex of vertexLists[pocket]!) {
      for (let i = neighbourStart[vertex]!; i < neighbourStart[vertex + 1]!; i++) {
        const below = neighbours[i]!;
        if (!state.passed(below) || pocketOfVertex[below]! >= 0) continue;
        const space = state.find(below);
        if (seen.has(space)) continue;
        seen.add(space);
        if (state.isOutside(space)) continue;
        const members = state.members(space);
        const shut = members.every((member) => {
          for (let j = neighbourStart[member]!; j < neighbourStart[member + 1]!; j++) {
            const other = neighbours[j]!;
            if (!state.passed(other) && gas.pocketOfVertex[other]! < 0) return false;
          }
          return true;
        });
        if (!shut) continue;
        any = true;
        for (const member of members) {
          pocketOfVertex[member] = pocket;
          // A gas pocket inside such a hollow is part of it.
          const inner = gas.pocketOfVertex[member]!;
          if (inner >= 0 && topKeyOf(inner) <= gas.pockets[pocket]!.levelKey) swallowed.add(inner);
        }
      }
    }
  };
  const watch = { places: inTurn.map((entry) => entry.place), visit };
  return { watch, pocketOfVertex, swallowed, found: () => any };
}

function describe(
  mesh: TrapMesh,
  heights: HeightOrder,
  sweep: PocketSweep,
  measures: readonly PocketMeasure[],
  sign: 1 | -1,
  originHeight: number,
  sheltered: readonly PocketMeasure[] = [],
  swallowed: ReadonlySet<number> = new Set(),
): Pocket[] {
  return sweep.pockets
    .map((pocket, index): Pocket => {
      const measure = measures[index]!;
      const extra = sheltered[index];
      const triangles = extra?.triangles.length
        ? [...new Set([...measure.triangles, ...extra.triangles])].sort((a, b) => a - b)
        : measure.triangles;
      return {
        volume: measure.volume + (extra?.volume ?? 0),
        area: measure.area + (extra?.area ?? 0),
        openingArea: measure.openingArea,
        depth: (heights.key[pocket.peakVertex]! - pocket.levelKey) * heights.step,
        level: sign * (heights.base + pocket.levelKey * heights.step) + originHeight,
        spillAt: place(mesh, pocket.spillVertex),
        deepestAt: place(mesh, pocket.peakVertex),
        shelteredVolume: extra?.volume ?? 0,
        shelteredArea: extra?.area ?? 0,
        triangles: Uint32Array.from(triangles),
      };
    })
    .filter((_, index) => !swallowed.has(index))
    .sort((a, b) => b.volume - a.volume);
}

function measureVoids(
  mesh: TrapMesh,
  heights: HeightOrder,
  sweep: PocketSweep,
): { volume: number; area: number }[] {
  if (sweep.voidCount === 0) return [];
  const voidOfVertex = sweep.pocketOfVertex.map((pocket) => (pocket <= -2 ? -2 - pocket : -1));
  const levels = new Array<number>(sweep.voidCount).fill(0);
  return measurePockets(mesh, heights, voidOfVertex, levels, false, false)
    .map(({ volume, area }) => ({ volume, area }))
    .sort((a, b) => b.volume - a.volume);
}
