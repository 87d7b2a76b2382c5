import { faceRow } from '../../core/faces/face-table.ts';
import { runsWhere } from '../../core/faces/triangle-runs.ts';
import type { RoundFeature } from '../../core/finish/round-features.ts';
import { putFit } from '../../core/job/edit-wet.ts';
import type { FitNeed, PartFit } from '../../core/job/job-fits.ts';
import { editJob, type AppStore } from './app-store.ts';
import { paintFaces } from './paint-faces.ts';

/** Triangles of some faces of the active part, as they are saved. */
export function runsOfRows(store: AppStore, rows: ReadonlySet<number>): number[] {
  const { activePartId, meshes } = store.getState();
  const geometry = activePartId === null ? undefined : meshes[activePartId]?.geometry;
  if (!geometry) return [];
  return runsWhere(geometry.triangleCount, (triangle) => rows.has(geometry.faces.faceOfTriangle[triangle]!));
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
    id: known?.id ?? crypto.randomUUID(),
    label,
    need,
    faces: runsOfRows(store, rows),
    count: 1,
    machined: false,
  };
  editJob(store, `Fit ${label}`, (job) => putFit(job, partId, fit), `fit-${fit.id}`);
}

/** Shows faces on the part, and masks or coats them in one step. */
export function paintRows(store: AppStore, rows: readonly number[], paint: 'mask' | 'coat'): void {
  store.setState({ selectedFaces: new Set(rows) });
  paintFaces(store, paint);
}
