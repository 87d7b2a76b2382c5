import manifoldModule from 'manifold-3d';
import { beforeAll, describe, expect, it } from 'vitest';
import { FACE_KINDS } from '../../../core/faces/face-table.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { extruded } from '../../fixtures/shapes.ts';

type Wasm = Awaited<ReturnType<typeof manifoldModule>>;
type Body = InstanceType<Wasm['Manifold']>;

function soupOf(body: Body): Float32Array {
  const mesh = body.getMesh();
  const out = new Float32Array(3 * mesh.triVerts.length);
  mesh.triVerts.forEach((vertex, corner) => {
    for (let k = 0; k < 3; k++) out[3 * corner + k] = mesh.vertProperties[vertex * mesh.numProp + k];
  });
  return out;
}

/** Kind and size of every face, counted. */
function faces(positions: Float32Array): Record<string, number> {
  const { faces: table } = analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  const counted: Record<string, number> = {};
  for (let row = 0; row < table.count; row++) {
    const size = table.size[row] > 0 ? ` ${table.size[row].toFixed(2)}` : '';
    const name = `${FACE_KINDS[table.kind[row]]}${table.inward[row] ? ' in' : ''}${size}`;
    counted[name] = (counted[name] ?? 0) + 1;
  }
  return counted;
}

describe('parts made by joining and cutting meshes', () => {
  let wasm: Wasm;
  beforeAll(async () => {
    wasm = await manifoldModule();
    wasm.setup();
  });

  it.each([
    [2, 12],
    [2, 32],
    [5, 16],
    [5, 32],
  ])(
    'block with all edges rounded to r %d in %d segments: 6 planes, 12 edges, 8 corners',
    (radius, segments) => {
      const { Manifold } = wasm;
      const ball = Manifold.sphere(radius, segments);
      const corners = [-20, 20].flatMap((x) =>
        [-15, 15].flatMap((y) => [-8, 8].map((z) => ball.translate([x, y, z]))),
      );
      const block = Manifold.hull(corners);
      const drilled = block.subtract(Manifold.cylinder(60, 4, 4, segments, true));
      const rounded = { [`cylinder ${radius}.00`]: 12, [`sphere ${radius}.00`]: 8, plane: 6 };
      expect(faces(soupOf(block))).toEqual(rounded);
      expect(faces(soupOf(drilled))).toEqual({ ...rounded, 'cylinder in 4.00': 1 });
    },
  );

  it('a bar drilled across and a tee: their walls stay cylinders where they meet each other', () => {
    const { Manifold } = wasm;
    const bar = Manifold.cylinder(100, 12, 12, 48, true);
    const drilled = bar.subtract(Manifold.cylinder(60, 4, 4, 32, true).rotate([90, 0, 0]));
    expect(faces(soupOf(drilled))).toEqual({ 'cylinder 12.00': 1, 'cylinder in 4.00': 1, plane: 2 });
    const tee = bar.add(Manifold.cylinder(40, 6, 6, 32, false).rotate([90, 0, 0]));
    expect(faces(soupOf(tee))).toEqual({ 'cylinder 12.00': 1, 'cylinder 6.00': 1, plane: 3 });
  });

  it('a slightly oval tube is no cylinder', () => {
    const outline = Array.from({ length: 64 }, (_, i): [number, number] => {
      const angle = (2 * Math.PI * i) / 64;
      return [12 * Math.cos(angle), 11.7 * Math.sin(angle)];
    });
    expect(faces(extruded(outline, 40))).toEqual({ free: 1, plane: 2 });
  });
});
