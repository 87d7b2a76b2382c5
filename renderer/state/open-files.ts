import type { FileSource } from '../../core/bridge/bridge.ts';
import { unpackJob, type OpenedJob } from '../../core/job/container.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../core/faces/split-faces.ts';
import { emptyJob, newPart } from '../../core/job/default-job.ts';
import { addPart } from '../../core/job/edit-job.ts';
import { cadFacePrints } from '../../core/job/job-cad-faces.ts';
import { fileOf } from '../../core/job/part-source.ts';
import { startHistory } from '../../core/job/history.ts';
import type { Job } from '../../core/job/job.ts';
import { proposeUnit } from '../../core/model-files/propose-unit.ts';
import type { Services } from '../app/services.ts';
import type { PartMesh } from './app-state.ts';
import { editJob, isDemo, isUnsaved, jobOf } from './app-store.ts';
import { meshOf, wishesOf } from './follow-mesh.ts';
import { mayLeaveJob } from './leave-job.ts';
import { dropFileStops, dropNotices, dropNoticesOfJob, notify, notifyOfFile } from './notices.ts';
import { prepareClicks } from './prepare-clicks.ts';
import { jobReadAgain, sourceOfMesh } from './read-again.ts';
import { readBytes } from './read-bytes.ts';
import { endLoadings, putInSight, type FileInSight } from './read-in-sight.ts';
import type { ReadPart } from '../worker/jobs.ts';

const isJobFile = (name: string): boolean => /\.tankside$/i.test(name);

export async function chooseModels(services: Services): Promise<void> {
  await openSources(services, await services.bridge.chooseFiles('model'));
}

export async function chooseJob(services: Services): Promise<void> {
  await openSources(services, await services.bridge.chooseFiles('job'));
}

export async function openRecentJob(services: Services, id: string): Promise<void> {
  const source = await services.bridge.openRecent(id);
  if (source.ok) await openJobFile(services, source.value);
  else notify(services.store, source.error);
}

/**
 * Opens whatever was chosen, dropped or named: a job replaces the open one, models become parts of it. Of a job and
 * other files together only the job is opened, and the others are named.
 */
export async function openSources(services: Services, sources: readonly FileSource[]): Promise<void> {
  const job = sources.find((source) => isJobFile(source.name));
  if (job) {
    const others = sources.filter((source) => source !== job).map(({ name }) => name);
    if (others.length > 0) {
      notify(
        services.store,
        {
          code: 'left-out-beside-job',
          message: `Only the job ${job.name} is opened; left out: ${others.join(', ')}.`,
          remedy: 'Drop models again once the job is open to add them to it; open other jobs one at a time.',
        },
        'check',
      );
    }
    await openJobFile(services, job);
    return;
  }
  dropFileStops(services.store);
  // All in sight at once: a new job stops those whose turn has not come as well.
  const inSight = sources.map((source) => putInSight(services, source));
  let added = 0;
  for (const file of inSight) if (await openModelFile(services, file)) added += 1;
  const { parts } = jobOf(services.store.getState());
  if (added > 0 && parts.length > 1) sayThatPartsAddUp(services, parts.length);
}

const PARTS_ADD_UP = 'parts-add-up';

/** A second model joins the open job, which is easily missed: its area is in the current from now on. */
function sayThatPartsAddUp({ store }: Services, count: number): void {
  dropNotices(store, PARTS_ADD_UP);
  notifyOfFile(
    store,
    {
      code: PARTS_ADD_UP,
      message: `This job has ${count} parts now; their areas and currents add up.`,
      remedy: 'To plan the last one alone, press Undo, choose New job in the Job menu, and open it there.',
    },
    'note',
  );
}

/** Keeps the demo out of the way: the first model of one's own starts a new job if the open one is only the demo. */
export function isUntouchedDemo(services: Services): boolean {
  const state = services.store.getState();
  return state.target === null && !isUnsaved(state) && isDemo(jobOf(state));
}

/** Notes that ask nothing of the user and change nothing stay out of the way of the view. */
const NOT_WORTH_A_NOTICE: ReadonlySet<string> = new Set(['stl-normals-missing']);

/** Returns whether it became a part of the job. */
async function openModelFile(services: Services, { source, read: readFile }: FileInSight): Promise<boolean> {
  const { store } = services;
  const read = await readFile({ splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
  if (!read.ok) {
    if (read.error.code !== 'cancelled') {
      notifyOfFile(store, { ...read.error, message: `${source.name}: ${read.error.message}` });
    }
    return false;
  }
  for (const note of read.value.notes) {
    if (NOT_WORTH_A_NOTICE.has(note.code)) continue;
    notifyOfFile(store, { ...note, message: `${source.name}: ${note.message}` }, note.level);
  }
  if (isUntouchedDemo(services)) showEmptyJob(services);
  addReadPart(services, source.name, read.value);
  return true;
}

function addReadPart(services: Services, fileName: string, read: ReadPart): void {
  const { store } = services;
  const { geometry, bytes, declaredUnit, unitIsDeclared } = read;
  const id = crypto.randomUUID();
  const sides: [number, number, number] = [
    geometry.max[0] - geometry.min[0],
    geometry.max[1] - geometry.min[1],
    geometry.max[2] - geometry.min[2],
  ];
  const unit = proposeUnit(sides, declaredUnit ?? undefined).unit;
  const { positions, cad } = sourceOfMesh(read);
  const prints = cad && cadFacePrints(positions, cad);
  const part = newPart(id, fileName, bytes.length, unit, unitIsDeclared, positions.length / 9, prints);
  store.setState((state) => ({
    models: new Map(state.models).set(fileOf(part)!.entry, bytes),
    meshes: { ...state.meshes, [id]: meshOf(part, read) },
  }));
  const first = jobOf(store.getState()).parts.length === 0;
  editJob(store, `Add ${part.name}`, (job) =>
    addPart(first && job.name === 'New job' ? { ...job, name: part.name } : job, part),
  );
  store.setState({ activePartId: id, stage: 'part', selectedFaces: new Set(), selectedPinId: null });
  void prepareClicks(services, id, geometry);
}

/** A job file replaces the open job, but only after all of it has been read. */
async function openJobFile(services: Services, source: FileSource): Promise<void> {
  const { store, bridge } = services;
  const bytes = await readBytes(source.content);
  if (!bytes.ok) return notify(store, bytes.error);
  const opened = unpackJob(bytes.value);
  if (!opened.ok)
    return notify(store, { ...opened.error, message: `${source.name}: ${opened.error.message}` });
  if (!(await mayLeaveJob(services, 'open the other job'))) return;
  const meshes = await readAllParts(services, opened.value);
  if (!meshes) return;
  endLoadings(services);
  const again = jobReadAgain(opened.value, meshes);
  showJob(services, again.opened, meshes, { target: source.target ?? null, saved: !again.isMoved });
  for (const notice of again.notices) notifyOfFile(store, notice, 'check');
  await bridge.noteOpened?.(source.name, bytes.value);
}

export async function readAllParts(
  services: Services,
  opened: OpenedJob,
): Promise<Record<string, PartMesh> | null> {
  const meshes: Record<string, PartMesh> = {};
  for (const part of opened.job.parts) {
    const file = fileOf(part);
    if (!file) continue;
    const bytes = opened.models.get(file.entry)!;
    const source: FileSource = {
      name: file.fileName,
      byteLength: bytes.length,
      content: { via: 'blob', blob: new Blob([bytes.slice()]) },
    };
    const read = await putInSight(services, source).read(wishesOf(part));
    if (!read.ok) {
      if (read.error.code !== 'cancelled') {
        notify(services.store, { ...read.error, message: `${file.fileName}: ${read.error.message}` });
      }
      return null;
    }
    meshes[part.id] = meshOf(part, read.value);
  }
  return meshes;
}

/** Puts a whole job on the bench. `saved` says whether it stands like this in a file. */
export function showJob(
  services: Services,
  opened: OpenedJob,
  meshes: Readonly<Record<string, PartMesh>>,
  { target, saved }: { target: { id: string; name: string } | null; saved: boolean },
): void {
  const { store } = services;
  const { job, models } = opened;
  dropNoticesOfJob(store);
  store.setState({
    history: startHistory(job, `Open ${job.name}`),
    nextLoad: 0,
    loadsRun: [],
    savedDocument: saved ? job : emptyJob(job.name),
    target,
    models,
    meshes,
    activePartId: job.parts[0]?.id ?? null,
    stage: 'part',
    selectedFaces: new Set(),
    selectedPinId: null,
    hoveredFace: null,
    placingPin: false,
    repairTrial: null,
  });
  for (const [id, mesh] of Object.entries(meshes)) void prepareClicks(services, id, mesh.geometry);
}

export async function startNewJob(services: Services): Promise<void> {
  if (!(await mayLeaveJob(services, 'start a new one'))) return;
  endLoadings(services);
  showEmptyJob(services);
}

export function showEmptyJob(services: Services): void {
  const job: Job = emptyJob('New job', services.store.getState().unitSystem);
  showJob(services, { job, models: new Map() }, {}, { target: null, saved: true });
}
