/** PLY in its three encodings, judged by shapes in closed form and by manifold-3d's unions. */
import Module from 'manifold-3d';
import { beforeAll, describe, expect, test } from 'vitest';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { plainArea, plainVolume, textBytes } from '../../fixtures/model-bytes.ts';
import { codeOf, expectRead } from '../../fixtures/read-for-test.ts';

type Encoding = 'ascii' | 'binary_little_endian' | 'binary_big_endian';
const ENCODINGS: readonly Encoding[] = ['ascii', 'binary_little_endian', 'binary_big_endian'];

interface Written {
  readonly encoding: Encoding;
  readonly vertices: readonly (readonly number[])[];
  readonly faces: readonly (readonly number[])[];
  readonly vertexCount?: number;
  readonly faceCount?: number;
  readonly comment?: string;
  /** Colours and normals beside the places, and a list of texture values after the corners. */
  readonly extras?: boolean;
}

/** Written by hand after the format's description (G. Turk, 1994); places in double, corners in int. */
function ply(w: Written): Uint8Array {
  const head = [
    'ply',
    `format ${w.encoding} 1.0`,
    ...(w.comment === undefined ? [] : [`comment ${w.comment}`]),
    `element vertex ${w.vertexCount ?? w.vertices.length}`,
    ...(w.extras ? ['property uchar red', 'property float nx'] : []),
    'property double x',
    'property double y',
    'property double z',
    `element face ${w.faceCount ?? w.faces.length}`,
    'property list uchar int vertex_indices',
    ...(w.extras ? ['property list uchar float texcoord'] : []),
    'end_header',
    '',
  ].join('\n');
  if (w.encoding === 'ascii') {
    const rows = [
      ...w.vertices.map((v) => (w.extras ? ['255', '0.5', ...v] : v).join(' ')),
      ...w.faces.map((f) => [f.length, ...f, ...(w.extras ? [2, 0.25, 0.75] : [])].join(' ')),
    ];
    return textBytes(`${head}${rows.join('\n')}\n`);
  }
  const little = w.encoding === 'binary_little_endian';
  const parts: Uint8Array[] = [textBytes(head)];
  const put = (size: number, write: (view: DataView) => void): void => {
    const bytes = new Uint8Array(size);
    write(new DataView(bytes.buffer));
    parts.push(bytes);
  };
  for (const v of w.vertices) {
    if (w.extras) {
      put(1, (view) => view.setUint8(0, 255));
      put(4, (view) => view.setFloat32(0, 0.5, little));
    }
    put(24, (view) => v.forEach((value, k) => view.setFloat64(8 * k, value, little)));
  }
  for (const f of w.faces) {
    put(1, (view) => view.setUint8(0, f.length));
    put(4 * f.length, (view) => f.forEach((value, k) => view.setInt32(4 * k, value, little)));
    if (w.extras) {
      put(1, (view) => view.setUint8(0, 2));
      put(8, (view) => [0.25, 0.75].forEach((value, k) => view.setFloat32(4 * k, value, little)));
    }
  }
  return new Uint8Array(Buffer.concat(parts));
}

const BOX = {
  vertices: [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i & 1 ? 40 : 0, i & 2 ? 30 : 0, i & 4 ? 20 : 0]),
  faces: [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ],
};

describe.each(ENCODINGS)('%s', (encoding) => {
  test.each([false, true])('a box of quads, extras %s', (extras) => {
    const model = expectRead('box.ply', ply({ encoding, ...BOX, extras, comment: 'units: inches' }));
    expect(model.format).toBe(encoding === 'ascii' ? 'ply-ascii' : 'ply-binary');
    const part = analysePart(model.positions, model.bodies, { splitAngleRad: 0.6 });
    // Whole numbers: exact.
    expect(part.area).toBe(5200);
    expect(part.volume).toBeCloseTo(24000, 9);
    expect(part.closed).toBe(true);
    expect(model.bodies).toEqual([{ name: 'box', firstTriangle: 0, triangleCount: 12 }]);
    expect(model).toMatchObject({ declaredUnit: 'in', notes: [] });
    expect(model.unitIsDeclared).toBeUndefined();
  });

  test('polygons of many corners, also reentrant ones, are all there', () => {
    // An angle 40 × 40 × 10: six corners in an L, the fan from its first corner covers too much.
    const outline = [
      [40, 0],
      [40, 10],
      [10, 10],
      [10, 40],
      [0, 40],
      [0, 0],
    ];
    const vertices = [0, 20].flatMap((z) => outline.map(([x, y]) => [x!, y!, z]));
    const faces = [
      [5, 4, 3, 2, 1, 0],
      [6, 7, 8, 9, 10, 11],
      ...outline.map((_, i) => [i, (i + 1) % 6, 6 + ((i + 1) % 6), 6 + i]),
    ];
    const { positions, notes } = expectRead('angle.ply', ply({ encoding, vertices, faces }));
    expect(plainArea(positions)).toBeCloseTo(2 * 700 + 160 * 20, 9);
    expect(plainVolume(positions)).toBeCloseTo(700 * 20, 9);
    expect(notes.map(({ code }) => code)).toEqual(['ply-polygons-recut']);
  });

  const short = { encoding, ...BOX };
  test.each([
    [
      'more corners than there are',
      { ...short, vertexCount: 9 },
      /^ply-(truncated|corner-missing|list-wrong|count-wrong)$/,
    ],
    ['a billion corners', { ...short, vertexCount: 1_000_000_000 }, /^too-many-triangles$/],
    ['ten million faces', { ...short, faceCount: 10_000_000 }, /^too-many-triangles$/],
    ['a million faces', { ...short, faceCount: 1_000_000 }, /^ply-truncated$/],
    ['one face more', { ...short, faceCount: 7 }, /^ply-truncated$/],
    [
      'a corner that is none',
      { ...short, faces: [...BOX.faces.slice(1), [0, 2, 3, 8]] },
      /^ply-corner-missing$/,
    ],
    [
      'a negative corner',
      { ...short, faces: [...BOX.faces.slice(1), [0, 2, 3, -1]] },
      /^ply-corner-missing$/,
    ],
    ['points alone', { ...short, faces: [] }, /^ply-point-cloud$/],
    ['lines alone', { ...short, faces: [[0, 1]] }, /^no-triangles$/],
  ] as const)('claims %s', (_what, written, code) => {
    expect(codeOf('x.ply', ply(written as Written))).toMatch(code);
  });

  test('cut anywhere, it is never read as a smaller part', () => {
    const bytes = ply(short);
    for (let length = 4; length < bytes.length - 1; length += 7) {
      expect(codeOf('x.ply', bytes.subarray(0, length))).toMatch(/^(ply-|file-)/);
    }
  });
});

describe('what only some encodings can get wrong', () => {
  test('a list longer than the file', () => {
    const bytes = ply({ encoding: 'binary_little_endian', ...BOX });
    bytes[bytes.length - 17] = 255;
    expect(codeOf('x.ply', bytes)).toBe('ply-list-wrong');
    const text = Buffer.from(ply({ encoding: 'ascii', ...BOX })).toString();
    expect(codeOf('x.ply', text.replace('4 1 3 7 5', '4000000000 1 3 7 5'))).toBe('ply-list-wrong');
  });

  test('fewer faces than there are', () => {
    expect(codeOf('x.ply', ply({ encoding: 'ascii', ...BOX, faceCount: 5 }))).toBe('ply-count-wrong');
    const { notes } = expectRead('x.ply', ply({ encoding: 'binary_little_endian', ...BOX, faceCount: 5 }));
    expect(notes.map(({ code }) => code)).toEqual(['ply-extra-bytes']);
  });

  test('words among the numbers, and numbers that are none', () => {
    const text = Buffer.from(ply({ encoding: 'ascii', ...BOX })).toString();
    expect(codeOf('x.ply', text.replace('40 30 20', '40 nan 20'))).toBe('ply-not-a-number');
    const bytes = ply({ encoding: 'binary_big_endian', ...BOX });
    const at = bytes.length - 6 * 17 - 24;
    new DataView(bytes.buffer).setFloat64(at, Infinity);
    expect(codeOf('x.ply', bytes)).toBe('not-finite');
  });

  test.each([
    ['no z', 'property double z\n', '', 'ply-property-missing'],
    ['no corners of faces', 'vertex_indices', 'colours', 'ply-property-missing'],
    ['no corners at all', 'element vertex', 'element point', 'ply-property-missing'],
    ['lists counted in fractions', 'list uchar', 'list float', 'ply-header-wrong'],
    ['an unknown type', 'property double x', 'property decimal x', 'ply-header-wrong'],
    ['an unknown form', 'format ascii', 'format morse', 'ply-header-wrong'],
    ['strips', 'element face 6', 'element tristrips 6', 'ply-strips'],
  ])('%s', (_what, from, to, code) => {
    const text = Buffer.from(ply({ encoding: 'ascii', ...BOX })).toString();
    expect(codeOf('x.ply', text.replace(from, to))).toBe(code);
  });

  test('line ends of other systems, and the other name of the corners', () => {
    const text = Buffer.from(ply({ encoding: 'ascii', ...BOX })).toString();
    expect(codeOf('x.ply', text.replaceAll('\n', '\r\n').replace('vertex_indices', 'vertex_index'))).toBe(
      'read',
    );
  });
});

describe('unions by manifold-3d', () => {
  let kit: Awaited<ReturnType<typeof Module>>;
  beforeAll(async () => {
    kit = await Module();
    kit.setup();
  });

  test.each(ENCODINGS)('a ball through a plate, %s', (encoding) => {
    const { Manifold } = kit;
    const solid = Manifold.cube([40, 40, 6], true).add(Manifold.sphere(12, 48).translate([3, 4, 5]));
    const mesh = solid.getMesh();
    const vertices = Array.from({ length: mesh.numVert }, (_, i) => [...mesh.position(i)]);
    const faces = Array.from({ length: mesh.numTri }, (_, i) => [...mesh.verts(i)]);
    const { positions } = expectRead('union.ply', ply({ encoding, vertices, faces }));
    // Manifold measures in float64 the corners that it gives in float32.
    expect(plainArea(positions) / solid.surfaceArea()).toBeCloseTo(1, 6);
    expect(plainVolume(positions) / solid.volume()).toBeCloseTo(1, 6);
  });
});
