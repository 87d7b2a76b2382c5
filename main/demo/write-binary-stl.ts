/**
 * Binary STL of an indexed mesh: `vertices` 3 floats each, `triangles` 3 vertex numbers each, counter-clockwise from
 * outside. `header` is cut to 80 bytes and must not begin with "solid", which some readers take for ASCII.
 */
export function writeBinaryStl(
  vertices: Float32Array,
  triangles: Uint32Array,
  header: string,
): Uint8Array<ArrayBuffer> {
  if (/^solid/i.test(header)) throw new RangeError(`writeBinaryStl: header is "${header}"`);
  const count = triangles.length / 3;
  const bytes = new Uint8Array(84 + 50 * count);
  for (let i = 0; i < Math.min(80, header.length); i++) bytes[i] = header.charCodeAt(i) & 127;
  const view = new DataView(bytes.buffer);
  view.setUint32(80, count, true);
  for (let t = 0; t < count; t++) {
    const at = 84 + 50 * t;
    const corner = (k: number, axis: number): number => vertices[triangles[t * 3 + k]! * 3 + axis]!;
    const edge = (k: number): number[] => [0, 1, 2].map((axis) => corner(k, axis) - corner(0, axis));
    const [u, v] = [edge(1), edge(2)];
    const normal = [
      u[1]! * v[2]! - u[2]! * v[1]!,
      u[2]! * v[0]! - u[0]! * v[2]!,
      u[0]! * v[1]! - u[1]! * v[0]!,
    ];
    const length = Math.hypot(...normal) || 1;
    normal.forEach((value, axis) => view.setFloat32(at + 4 * axis, value / length, true));
    for (let k = 0; k < 3; k++) {
      for (let axis = 0; axis < 3; axis++)
        view.setFloat32(at + 12 + 12 * k + 4 * axis, corner(k, axis), true);
    }
  }
  return bytes;
}
