import { faceRow } from '../../core/faces/face-table.ts';
import { parseThread } from '../../core/finish/parse-thread.ts';
import type { RoundFeature } from '../../core/finish/round-features.ts';
import { threadArea } from '../../core/finish/thread-area.ts';
import { threadedFace } from '../../core/finish/threaded-face.ts';
import { partById } from '../../core/job/edit-job.ts';
import { setThread } from '../../core/job/edit-surface.ts';
import { putFit, removeFit } from '../../core/job/edit-wet.ts';
import type { FitNeed, PartFit } from '../../core/job/job-fits.ts';
import type { Job, Part } from '../../core/job/job.ts';
import { sourceOf, sourceRunsOfFaces } from '../../core/mesh/mesh-triangles.ts';
import { metresPerUnit } from '../../core/mesh/part-extents.ts';
import type { PartGeometry } from '../../core/mesh/part-geometry.ts';
import { editJob, jobOf, type AppStore } from './app-store.ts';
import { paintFaces } from './paint-faces.ts';

/** The file's triangles behind some faces of the active part, as they are saved. */
export function runsOfRows(store: AppStore, rows: ReadonlySet<number>): number[] {
  const { activePartId, meshes } = store.getState();
  const geometry = activePartId === null ? undefined : meshes[activePartId]?.geometry;
  if (!geometry) return [];
  return sourceRunsOfFaces(geometry, rows);
}

export function rowsOfRound(round: RoundFeature): Set<number> {
  return new Set(round.faceIds.map((id) => faceRow(id)!));
}

/** Gives faces of the active part a fit, or changes the one they have. */
export function fitFaces(
  store: AppStore,
  partId: string,
  rows: ReadonlySet<number>,
  label: string,
  need: FitNeed,
  known?: PartFit,
): void {
  const fit: PartFit = {
    ...(known ?? { id: crypto.randomUUID(), count: 1, machinedTo: null }),
    label,
    need,
    faces: runsOfRows(store, rows),
  };
  const threads = threadsOfFit(store, partId, rows, need);
  const before = known ? threadsOfFit(store, partId, rows, known.need) : [];
  const marked = (job: Job): Job =>
    threads.reduce(
      (next, { triangle, designation }) => setThread(next, partId, triangle, designation),
      unmarked(putFit(job, partId, fit), partId, before),
    );
  editJob(store, `Fit ${label}`, marked, `fit-${fit.id}`);
}

/** Takes a fit off again, and with it the thread it put on its faces. */
export function dropFit(store: AppStore, partId: string, rows: ReadonlySet<number>, fit: PartFit): void {
  const threads = threadsOfFit(store, partId, rows, fit.need);
  editJob(store, `Remove ${fit.label}`, (job) => unmarked(removeFit(job, partId, fit.id), partId, threads));
}

interface ThreadMark {
  readonly triangle: number;
  readonly designation: string;
}

/** Without these marks; one that says another thread by now stays. */
function unmarked(job: Job, partId: string, marks: readonly ThreadMark[]): Job {
  const own = partById(job, partId).surface.threads;
  const still = marks.filter((mark) =>
    own.some((at) => at.triangle === mark.triangle && at.designation === mark.designation),
  );
  return still.reduce((next, { triangle }) => setThread(next, partId, triangle, null), job);
}

/** A thread given as a fit is on the real part, so its faces count with it; where the model shows another size, they don't. */
function threadsOfFit(
  store: AppStore,
  partId: string,
  rows: ReadonlySet<number>,
  need: FitNeed,
): ThreadMark[] {
  if (need.as !== 'code') return [];
  const part = jobOf(store.getState()).parts.find(({ id }) => id === partId);
  const geometry = store.getState().meshes[partId]?.geometry;
  if (!part || !geometry) return [];
  return [...rows].flatMap((row) => {
    const cylinder = threadedFace(geometry, row, metresPerUnit(part.unit));
    const thread = cylinder.ok ? parseThread(need.text, cylinder.value.kind) : null;
    if (!cylinder.ok || !thread?.ok || !threadArea(cylinder.value, { limits: thread.value }).ok) return [];
    const designation = thread.value.designation.replace(/-(6H|6g|2A|2B)$/, '');
    return [{ triangle: sourceOf(geometry, geometry.faces.firstTriangle[row]!), designation }];
  });
}

/** The thread that a face is marked with, as a fit with the class of its side; null where there is none. */
export function markedThread(part: Part, geometry: PartGeometry, rows: Iterable<number>): string | null {
  for (const row of rows) {
    const triangle = sourceOf(geometry, geometry.faces.firstTriangle[row]!);
    const own = part.surface.threads.find((thread) => thread.triangle === triangle);
    if (!own) continue;
    const thread = parseThread(own.designation, geometry.faces.inward[row] === 1 ? 'internal' : 'external');
    if (thread.ok) return thread.value.designation;
  }
  return null;
}

/** Shows faces on the part, and masks or coats them in one step. */
export function paintRows(store: AppStore, rows: readonly number[], paint: 'mask' | 'coat'): void {
  store.setState({ selectedFaces: new Set(rows) });
  paintFaces(store, paint);
}
