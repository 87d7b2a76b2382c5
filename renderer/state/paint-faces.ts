import { DEFAULT_SPLIT_ANGLE_RAD } from '../../core/faces/split-faces.ts';
import { COVERAGE_BITS } from '../../core/faces/coverage-flags.ts';
import { faceId } from '../../core/faces/face-table.ts';
import { growSmooth } from '../../core/faces/grow-smooth.ts';
import { sameShape } from '../../core/faces/same-shape.ts';
import { coverageOn, paintedCoverage } from '../../core/mesh/mesh-triangles.ts';
import type { ClosedOff } from '../../core/job/closed-off.ts';
import { partById, setCoverage } from '../../core/job/edit-job.ts';
import { editJob, jobOf, type AppStore } from './app-store.ts';

/** What a face can be set to; `show` turns the show mark on or off and leaves the treatment. */
export type Paint = 'coat' | 'mask' | 'contact' | 'show';

const WORDS: Readonly<Record<Paint, string>> = {
  coat: 'Coat',
  mask: 'Mask',
  contact: 'Bare contact',
  show: 'Show mark',
};

/** Masks these triangles of a part, which no acid reaches; one step of undo. */
export function maskClosedOff(store: AppStore, partId: string, { triangles, faces }: ClosedOff): void {
  const mesh = store.getState().meshes[partId];
  if (!mesh) return;
  const { coverage } = partById(jobOf(store.getState()), partId);
  const masked = paintedCoverage(
    mesh.geometry,
    coverage,
    triangles,
    (before) => (before & COVERAGE_BITS.show) | COVERAGE_BITS.mask,
  );
  editJob(store, `Mask ${faces}`, (job) => setCoverage(job, partId, masked));
}

/** Sets the selected faces of the active part; one step of undo. */
export function paintFaces(store: AppStore, paint: Paint): void {
  const state = store.getState();
  const partId = state.activePartId;
  const mesh = partId === null ? undefined : state.meshes[partId];
  if (partId === null || !mesh || state.selectedFaces.size === 0) return;
  const part = partById(jobOf(state), partId);
  const { faceOfTriangle } = mesh.geometry.faces;
  const count = mesh.geometry.triangleCount;
  const flags = coverageOn(mesh.geometry, part.coverage);
  const painted: number[] = [];
  for (let triangle = 0; triangle < count; triangle++) {
    if (state.selectedFaces.has(faceOfTriangle[triangle]!)) painted.push(triangle);
  }
  const allShown = painted.every((triangle) => (flags[triangle]! & COVERAGE_BITS.show) !== 0);
  const coverage = paintedCoverage(mesh.geometry, part.coverage, painted, (before) => {
    if (paint === 'show') return allShown ? before & ~COVERAGE_BITS.show : before | COVERAGE_BITS.show;
    const kept = before & COVERAGE_BITS.show;
    return paint === 'coat' ? kept : kept | COVERAGE_BITS[paint];
  });
  const [first] = state.selectedFaces;
  const what = state.selectedFaces.size === 1 ? faceId(first!) : `${state.selectedFaces.size} faces`;
  editJob(store, `${WORDS[paint]} ${what}`, (job) => setCoverage(job, partId, coverage));
}

function changeSelection(store: AppStore, grow: (rows: ReadonlySet<number>) => Iterable<number>): void {
  store.setState((state) => ({ selectedFaces: new Set(grow(state.selectedFaces)) }));
}

function activeFaces(store: AppStore) {
  const { activePartId, meshes } = store.getState();
  return activePartId === null ? undefined : meshes[activePartId]?.geometry.faces;
}

/** Adds everything reached over edges that do not count as creases. */
export function selectGrown(store: AppStore): void {
  const faces = activeFaces(store);
  if (faces) changeSelection(store, (rows) => growSmooth(faces, rows, DEFAULT_SPLIT_ANGLE_RAD));
}

export function selectAlike(store: AppStore): void {
  const faces = activeFaces(store);
  if (faces) changeSelection(store, (rows) => sameShape(faces, rows));
}

export function selectNone(store: AppStore): void {
  changeSelection(store, () => []);
}

/** What a click on the part does to the selection. */
export function pickFace(store: AppStore, row: number, intent: 'replace' | 'add' | 'subtract'): void {
  changeSelection(store, (rows) => {
    if (intent === 'replace') return rows.size === 1 && rows.has(row) ? [] : [row];
    if (intent === 'add') return [...rows, row];
    return [...rows].filter((other) => other !== row);
  });
}
