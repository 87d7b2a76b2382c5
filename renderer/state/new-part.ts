import { newPartWithoutFile } from '../../core/job/default-job.ts';
import { addPart } from '../../core/job/edit-job.ts';
import type { PartSource } from '../../core/job/part-source.ts';
import type { Services } from '../app/services.ts';
import { isUntouchedDemo, showEmptyJob } from './open-files.ts';
import { editJob, jobOf, showPart } from './app-store.ts';

/** A usual bracket's area, to be typed over: 1 dm². */
const FIRST_TYPED_M2 = 0.01;

/** Adds a part that is drawn here, or of which only the area is typed in. */
export function addPartWithoutFile(services: Services, kind: 'shape' | 'typed'): void {
  const { store } = services;
  if (isUntouchedDemo(services)) showEmptyJob(services);
  const source: Extract<PartSource, { kind: 'shape' | 'typed' }> =
    kind === 'typed'
      ? { kind, areaM2: FIRST_TYPED_M2 }
      : {
          kind,
          shape: {
            bodies: [
              {
                id: crypto.randomUUID(),
                kind: 'plate',
                lengthM: 0.1,
                widthM: 0.06,
                thicknessM: 0.006,
                at: [0, 0, 0],
                axis: 'z',
                holes: [],
              },
            ],
          },
        };
  const name = kind === 'typed' ? 'Typed area' : 'Drawn shape';
  const part = newPartWithoutFile(crypto.randomUUID(), name, source);
  const isFirst = jobOf(store.getState()).parts.length === 0;
  editJob(store, `Add ${name}`, (job) =>
    addPart(isFirst && job.name === 'New job' ? { ...job, name } : job, part),
  );
  showPart(store, part.id);
  store.setState({ stage: 'part' });
}
