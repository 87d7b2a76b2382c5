import { facetCorrection } from '../../core/faces/facet-correction.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../core/faces/split-faces.ts';
import { worthAsking } from '../../core/job/worth-asking.ts';
import { analysePart } from '../../core/mesh/analyse-part.ts';
import { KERNEL_PARTS, kernelPart } from '../fixtures/kernel-parts.ts';
import { randomFrom } from '../fixtures/round-solids.ts';
import { meshed, startDrawing, surfaceOf } from '../fixtures/write-step.ts';
import type { BenchSubject } from './harness.ts';

/** As exporters are set: chord off the surface in mm, turn from facet to facet in rad. */
const FINENESS = [
  [1, 0.5],
  [0.5, 0.5],
  [0.1, 0.5],
  [0.2, 0.3],
  [0.05, 0.2],
  [0.01, 0.1],
] as const;
const EACH = 3;
/** Coordinates have 24 bits: errors of the mesh below this share of the area are not looked at. */
const NOISE = 2e-5;

/** Parts as CAD programs export them, meshed by OpenCascade and judged by its own integrals, which adapt to the surface. */
export const kernelAreas: BenchSubject = {
  name: 'geometry/kernel-areas',
  run: async () => {
    const kernel = await startDrawing();
    console.log(
      `\nparts meshed by a CAD kernel, ${EACH} of each kind  (worst share of the mesh's error left; times asked about, the truth outside its range)`,
    );
    console.log(
      `  ${''.padEnd(34)}${FINENESS.map(([chord, turn]) => `${chord} mm ${turn} rad`.padStart(16)).join('')}`,
    );
    let [outside, asked, beyond, worst, meshes] = [0, 0, 0, 0, 0];
    KERNEL_PARTS.forEach((part, row) => {
      const cells = FINENESS.map(([chord, turnRad]) => {
        let [left, questions, missed] = [0, 0, 0];
        for (let i = 0; i < EACH; i++) {
          const shape = kernelPart(kernel, part, randomFrom(1 + 7919 * i + 104_729 * row));
          const truth = surfaceOf(kernel, shape);
          const options = { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD };
          const geometry = analysePart(meshed(kernel, shape, chord, turnRad), [], options);
          const { total, ambiguous } = facetCorrection(geometry);
          const raw = Math.abs(geometry.area - truth);
          const isAsked = worthAsking(ambiguous, geometry.area).length > 0;
          const own = raw > NOISE * truth ? Math.abs(total.corrected - truth) / raw : 0;
          meshes++;
          left = Math.max(left, own);
          worst = Math.max(worst, Math.abs(total.corrected / truth - 1));
          if (isAsked) questions++;
          else if (own > 0.1) beyond++;
          if (total.low > truth * (1 + 2e-6) || total.high < truth * (1 - 2e-6)) missed++;
        }
        outside += missed;
        asked += questions;
        return `${left.toFixed(2)} ${questions} ${missed}`.padStart(16);
      });
      console.log(`  ${part.padEnd(34)}${cells.join('')}`);
    });
    console.log(`  ${meshes} meshes, ${asked} asked about, ${(100 * worst).toFixed(2)} % off at worst`);
    return [
      { what: 'meshes of a CAD kernel: truth outside the range', value: outside, limit: 0, unit: ' times' },
      {
        what: '… off by more than a tenth of the mesh’s error, unasked',
        value: beyond,
        limit: 0,
        unit: ' times',
      },
    ];
  },
};
