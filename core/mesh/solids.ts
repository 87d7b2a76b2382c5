import type { SeparateShells } from './separate-shells.ts';
import { NO_SHELL } from './separate-shells.ts';
import { signedVolumes } from './signed-volume.ts';
import { boundsOf, type Bounds } from './bounds.ts';
import { windingNumber } from './winding-number.ts';

/** One body of metal: its outer shell and the walls of the voids inside it. */
export interface Solid {
  /** Outer shell first. */
  readonly shells: readonly number[];
  readonly triangles: Uint32Array;
  readonly bounds: Bounds;
  /** Metal only: voids taken off. Model units cubed. */
  readonly volume: number;
}

export interface Solids {
  readonly solids: readonly Solid[];
  /** Shells that bound no metal by themselves: open, mixed, or closed and inside out in no body. */
  readonly openShells: readonly number[];
  readonly insideOutShells: readonly number[];
}

/** Groups shells into bodies: a shell that faces inwards is the wall of a void in the smallest body around it. */
export function solidsOf(positions: Float32Array, shells: SeparateShells): Solids {
  const members = trianglesOfShells(shells);
  const from = boundsOf(positions).min;
  const whole = {
    of: shells.ofTriangle.map((s) => (s === NO_SHELL ? shells.count : s)),
    count: shells.count + 1,
  };
  const volumes = signedVolumes(positions, from, whole);
  const openShells: number[] = [];
  const insideOutShells: number[] = [];
  const outer: number[] = [];
  const inner: number[] = [];
  for (let s = 0; s < shells.count; s++) {
    if (shells.sound[s] === 0) openShells.push(s);
    else (volumes[s] > 0 ? outer : inner).push(s);
  }
  const bounds = members.map((list) => boundsOfTriangles(positions, list));
  const wallsOf = new Map<number, number[]>();
  for (const wall of inner) {
    let home = -1;
    for (const body of outer) {
      if (!holds(bounds[body], bounds[wall]) || (home >= 0 && volumes[body] >= volumes[home])) continue;
      const at = 9 * members[wall][0];
      if (windingNumber(positions, members[body], positions[at], positions[at + 1], positions[at + 2]) > 0.5)
        home = body;
    }
    if (home < 0) insideOutShells.push(wall);
    else wallsOf.set(home, [...(wallsOf.get(home) ?? []), wall]);
  }
  const solids = outer.map((body): Solid => {
    const all = [body, ...(wallsOf.get(body) ?? [])];
    return {
      shells: all,
      triangles: Uint32Array.from(all.flatMap((s) => [...members[s]])).sort(),
      bounds: bounds[body],
      volume: all.reduce((sum, s) => sum + volumes[s], 0),
    };
  });
  return { solids, openShells, insideOutShells };
}

function trianglesOfShells({ ofTriangle, count }: SeparateShells): Uint32Array[] {
  const size = new Uint32Array(count);
  for (const shell of ofTriangle) if (shell !== NO_SHELL) size[shell]++;
  const lists = Array.from(size, (n) => new Uint32Array(n));
  size.fill(0);
  ofTriangle.forEach((shell, t) => {
    if (shell !== NO_SHELL) lists[shell][size[shell]++] = t;
  });
  return lists;
}

function boundsOfTriangles(positions: Float32Array, triangles: Uint32Array): Bounds {
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const t of triangles) {
    for (let i = 9 * t; i < 9 * t + 9; i += 3) {
      for (let k = 0; k < 3; k++) {
        const value = positions[i + k];
        if (value < min[k]) min[k] = value;
        if (value > max[k]) max[k] = value;
      }
    }
  }
  return { min, max };
}

function holds(outer: Bounds, inner: Bounds): boolean {
  return [0, 1, 2].every((k) => outer.min[k] <= inner.min[k] && outer.max[k] >= inner.max[k]);
}
