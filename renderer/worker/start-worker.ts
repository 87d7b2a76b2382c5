import type { WorkerLike } from './client.ts';

/** A worker from the page's own origin, as the content policy demands. */
export function startWorker(): WorkerLike {
  return new Worker(new URL('./entry.ts', import.meta.url), { type: 'module', name: 'tankside' });
}
