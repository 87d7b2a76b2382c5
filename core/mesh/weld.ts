import type { IndexedMesh } from './mesh.ts';

/**
 * Joins corners whose three coordinates are the same to the last bit, −0 counted as 0. No tolerance: corners that
 * were one point in the program that drew the part are written with the same digits, and a tolerance would have to
 * guess how thin the part may be.
 *
 * One open hash table with 4 bytes a slot: the vertex number in the low bits, as many bits of the hash as are left in
 * the high ones. Those turn nearly every stranger away before its coordinates are fetched, and the coordinates lie in
 * order of first use, where neighbours in the file are neighbours in memory. Most files go on with a neighbour of the triangle before:
 * its three corners are looked at first. Before that the vertex after the one of six corners before: files written as rows of quads go on
 * like that along this row and the row before, and nearly all corners but new ones are found without the table. There the new corner of every quad
 * is six after that of the one before, and the slots of the next ones are fetched several at a time: one by one each would be waited for. Tried: slots of 16 bytes that hold the
 * coordinates as well, so that a look-up costs one cache line, 1.5 to 2 times slower from a million triangles on.
 *
 * @param positions 9 floats a triangle
 * @returns vertices in order of first use, and triangles in the order of the soup
 */
export function weld(positions: Float32Array): IndexedMesh {
  if (positions.length % 9 !== 0) {
    throw new RangeError(`positions: length must be a multiple of 9, got ${positions.length}`);
  }
  const cornerCount = positions.length / 3;
  const bits = new Int32Array(positions.buffer, positions.byteOffset, positions.length);
  const triangles = new Uint32Array(cornerCount);

  // Numbers from 1 to cornerCount, 0 for an empty slot.
  const numberMask = 2 ** (32 - Math.clz32(cornerCount)) - 1;
  let capacity = 64;
  // A closed mesh has half as many vertices as triangles, a sixth of its corners: it fits the first table.
  while (capacity < cornerCount / 4) capacity *= 2;
  let table = new Int32Array(capacity);
  let mask = capacity - 1;
  let room = Math.max(16, Math.ceil(cornerCount / 5));
  let vertices = new Int32Array(room * 3);
  let count = 0;

  // How often the row's next vertex may still be asked for and be another.
  let patience = MOST_PATIENCE;
  // Look-ups until slots are fetched again, and what stood in those that were.
  let ahead = 0;
  let fetched = 0;
  for (let corner = 0, at = 0, first = 0, side = 0; corner < cornerCount; corner++, at += 3) {
    let x = bits[at];
    let y = bits[at + 1];
    let z = bits[at + 2];
    if (side === 3) {
      side = 0;
      first = corner;
    }
    side++;
    if (patience > 0) {
      const next = corner < 6 ? count : triangles[corner - 6] + 1;
      if (next < count) {
        const v = 3 * next;
        if (vertices[v] === x && vertices[v + 1] === y && vertices[v + 2] === z) {
          triangles[corner] = next;
          patience = MOST_PATIENCE;
          continue;
        }
        patience--;
      }
    } else if (corner % ASK_AGAIN === 0) patience = FEW_TRIALS;
    const like = first === 0 ? -1 : cornerLike(bits, x, y, z, first - 3);
    if (like >= 0) {
      triangles[corner] = triangles[like];
      continue;
    }
    if (x === NEGATIVE_ZERO) x = 0;
    if (y === NEGATIVE_ZERO) y = 0;
    if (z === NEGATIVE_ZERO) z = 0;
    if (patience > 0 && --ahead < 0) {
      ahead = AHEAD - 1;
      const end = Math.min(bits.length, at + PER_QUAD * (AHEAD + 1));
      for (let i = at + PER_QUAD; i < end; i += PER_QUAD) {
        fetched |= table[hash(bits[i], bits[i + 1], bits[i + 2]) & mask];
      }
    }
    const h = hash(x, y, z);
    const tag = Math.imul(h, TAG_FACTOR) & ~numberMask;
    let slot = h & mask;
    let entry = table[slot];
    let number = 0;
    while (entry !== 0) {
      if (((entry ^ tag) & ~numberMask) === 0) {
        number = entry & numberMask;
        const v = 3 * number - 3;
        if (vertices[v] === x && vertices[v + 1] === y && vertices[v + 2] === z) break;
      }
      slot = (slot + 1) & mask;
      entry = table[slot];
    }
    if (entry === 0) {
      if (count === room) {
        room = Math.min(cornerCount, room * 2);
        const larger = new Int32Array(room * 3);
        larger.set(vertices);
        vertices = larger;
      }
      const v = 3 * count;
      vertices[v] = x;
      vertices[v + 1] = y;
      vertices[v + 2] = z;
      number = ++count;
      table[slot] = tag | number;
      if (count * 3 > capacity * 2) {
        capacity *= 2;
        mask = capacity - 1;
        table = filledTable(capacity, vertices, count, numberMask);
      }
    }
    triangles[corner] = number - 1;
  }
  FETCHED[0] = fetched;
  return { vertices: new Float32Array(vertices.slice(0, count * 3).buffer), triangles };
}

/** Where a file has no rows, it is tried again at every so many corners whether it has now. */
const MOST_PATIENCE = 32;
const ASK_AGAIN = 4096;
const FEW_TRIALS = 6;
/** Slots that are fetched at a time, and numbers of the two triangles of a quad. */
const AHEAD = 16;
const PER_QUAD = 18;
/** What was fetched has to go somewhere, or V8 leaves it out. */
const FETCHED = new Int32Array(1);
const NEGATIVE_ZERO = 0x80000000 | 0;
const TAG_FACTOR = 0x9e3779b1;

/** Which of a triangle's corners has these bits, −1 for none. */
function cornerLike(bits: Int32Array, x: number, y: number, z: number, first: number): number {
  const at = 3 * first;
  if (bits[at + 6] === x && bits[at + 7] === y && bits[at + 8] === z) return first + 2;
  if (bits[at + 3] === x && bits[at + 4] === y && bits[at + 5] === z) return first + 1;
  if (bits[at] === x && bits[at + 1] === y && bits[at + 2] === z) return first;
  return -1;
}

function hash(x: number, y: number, z: number): number {
  let h = Math.imul(x, 0x9e3779b1) ^ Math.imul(y, 0x85ebca77) ^ Math.imul(z, 0xc2b2ae3d);
  h ^= h >>> 15;
  h = Math.imul(h, 0x2c1b3c6d);
  return h ^ (h >>> 13);
}

function filledTable(
  capacity: number,
  vertices: Int32Array,
  count: number,
  numberMask: number,
): Int32Array<ArrayBuffer> {
  const table = new Int32Array(capacity);
  const mask = capacity - 1;
  for (let number = 1, v = 0; number <= count; number++, v += 3) {
    const h = hash(vertices[v], vertices[v + 1], vertices[v + 2]);
    let slot = h & mask;
    while (table[slot] !== 0) slot = (slot + 1) & mask;
    table[slot] = (Math.imul(h, TAG_FACTOR) & ~numberMask) | number;
  }
  return table;
}
