import { DEFAULT_SPLIT_ANGLE_RAD } from '../../core/faces/split-faces.ts';
import { analysePart } from '../../core/mesh/analyse-part.ts';
import { contactPatches, type PatchPin } from '../../core/racking/contact-patch.ts';
import { medianOf, printTimings, timeCases, type BenchSubject } from './harness.ts';
import { wavyTorus } from './meshes.ts';

/** Six pads of 6 mm on a part of 76 mm, 1 M and 5 M triangles: the cost follows the patch, not the part. */
export const contactPatch: BenchSubject = {
  name: 'geometry/contact-patch',
  run: () =>
    [1_000_000, 5_000_000].map((triangleCount) => {
      const part = analysePart(wavyTorus(triangleCount), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
      const flags = new Uint8Array(part.triangleCount);
      const pins = Array.from({ length: 6 }, (_, i): PatchPin => {
        const triangle = Math.floor(((i + 0.5) * part.triangleCount) / 6);
        const corner = part.positions.subarray(9 * triangle, 9 * triangle + 3);
        return { at: [corner[0], corner[1], corner[2]], triangle, radius: 3 };
      });
      const under = contactPatches(part, flags, pins).reduce(
        (sum, { triangles }) => sum + triangles.length,
        0,
      );
      const timings = timeCases([{ name: 'six pads', run: () => contactPatches(part, flags, pins) }]);
      const million = `${triangleCount / 1e6} M`;
      printTimings(`pads on ${million} triangles, ${under} of them under pads`, timings);
      return { what: `${million}: six pads`, value: medianOf(timings, 'six pads'), limit: 100, unit: ' ms' };
    }),
};
