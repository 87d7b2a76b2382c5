/** `tankside plan` on formats that state their unit, and on PLY, as it is run. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { strToU8, zipSync } from 'fflate';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { binaryStl, boxTriangles } from '../../fixtures/model-bytes.ts';
import { runTankside } from './run-tankside.ts';

const require = createRequire(import.meta.url);
const SAMPLES = join(dirname(require.resolve('occt-import-js')), '..', 'test', 'testfiles');
const CUBE_IN = join(SAMPLES, 'cube-units', 'cube-in.step');
const FILM = ['--thickness', '1mil', '--density', '6A/ft2'];

let folder: string;
const at = (name: string): string => join(folder, name);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankside-formats-'));
  const corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [i & 1 ? 4 : 0, i & 2 ? 4 : 0, i & 4 ? 3.5 : 0]);
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const vertices = corners.map(([x, y, z]) => `<vertex x="${x}" y="${y}" z="${z}"/>`).join('');
  const triangles = quads
    .flatMap(([a, b, c, d]) => [
      [a, b, c],
      [a, c, d],
    ])
    .map(([a, b, c]) => `<triangle v1="${a}" v2="${b}" v3="${c}"/>`)
    .join('');
  const model = `<model unit="inch" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"><resources><object id="1"><mesh><vertices>${vertices}</vertices><triangles>${triangles}</triangles></mesh></object></resources><build><item objectid="1"/></build></model>`;
  writeFileSync(at('block.3mf'), zipSync({ '3D/3dmodel.model': strToU8(model) }));
  writeFileSync(
    at('block.ply'),
    `ply\nformat ascii 1.0\nelement vertex 8\nproperty float x\nproperty float y\nproperty float z\nelement face 6\nproperty list uchar int vertex_indices\nend_header\n${corners.map((c) => c.join(' ')).join('\n')}\n${quads.map((q) => `4 ${q.join(' ')}`).join('\n')}\n`,
  );
  writeFileSync(at('block.stl'), binaryStl(boxTriangles(4, 4, 3.5)));
  writeFileSync(at('cut.step'), readFileSync(CUBE_IN).subarray(0, 9000));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Printed {
  readonly parts: readonly {
    readonly unit: string;
    readonly areaMm2: number;
    readonly faces: readonly { readonly areaMm2: number }[];
    readonly findings: readonly { readonly code: string; readonly message: string }[];
  }[];
}
const plan = (...args: string[]): Printed['parts'] => {
  const ended = runTankside('plan', ...args, ...FILM, '--json');
  expect(ended.err).toBe('');
  expect(ended.code).toBe(0);
  return (JSON.parse(ended.out) as Printed).parts;
};
/** 2 (16 + 14 + 14) in². */
const BLOCK_MM2 = 88 * 25.4 ** 2;

test('STEP and 3MF need no --unit', () => {
  const [cube, block] = plan(CUBE_IN, at('block.3mf'));
  // The cube of one metre, drawn in inches.
  expect(cube!.areaMm2).toBeCloseTo(6_000_000, 3);
  expect(cube!.unit).toBe('mm');
  expect(cube!.faces.map(({ areaMm2 }) => Math.round(areaMm2))).toEqual(Array(6).fill(1_000_000));
  expect(block!.unit).toBe('in');
  expect(block!.areaMm2).toBeCloseTo(BLOCK_MM2, 6);
  expect(block!.findings).toEqual([]);
});

test('a STEP file drawn in inches is converted once, whatever --unit says', () => {
  const [same] = plan(CUBE_IN, '--unit', 'in');
  expect(same!.areaMm2).toBeCloseTo(6_000_000, 3);
  expect(same!.findings.map(({ code }) => code)).toEqual(['step-unit']);
  const [other] = plan(CUBE_IN, '--unit', 'mm');
  expect(other!.areaMm2).toBeCloseTo(6_000_000, 3);
  expect(other!.findings.map(({ code }) => code)).toEqual(['step-unit', 'unit-differs']);
  expect(other!.findings[1]!.message).toContain('states its unit, in, ');
});

test('a --unit that says otherwise is used for the file it is meant for, and told', () => {
  const [block] = plan(at('block.3mf'), '--unit', 'mm');
  expect(block!.areaMm2).toBeCloseTo(88, 9);
  expect(block!.findings.map(({ code }) => code)).toEqual(['unit-differs']);
  expect(block!.findings[0]!.message).toContain('--unit mm was given; mm was used');
});

test('one --unit for several files is for those that state none', () => {
  const [stl, block] = plan(at('block.stl'), at('block.3mf'), '--unit', 'mm');
  expect(stl!.areaMm2).toBeCloseTo(88, 9);
  expect(block!.areaMm2).toBeCloseTo(BLOCK_MM2, 6);
  expect(block!.findings.map(({ code }) => code)).toEqual(['unit-differs']);
  const each = plan(at('block.stl'), at('block.3mf'), '--unit', 'in,in');
  expect(each.map(({ areaMm2 }) => Math.round(areaMm2))).toEqual([56774, 56774]);
  // Normals that a file leaves out are told, but nothing about units.
  expect(each.flatMap(({ findings }) => findings.map(({ code }) => code))).not.toContain('unit-differs');
});

test('PLY carries no unit, and a cut STEP file says where it ends', () => {
  const without = runTankside('plan', at('block.ply'), ...FILM);
  expect(without.code).toBe(2);
  expect(without.err).toContain('PLY carries no unit');
  expect(plan(at('block.ply'), '--unit', 'in')[0]!.areaMm2).toBeCloseTo(BLOCK_MM2, 6);
  const cut = runTankside('plan', at('cut.step'), ...FILM);
  expect(cut.code).toBe(2);
  expect(cut.err).toContain('before its closing line');
});

test('the text says that areas are exact', () => {
  const ended = runTankside('plan', CUBE_IN, ...FILM);
  expect(ended.out).toContain('exact, from the CAD faces');
  expect(ended.out).toContain('drawn in inches');
});
