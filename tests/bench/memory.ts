import { spawnSync } from 'node:child_process';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../core/faces/split-faces.ts';
import { partSurfaceSchema } from '../../core/job/job-surface.ts';
import { preparePart } from '../../core/job/prepare-part.ts';
import type { BenchSubject } from './harness.ts';
import { wavyTorus } from './meshes.ts';

/** Set in the process that is measured: nothing else has run in it. */
const ALONE = 'TANKSIDE_BENCH_ALONE';

/** Most memory a process of its own ever held that reads nothing but 5 M triangles and measures them, the triangles included. */
export const memory: BenchSubject = {
  name: 'geometry/memory',
  run: () => {
    if (process.env[ALONE] !== undefined) {
      const surface = partSurfaceSchema.parse({});
      const wishes = { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD, surface };
      preparePart({ positions: wavyTorus(5_000_000), bodies: [] }, wishes, { cutPolygon: () => [] });
      // Kilobytes on every system.
      console.log(`${ALONE} ${process.resourceUsage().maxRSS / 1e6}`);
      return [];
    }
    const script = process.argv[1];
    if (script === undefined) throw new Error('the benchmark has no script to run again');
    const child = spawnSync(process.execPath, [script, 'geometry/memory'], {
      env: { ...process.env, [ALONE]: '1' },
      encoding: 'utf8',
    });
    const peakGb = Number(child.stdout.match(new RegExp(`${ALONE} (\\S+)`))?.[1]);
    if (!(peakGb > 0)) throw new Error(`the measured process said: ${child.stdout}${child.stderr}`);
    return [{ what: 'most memory while 5 M triangles are measured', value: peakGb, limit: 1.2, unit: ' GB' }];
  },
};
