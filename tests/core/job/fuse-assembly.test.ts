/**
 * A whole assembly of a CAD program, fused. Judge: the union of its solids by the CAD kernel itself, which knows no
 * facets (OpenCascade's Boolean fuse and its surface properties).
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { partSurfaceSchema } from '../../../core/job/job-surface.ts';
import { preparePart } from '../../../core/job/prepare-part.ts';
import { readModel } from '../../../core/model-files/read-model.ts';
import { modelLoaders } from '../../../main/terminal/model-loaders.ts';
import { solidKit } from '../../fixtures/solid-kit.ts';
import { startDrawing, unionArea } from '../../fixtures/write-step.ts';

const require = createRequire(import.meta.url);
const SAMPLES = join(dirname(require.resolve('occt-import-js')), '..', 'test', 'testfiles', 'cax-if');

let kernel: Awaited<ReturnType<typeof startDrawing>>;
let kit: Awaited<ReturnType<typeof solidKit>>;
beforeAll(async () => {
  [kernel, kit] = await Promise.all([startDrawing(), solidKit()]);
});

/** The first has its round faces as splines, the second as true cylinders whose facets bolt and nut share. */
test.each(['as1-oc-214.stp', 'as1-tu-203.stp'])(
  '%s fused: the union’s area, and nothing left to fuse',
  (name) => {
    const bytes = new Uint8Array(readFileSync(join(SAMPLES, name)));
    const read = readModel({ name, bytes, loaders: modelLoaders(kernel) });
    if (!read.ok) throw new Error(read.error.message);
    const { positions, bodies, cad } = read.value;
    const { geometry, fuse, fuseFailure } = preparePart(
      { positions, bodies, cad: cad! },
      {
        splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD,
        surface: { ...partSurfaceSchema.parse({}), fuseGap: 0 },
      },
      { cutPolygon: modelLoaders().cutPolygon, kit },
    );
    expect(fuseFailure).toBeNull();
    expect(fuse!.bodiesBefore).toBe(18);
    // Each body grows by up to the chord tolerance, 0.04 mm, round about 5 mm: 1e-3 where it stands out of its hole.
    expect(Math.abs(geometry.area / unionArea(kernel, bytes) - 1)).toBeLessThan(1e-3);
    expect(geometry.closed).toBe(true);
    const said = geometry.findings.map(({ code }) => code);
    for (const code of ['crowded-edges', 'bodies-meet', 'self-crossing', 'closed-cavity', 'open-edges']) {
      expect(said).not.toContain(code);
    }
    const offers = geometry.findings.flatMap((finding) => finding.offers ?? []);
    expect(offers.filter((offer) => 'fuseGap' in offer)).toEqual([]);
  },
);
