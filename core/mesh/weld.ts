import type { IndexedMesh } from './mesh.ts';

/**
 * Joins corners whose three coordinates are the same to the last bit, −0 counted as 0. No tolerance: corners that
 * were one point in the program that drew the part are written with the same digits, and a tolerance would have to
 * guess how thin the part may be.
 *
 * One open hash table of 16-byte slots (x, y, z as bits, vertex number + 1), so that a look-up costs one cache line.
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

  let capacity = 64;
  // A closed mesh has half as many vertices as triangles, a sixth of its corners: it fits the first table.
  while (capacity < cornerCount / 4) capacity *= 2;
  let table = new Int32Array(capacity * 4);
  let mask = capacity - 1;
  let room = Math.max(16, Math.ceil(cornerCount / 5));
  let vertices = new Int32Array(room * 3);
  let count = 0;

  for (let corner = 0, at = 0; corner < cornerCount; corner++, at += 3) {
    let x = bits[at];
    let y = bits[at + 1];
    let z = bits[at + 2];
    if (x === NEGATIVE_ZERO) x = 0;
    if (y === NEGATIVE_ZERO) y = 0;
    if (z === NEGATIVE_ZERO) z = 0;
    let slot = (hash(x, y, z) & mask) << 2;
    let vertex = table[slot + 3];
    while (vertex !== 0 && (table[slot] !== x || table[slot + 1] !== y || table[slot + 2] !== z)) {
      slot = (slot + 4) & ((mask << 2) | 3);
      vertex = table[slot + 3];
    }
    if (vertex === 0) {
      if (count === room) {
        room = Math.min(cornerCount, room * 2);
        const larger = new Int32Array(room * 3);
        larger.set(vertices);
        vertices = larger;
      }
      vertices[count * 3] = x;
      vertices[count * 3 + 1] = y;
      vertices[count * 3 + 2] = z;
      vertex = ++count;
      table[slot] = x;
      table[slot + 1] = y;
      table[slot + 2] = z;
      table[slot + 3] = vertex;
      if (count * 3 > capacity * 2) {
        capacity *= 2;
        mask = capacity - 1;
        table = rehash(table, capacity);
      }
    }
    triangles[corner] = vertex - 1;
  }
  return { vertices: new Float32Array(vertices.slice(0, count * 3).buffer), triangles };
}

const NEGATIVE_ZERO = 0x80000000 | 0;

function hash(x: number, y: number, z: number): number {
  let h = Math.imul(x, 0x9e3779b1) ^ Math.imul(y, 0x85ebca77) ^ Math.imul(z, 0xc2b2ae3d);
  h ^= h >>> 15;
  h = Math.imul(h, 0x2c1b3c6d);
  return h ^ (h >>> 13);
}

function rehash(from: Int32Array, capacity: number): Int32Array<ArrayBuffer> {
  const to = new Int32Array(capacity * 4);
  const mask = capacity - 1;
  for (let at = 0; at < from.length; at += 4) {
    if (from[at + 3] === 0) continue;
    let slot = (hash(from[at], from[at + 1], from[at + 2]) & mask) << 2;
    while (to[slot + 3] !== 0) slot = (slot + 4) & ((mask << 2) | 3);
    to[slot] = from[at];
    to[slot + 1] = from[at + 1];
    to[slot + 2] = from[at + 2];
    to[slot + 3] = from[at + 3];
  }
  return to;
}
