import type { Traps } from '../racking/find-traps.ts';
import { dot, type Vec3 } from '../racking/vec3.ts';
import type { SceneSurface } from './scene-surface.ts';

/**
 * Pieces that gas keeps dry: those of a pocket's triangles whose middle lies above the level at which it opens. Hollows
 * below that level whose only way out leads through the gas stay counted as wetted. What is above the liquid's own
 * level is dry without any gas, and not counted here.
 */
export function gasPieces(
  cut: SceneSurface,
  { gas: pockets, up }: Traps,
  liquidLevel: number,
  metresPerUnit: number,
): { gas: Uint8Array; area: number } {
  const gas = new Uint8Array(cut.source.length);
  const levelOf = new Map<number, number>();
  for (const { triangles, level } of pockets) {
    for (const t of triangles) levelOf.set(t, Math.min(level, levelOf.get(t) ?? Infinity));
  }
  let area = 0;
  if (levelOf.size === 0) return { gas, area };
  const { positions: p } = cut;
  for (let piece = 0; piece < gas.length; piece++) {
    const level = levelOf.get(cut.source[piece]!);
    if (level === undefined) continue;
    const o = 9 * piece;
    const middle: Vec3 = [
      (p[o]! + p[o + 3]! + p[o + 6]!) / 3,
      (p[o + 1]! + p[o + 4]! + p[o + 7]!) / 3,
      (p[o + 2]! + p[o + 5]! + p[o + 8]!) / 3,
    ];
    const height = dot(middle, up);
    if (height <= level || height >= liquidLevel) continue;
    gas[piece] = 1;
    const [a, b, c] = [0, 3, 6].map((n): Vec3 => [p[o + n]!, p[o + n + 1]!, p[o + n + 2]!]) as [
      Vec3,
      Vec3,
      Vec3,
    ];
    const u = [b[0] - a[0], b[1] - a[1], b[2] - a[2]] as const;
    const v = [c[0] - a[0], c[1] - a[1], c[2] - a[2]] as const;
    area += Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]) / 2;
  }
  return { gas, area: area * metresPerUnit ** 2 };
}
