import { acceptRepair, setFuse } from '../../core/job/edit-surface.ts';
import { partById } from '../../core/job/edit-job.ts';
import type { Job, Part } from '../../core/job/job.ts';
import { sourceName } from '../../core/job/part-source.ts';
import type { ChangedTriangles } from '../../core/mesh/changed-triangles.ts';
import type { PartGeometry, ReadyOffer } from '../../core/mesh/part-geometry.ts';
import type { Services } from '../app/services.ts';
import type { AppState, PartMesh } from './app-state.ts';
import { editJob, jobOf, type AppStore } from './app-store.ts';
import { meshOf, sourceSurface, wishesOf } from './follow-mesh.ts';
import { notify } from './notices.ts';
import { prepareClicks } from './prepare-clicks.ts';

/** A repair, or fusing, that the user looks at before it is done. The job knows nothing of it. */
export interface RepairTrial {
  readonly partId: string;
  readonly offer: ReadyOffer;
  /** The mesh it starts from; on another mesh the trial says nothing any more. */
  readonly from: PartGeometry;
  /** null while it is worked out. */
  readonly outcome: {
    readonly tried: Part;
    readonly mesh: PartMesh;
    readonly changed: ChangedTriangles;
  } | null;
  /** What the 3D view shows. */
  readonly side: 'before' | 'after';
}

/** The trial of a part, as long as the part's mesh is the one it was made from and nothing else is on its way. */
export function trialOf(state: AppState, partId: string): RepairTrial | null {
  const { repairTrial } = state;
  const mesh = state.meshes[partId];
  const part = jobOf(state).parts.find(({ id }) => id === partId);
  if (!repairTrial || repairTrial.partId !== partId || mesh?.geometry !== repairTrial.from || !part)
    return null;
  const { repairs, fuseGap } = mesh.made.surface;
  return part.surface.repairs === repairs && part.surface.fuseGap === fuseGap ? repairTrial : null;
}

const withOffer = (job: Job, partId: string, offer: ReadyOffer): Job =>
  'repair' in offer ? acceptRepair(job, partId, offer.repair) : setFuse(job, partId, offer.fuseGap);

/** Works out in the worker what the offer would change; nothing is done to the job. */
export async function tryOffer(
  { store, worker }: Services,
  partId: string,
  offer: ReadyOffer,
): Promise<void> {
  const job = jobOf(store.getState());
  const mesh = store.getState().meshes[partId];
  if (!mesh) return;
  const tried = partById(withOffer(job, partId, offer), partId);
  const trial: RepairTrial = { partId, offer, from: mesh.geometry, outcome: null, side: 'after' };
  store.setState({ repairTrial: trial });
  const answer = await worker.run(
    'tryRepair',
    {
      name: sourceName(tried),
      source: sourceSurface(mesh),
      wishes: wishesOf(tried),
      shown: mesh.geometry.positions,
    },
    { supersede: `try-${partId}` },
  );
  // Left, or another one looked at, while it was worked out.
  if (store.getState().repairTrial !== trial) return;
  if (!answer.ok) {
    store.setState({ repairTrial: null });
    if (answer.error.code !== 'superseded' && answer.error.code !== 'cancelled') notify(store, answer.error);
    return;
  }
  const { made, changed } = answer.value;
  store.setState({ repairTrial: { ...trial, outcome: { tried, mesh: meshOf(tried, made), changed } } });
}

/** Does what was looked at; one step of undo. The mesh is there already. */
export function acceptTrial(services: Services, trial: RepairTrial): void {
  const { store } = services;
  const { partId, offer, outcome } = trial;
  if (!outcome) return;
  const { repairs, fuseGap } = outcome.tried.surface;
  const change = (job: Job): Job => ({
    ...job,
    parts: job.parts.map((part) =>
      part.id === partId ? { ...part, surface: { ...part.surface, repairs, fuseGap } } : part,
    ),
  });
  editJob(store, offer.label, change, '', {
    meshes: { ...store.getState().meshes, [partId]: outcome.mesh },
    selectedFaces: new Set(),
    hoveredFace: null,
    repairTrial: null,
  });
  void prepareClicks(services, partId, outcome.mesh.geometry);
}

export function showTrialSide(store: AppStore, side: RepairTrial['side']): void {
  store.setState(({ repairTrial }) => ({ repairTrial: repairTrial && { ...repairTrial, side } }));
}

export function leaveTrial(store: AppStore): void {
  store.setState({ repairTrial: null });
}
