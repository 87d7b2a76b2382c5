import { facetCorrection } from '../../core/faces/facet-correction.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../core/faces/split-faces.ts';
import { analysePart } from '../../core/mesh/analyse-part.ts';
import { cutAtWaterline } from '../../core/mesh/waterline.ts';
import { measureAreas } from './facet-areas.ts';
import { medianOf, printTimings, timeCases, type BenchSubject, type Timing } from './harness.ts';
import { filletedKnobs, wavyTorus } from './meshes.ts';

/**
 * The areas against closed forms, then the time: the whole analysis with the facet correction on top, and the waterline's cut. The promise is on the wavy torus; knobs
 * are the worst for the correction, every other facet touching a border.
 */
export const facets: BenchSubject = {
  name: 'geometry/facets',
  run: () => {
    const areas = measureAreas();
    const small = measure('wavy torus', wavyTorus(1_000_000), 7);
    measure('knobs with fillets', filletedKnobs(1_000_000), 5);
    const large = measure('wavy torus', wavyTorus(5_000_000), 3);
    return [
      ...areas,
      { what: '1 M: analysis and facets', value: medianOf(small, 'both'), limit: 700, unit: ' ms' },
      { what: '5 M: analysis and facets', value: medianOf(large, 'both'), limit: 3800, unit: ' ms' },
    ];
  },
};

function measure(title: string, positions: Float32Array, rounds: number): Timing[] {
  const options = { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD };
  const part = analysePart(positions, [], options);
  const level = { up: [0.1, 0.2, 1], point: [0, 0, 1] } as const;
  const timings = timeCases(
    [
      { name: 'analysis', run: () => analysePart(positions, [], options) },
      { name: 'facets', run: () => facetCorrection(part) },
      { name: 'waterline', run: () => cutAtWaterline(positions, part.triangleAreas, part.closed, level) },
      { name: 'both', run: () => facetCorrection(analysePart(positions, [], options)) },
    ],
    rounds,
  );
  const count = (part.triangleCount / 1e6).toFixed(1);
  printTimings(`${title}, ${count} M triangles, ${part.faces.count} faces`, timings);
  return timings;
}
