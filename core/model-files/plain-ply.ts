import { strToU8 } from 'fflate';
import { GrowingBytes } from './growing-bytes.ts';
import type { PlyElement, PlyHeader } from './ply-header.ts';
import type { WalkedPly } from './walk-ply.ts';

/** A PLY of places and triangles alone, in the file's own encoding and number types. */
export function plainPly(
  encoding: PlyHeader['encoding'],
  vertex: PlyElement,
  { vertices, corners, triangles }: WalkedPly,
): Uint8Array<ArrayBuffer> {
  const types = ['x', 'y', 'z'].map(
    (axis) => `property ${vertex.properties.find(({ name }) => name === axis)!.type} ${axis}`,
  );
  const head = strToU8(
    [
      'ply',
      `format ${encoding} 1.0`,
      `element vertex ${vertex.count}`,
      ...types,
      `element face ${triangles}`,
      'property list uchar int vertex_indices',
      'end_header\n',
    ].join('\n'),
  );
  const out = new GrowingBytes(head.length + vertices.length + triangles * 13 + 16);
  out.copy(head, 0, head.length);
  out.reserve(vertices.length);
  out.bytes.set(vertices.bytes.subarray(0, vertices.length), out.length);
  out.length += vertices.length;
  const little = encoding === 'binary_little_endian';
  for (let i = 0; i < triangles * 3; i += 3) {
    if (encoding === 'ascii') {
      const line = strToU8(`3 ${corners[i]} ${corners[i + 1]} ${corners[i + 2]}\n`);
      out.copy(line, 0, line.length);
    } else {
      out.reserve(13);
      out.bytes[out.length] = 3;
      for (let k = 0; k < 3; k++) out.view.setInt32(out.length + 1 + 4 * k, corners[i + k]!, little);
      out.length += 13;
    }
  }
  return out.bytes.slice(0, out.length);
}
