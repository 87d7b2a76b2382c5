import type { HeightOrder } from './height-order.ts';
import type { TrapMesh } from './trap-mesh.ts';

/** What lies above a level inside a pocket, model units. */
export interface PocketMeasure {
  volume: number;
  /** Of the part's surface. */
  area: number;
  /** Of the level surface that closes the pocket. */
  openingArea: number;
  /** Triangles wholly or partly inside, ascending; empty unless asked for. */
  triangles: number[];
}

/**
 * Volume and area of the space over each pocket's level. By the divergence theorem the volume is the sum over the
 * surface above the level of (height − level) times the area projected downwards; the level itself adds nothing, so
 * its outline need not be found. Triangles that the level cuts are cut exactly.
 * @param pocketOfVertex per vertex: pocket number, anything below 0 is none; a triangle belongs to its highest corner
 * @param levelKeys per pocket
 */
export function measurePockets(
  mesh: TrapMesh,
  heights: HeightOrder,
  pocketOfVertex: Int32Array,
  levelKeys: readonly number[],
  mirrored: boolean,
  wantTriangles: boolean,
): PocketMeasure[] {
  const { triangles, vertices } = mesh;
  const { key, step, acrossX, acrossY } = heights;
  const found = levelKeys.map((): PocketMeasure => ({ volume: 0, area: 0, openingArea: 0, triangles: [] }));
  if (found.length === 0) return found;
  const leastHeight = mesh.leastDepth;
  const sign = mirrored ? -1 : 1;
  for (let i = 0; i < triangles.length; i += 3) {
    const a = triangles[i]!;
    const b = triangles[i + 1]!;
    const c = triangles[i + 2]!;
    const keyA = key[a]!;
    const keyB = key[b]!;
    const keyC = key[c]!;
    const top = keyA >= keyB && keyA >= keyC ? a : keyB >= keyC ? b : c;
    const pocket = pocketOfVertex[top]!;
    if (pocket < 0) continue;
    const level = levelKeys[pocket]!;
    const high = (key[top]! - level) * step;
    if (high <= 0) continue;
    const low = (Math.min(keyA, keyB, keyC) - level) * step;
    const middle = (keyA + keyB + keyC - 3 * level) * step - high - low;
    const projected =
      (sign *
        ((acrossX[b]! - acrossX[a]!) * (acrossY[c]! - acrossY[a]!) -
          (acrossX[c]! - acrossX[a]!) * (acrossY[b]! - acrossY[a]!))) /
      2;
    let part = 1;
    // Mean height over the whole triangle, times the part of it that counts.
    let heightSum = (high + middle + low) / 3;
    if (low < 0 && middle > 0) {
      const below = (low * low) / ((high - low) * (middle - low));
      part = 1 - below;
      heightSum -= (below * low) / 3;
    } else if (low < 0) {
      part = (high * high) / ((high - middle) * (high - low));
      heightSum = (part * high) / 3;
    }
    const measure = found[pocket]!;
    measure.volume -= projected * heightSum;
    measure.openingArea -= projected * part;
    if (high <= leastHeight) continue;
    measure.area += part * triangleArea(vertices, a, b, c);
    if (wantTriangles) measure.triangles.push(i / 3);
  }
  return found;
}

function triangleArea(vertices: Float64Array, a: number, b: number, c: number): number {
  const ux = vertices[3 * b]! - vertices[3 * a]!;
  const uy = vertices[3 * b + 1]! - vertices[3 * a + 1]!;
  const uz = vertices[3 * b + 2]! - vertices[3 * a + 2]!;
  const vx = vertices[3 * c]! - vertices[3 * a]!;
  const vy = vertices[3 * c + 1]! - vertices[3 * a + 1]!;
  const vz = vertices[3 * c + 2]! - vertices[3 * a + 2]!;
  return 0.5 * Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx);
}
