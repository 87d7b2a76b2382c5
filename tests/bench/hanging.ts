import { DEFAULT_SPLIT_ANGLE_RAD } from '../../core/faces/split-faces.ts';
import { analysePart } from '../../core/mesh/analyse-part.ts';
import { createAdviser } from '../../core/racking/advise-contacts.ts';
import { contactGround } from '../../core/racking/contact-ground.ts';
import { firstTank } from '../../core/job/first-tank.ts';
import { distanceBetween, distanceBody } from '../../core/racking/body-distance.ts';
import { findTraps } from '../../core/racking/find-traps.ts';
import { rotationForUp, type Pose } from '../../core/racking/pose.ts';
import { searchAttitudes } from '../../core/racking/search-attitudes.ts';
import { cathodeBodies, checkTank } from '../../core/racking/tank-clearance.ts';
import type { Placement } from '../../core/racking/tank.ts';
import { prepareTrapMesh } from '../../core/racking/trap-mesh.ts';
import { medianOf, printTimings, timeCases, type BenchSubject, type Target } from './harness.ts';
import { filletedKnobs, wavyTorus } from './meshes.ts';

const adviserOptions = {
  metresPerUnit: 1e-3,
  up: [0.2, 0.3, 1],
  currentA: 4,
  centre: [0, 0, 0],
  patchDiameterM: 3e-3,
  allowShown: false,
  allowMasked: false,
  most: 12,
} as const;

/** Where to clamp, what is trapped, and how near two parts come: the promises of the hanging stage. */
export const hanging: BenchSubject = {
  name: 'hanging',
  run: () => {
    const targets: Target[] = [];
    for (const [count, limitMs] of [
      [100_000, 2000],
      [1_000_000, 10_000],
    ] as const) {
      const shapes = { torus: wavyTorus(count), 'knobs, filleted': filletedKnobs(count) };
      const parts = Object.entries(shapes).map(([name, positions]) => ({
        name,
        part: analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD }),
      }));
      const timings = timeCases(
        parts.map(({ name, part }) => ({
          name,
          run: () =>
            createAdviser(contactGround(part), new Uint8Array(part.triangleCount), adviserOptions).advise(),
        })),
        count > 500_000 ? 3 : 7,
      );
      printTimings(`contact adviser, ${count / 1000} k triangles, its tree included`, timings);
      const value = Math.max(...timings.map(({ median }) => median));
      targets.push({ what: `adviser on ${count / 1000} k triangles`, value, limit: limitMs, unit: ' ms' });
    }

    const meshes = {
      torus: wavyTorus(100_000),
      shuffled: wavyTorus(100_000, true),
      knobs: filletedKnobs(100_000),
    };
    const prepared = Object.entries(meshes).map(([name, positions]) => {
      const part = analysePart(positions, [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
      const mesh = prepareTrapMesh(part.graph.indexed);
      if (!mesh.ok) throw new Error(mesh.error.message);
      return { name, part, mesh: mesh.value };
    });
    const traps = timeCases([
      ...prepared.map(({ name, mesh }) => ({ name, run: () => findTraps(mesh, [0.3, -0.5, 0.8]) })),
      { name: 'making ready', run: () => prepareTrapMesh(prepared[0].part.graph.indexed) },
    ]);
    printTimings('traps of one attitude, 100 k triangles', traps);
    targets.push({
      what: 'traps of one attitude, 100 k triangles',
      value: Math.max(...traps.map(({ median }) => median)),
      limit: 150,
      unit: ' ms',
    });

    const search = timeCases(
      prepared.map(({ name, mesh }) => ({
        name,
        run: () => searchAttitudes(mesh, { directions: 500, extra: [], contacts: [] }),
      })),
      1,
    );
    printTimings('500 attitudes, 100 k triangles', search);
    targets.push({
      what: '500 attitudes, 100 k triangles',
      value: Math.max(...search.map(({ median }) => median)) / 1000,
      limit: 30,
      unit: ' s',
    });

    const body = distanceBody(prepared[0].mesh.vertices, prepared[0].mesh.triangles, 1e-3);
    const still: Pose = { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [0, 0, 0] };
    const apart: Pose = { rotation: rotationForUp([0.3, 0.2, 0.9]), offsetM: [0.09, 0.01, 0.02] };
    const before: Pose = { ...apart, offsetM: [0.0895, 0.0105, 0.02] };
    const { pair } = distanceBetween(body, still, body, before)!;
    const distance = timeCases([
      { name: 'two tori of 100 k', run: () => distanceBetween(body, still, body, apart) },
      { name: 'dragged by 0.7 mm', run: () => distanceBetween(body, still, body, apart, Infinity, pair) },
    ]);
    printTimings('smallest distance', distance);

    // As the page asks it while one of four copies is dragged through the shop's first tank, a step a frame.
    const { tank, rules } = firstTank('box');
    const parts = new Map([['p', { name: 'torus', body, coatedAreaM2: 0.01 }]]);
    const copies = [-0.24, -0.08, 0.08, 0.24].map((x, index): Placement => ({
      id: String(index),
      partId: 'p',
      pose: { rotation: rotationForUp([0, 1, 0]), offsetM: [x, 0, 0.2] },
    }));
    const kept = { sheets: cathodeBodies(tank), hints: new Map<string, readonly [number, number]>() };
    let step = 0;
    const drag = timeCases([
      {
        name: 'one copy of four, 1 mm a frame',
        run: () => {
          const y = 0.05 * Math.sin(step++ / 50);
          const moved = copies.map((copy) =>
            copy.id === '1' ? { ...copy, pose: { ...copy.pose, offsetM: [-0.08, y, 0.2] as const } } : copy,
          );
          return checkTank(tank, rules, parts, moved, 'metric', { ...kept, swingRad: 0.09, onlyId: '1' });
        },
      },
    ]);
    printTimings('all distances of a copy while it is dragged, 100 k triangles each', drag);
    targets.push({
      what: 'share of a frame (30 a second) that the distances of a dragged copy of 100 k triangles take',
      value: (100 * medianOf(drag, 'one copy of four, 1 mm a frame')) / (1000 / 30),
      limit: 100,
      unit: ' %',
    });
    // One frame at 30 a second; a worker does it beside the drawing.
    targets.push({
      what: 'smallest distance of two parts of 100 k triangles while one is dragged',
      value: medianOf(distance, 'dragged by 0.7 mm'),
      limit: 33,
      unit: ' ms',
    });
    return targets;
  },
};
