import { newPartWithoutFile } from '../../core/job/default-job.ts';
import { addPart } from '../../core/job/edit-job.ts';
import type { PartSource } from '../../core/job/part-source.ts';
import type { Services } from '../app/services.ts';
import { isUntouchedDemo, showEmptyJob } from './open-files.ts';
import { editJob, jobOf, showPart } from './app-store.ts';

/** Adds a part to be drawn here: a plate to begin with. */
export function addDrawnPart(services: Services): void {
  const plate = {
    id: crypto.randomUUID(),
    kind: 'plate' as const,
    lengthM: 0.1,
    widthM: 0.06,
    thicknessM: 0.006,
    at: [0, 0, 0] as [number, number, number],
    axis: 'z' as const,
    holes: [],
  };
  addPartWithoutFile(services, 'Drawn shape', { kind: 'shape', shape: { bodies: [plate] } });
}

/** Adds a part of which only the coated area of one piece is known. */
export function addTypedPart(services: Services, areaM2: number): void {
  addPartWithoutFile(services, 'Typed area', { kind: 'typed', areaM2 });
}

function addPartWithoutFile(
  services: Services,
  name: string,
  source: Extract<PartSource, { kind: 'shape' | 'typed' }>,
): void {
  const { store } = services;
  if (isUntouchedDemo(services)) showEmptyJob(services);
  const part = newPartWithoutFile(crypto.randomUUID(), name, source);
  const isFirst = jobOf(store.getState()).parts.length === 0;
  editJob(store, `Add ${name}`, (job) =>
    addPart(isFirst && job.name === 'New job' ? { ...job, name } : job, part),
  );
  showPart(store, part.id);
  store.setState({ stage: 'part' });
}
