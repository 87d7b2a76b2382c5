import loadManifold from 'manifold-3d';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../core/faces/split-faces.ts';
import { partSurfaceSchema } from '../../core/job/job-surface.ts';
import { preparePart } from '../../core/job/prepare-part.ts';
import { crossingFinding } from '../../core/mesh/offer-repairs.ts';
import { fuseBodies } from '../../core/mesh/fuse-bodies.ts';
import { asSource } from '../../core/mesh/source-triangles.ts';
import { medianOf, printTimings, timeCases, type BenchSubject } from './harness.ts';
import { filletedKnobs, wavyTorus } from './meshes.ts';

const wishes = { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD, surface: partSurfaceSchema.parse({}) };
const tools = { cutPolygon: (): number[][] => [] };

/** From triangles to true areas: everything that happens to a model once it is read, and fusing two bodies. */
export const prepare: BenchSubject = {
  name: 'geometry/prepare',
  run: async () => {
    const kit = await loadManifold();
    kit.setup();
    const grid = wavyTorus(1_000_000);
    const knobs = filletedKnobs(1_000_000);
    const large = wavyTorus(5_000_000);
    const body = wavyTorus(50_000);
    const two = new Float32Array(2 * body.length);
    two.set(body);
    for (let i = 0; i < body.length; i++) two[body.length + i] = body[i] + (i % 3 === 0 ? 7 : 0.3);
    const whole = (positions: Float32Array) => preparePart({ positions, bodies: [] }, wishes, tools);
    const { geometry } = whole(grid);
    const timings = [
      ...timeCases(
        [
          { name: 'whole analysis, 1 M', run: () => whole(grid) },
          { name: 'whole analysis, 1 M in 1160 faces', run: () => whole(knobs) },
          { name: 'crossings of 1 M, when asked', run: () => crossingFinding(geometry) },
          { name: 'fuse two bodies of 50 k', run: () => fuseBodies(asSource(two), 0, kit) },
        ],
        5,
      ),
      ...timeCases([{ name: 'whole analysis, 5 M', run: () => whole(large) }], 3),
    ];
    printTimings('from triangles to true areas', timings);
    return [
      {
        what: 'whole analysis of 1 M',
        value: medianOf(timings, 'whole analysis, 1 M'),
        limit: 700,
        unit: ' ms',
      },
      {
        what: 'whole analysis of 1 M in 1160 faces, three of four curved',
        value: medianOf(timings, 'whole analysis, 1 M in 1160 faces'),
        limit: 700,
        unit: ' ms',
      },
      {
        what: 'whole analysis of 5 M',
        value: medianOf(timings, 'whole analysis, 5 M'),
        limit: 3800,
        unit: ' ms',
      },
      {
        what: 'fusing two bodies of 50 k',
        value: medianOf(timings, 'fuse two bodies of 50 k'),
        limit: 1000,
        unit: ' ms',
      },
    ];
  },
};
