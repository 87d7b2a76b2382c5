import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { withoutEval } from '../../../renderer/build/embind-without-eval.ts';

const require = createRequire(import.meta.url);
const wasm = require.resolve('replicad-opencascadejs/wasm');
const original = readFileSync(wasm.replace(/\.wasm$/, '.js'), 'utf8');
const folder = mkdtempSync(join(tmpdir(), 'tankside-embind-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Draws a tube, writes it as STEP, reads it back and prints its area. */
const SCRIPT = `
import { readFileSync } from 'node:fs';
import start from './kernel.mjs';
const k = await start({ wasmBinary: readFileSync(process.argv[2]), print() {}, printErr() {} });
const tube = new k.BRepAlgoAPI_Cut(new k.BRepPrimAPI_MakeCylinder(12.5, 100).Shape(), new k.BRepPrimAPI_MakeCylinder(10, 100).Shape(), new k.Message_ProgressRange()).Shape();
const writer = new k.STEPControl_Writer();
writer.Transfer(tube, k.STEPControl_StepModelType.STEPControl_AsIs, true, new k.Message_ProgressRange());
writer.Write('/t.step');
const reader = new k.STEPControl_Reader();
reader.ReadFile('/t.step');
reader.TransferRoots(new k.Message_ProgressRange());
const properties = new k.GProp_GProps();
k.BRepGProp.SurfaceProperties(reader.OneShape(), properties, 1e-6, false);
let why = '';
try { k.TopoDS.Edge(tube); } catch (error) { why = 'refused'; }
console.log(JSON.stringify({ area: properties.Mass(), why }));
`;

function runWith(code: string): { area: number; why: string } {
  writeFileSync(join(folder, 'kernel.mjs'), code);
  writeFileSync(join(folder, 'draw.mjs'), SCRIPT);
  // Node's own form of the page's content policy: text is never run as code.
  const args = ['--disallow-code-generation-from-strings', join(folder, 'draw.mjs'), wasm];
  return JSON.parse(
    execFileSync(process.execPath, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }),
  );
}

test('the kernel works where text may not be run as code, and did not before', () => {
  expect(() => runWith(original)).toThrow();
  const { area, why } = runWith(withoutEval(original));
  // Tube 25/20, L 100: both walls and two rings.
  expect(area).toBeCloseTo(Math.PI * 45 * 100 + (Math.PI / 2) * (625 - 400), 4);
  expect(why).toBe('refused');
}, 60_000);

test('another version of the library stops the build', () => {
  expect(() => withoutEval(original.replaceAll('new Function', 'newFunction'))).toThrow(/has changed/);
  expect(() => withoutEval(`${original};eval("1")`)).toThrow(/runs text as code/);
});
