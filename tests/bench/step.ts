import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { readModel } from '../../core/model-files/read-model.ts';
import { startStepKernel } from '../../main/terminal/start-step-kernel.ts';
import { modelLoaders } from '../../main/terminal/model-loaders.ts';
import { medianOf, printTimings, timeCases, type BenchSubject } from './harness.ts';

/**
 * STEP of 160 faces, as1 of the CAx interoperability tests, to faces with areas and triangles: drawn with splines, the
 * slow way, and with true cylinders. The first reading compiles what it uses of the kernel and is timed apart.
 */
export const step: BenchSubject = {
  name: 'step',
  run: async () => {
    const require = createRequire(import.meta.url);
    const samples = join(dirname(require.resolve('occt-import-js')), '..', 'test', 'testfiles', 'cax-if');
    const bytesOf = (name: string): Uint8Array => new Uint8Array(readFileSync(join(samples, name)));
    const files = { splines: bytesOf('as1-oc-214.stp'), cylinders: bytesOf('as1-tu-203.stp') };
    const beforeStart = performance.now();
    const loaders = modelLoaders(await startStepKernel());
    const started = performance.now() - beforeStart;
    const read = (bytes: Uint8Array): void => {
      const model = readModel({ name: 'as1.stp', bytes, loaders });
      if (!model.ok || model.value.cad?.faces.length !== 160) throw new Error('as1 has 160 faces');
    };
    const beforeFirst = performance.now();
    read(files.splines);
    const first = performance.now() - beforeFirst;
    const timings = timeCases([
      { name: 'splines', run: () => read(files.splines) },
      { name: 'cylinders', run: () => read(files.cylinders) },
    ]);
    printTimings('STEP, 160 faces', timings);
    return [
      { what: 'kernel started', value: started, limit: 3000, unit: ' ms' },
      { what: 'first file, kernel still cold', value: first, limit: 3000, unit: ' ms' },
      { what: '160 faces, splines', value: medianOf(timings, 'splines'), limit: 1500, unit: ' ms' },
      { what: '160 faces, cylinders', value: medianOf(timings, 'cylinders'), limit: 1500, unit: ' ms' },
    ];
  },
};
