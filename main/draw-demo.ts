/** Draws the demo parts into assets/demo. Run by `npm run assets`; the files are kept in the repository. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import loadManifold from 'manifold-3d';
import { drawDovetailPlate } from './demo/dovetail-plate.ts';
import { drawFocuserKnob } from './demo/focuser-knob.ts';
import { planDemoJob } from './demo/plan-demo-job.ts';
import { drawTubeRing } from './demo/tube-ring.ts';
import { writeBinaryStl } from './demo/write-binary-stl.ts';

/** The part that the first start shows, planned. */
const PLANNED = 'dovetail-plate';

const kit = await loadManifold();
kit.setup();
const folder = join('assets', 'demo');
mkdirSync(folder, { recursive: true });
const parts = {
  'dovetail-plate': drawDovetailPlate,
  'tube-ring': drawTubeRing,
  'focuser-knob': drawFocuserKnob,
};
for (const [name, draw] of Object.entries(parts)) {
  const part = draw(kit);
  const bodies = part.decompose().length;
  if (part.status() !== 'NoError' || bodies !== 1) {
    throw new Error(`${name}: ${part.status()}, ${bodies} bodies`);
  }
  const mesh = part.getMesh();
  const file = join(folder, `${name}.stl`);
  const bytes = writeBinaryStl(mesh.vertProperties, mesh.triVerts, `Tankside demo: ${name}, units: mm`);
  writeFileSync(file, bytes);
  if (name === PLANNED) writeFileSync(join(folder, `${name}.tankside`), planDemoJob(`${name}.stl`, bytes));
  console.log(
    `${file}: ${part.numTri()} triangles, ${(part.surfaceArea() / 100).toFixed(2)} cm², ${(part.volume() / 1000).toFixed(2)} cm³`,
  );
}
