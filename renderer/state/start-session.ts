import { unpackJob } from '../../core/job/container.ts';
import type { Services } from '../app/services.ts';
import type { DraftKeeper, FoundDraft } from './draft-keeper.ts';
import { DRAFT_RESTORED, notify, notifyOfFile } from './notices.ts';
import { openSources, readAllParts, showJob } from './open-files.ts';
import { jobReadAgain } from './read-again.ts';
import { readBytes } from './read-bytes.ts';

const DEMO_URL = './demo/dovetail-plate.tankside';

/** What the window shows first: the work a crash or a closed tab left behind, the files named at start, or the demo. */
export async function startSession(services: Services, drafts: DraftKeeper): Promise<void> {
  const { store, bridge } = services;
  bridge.onFilesOpened((files) => void openSources(services, files));
  const [restored, named] = await Promise.all([restoreDraft(services, drafts), bridge.startupFiles()]);
  if (named.length > 0) {
    store.setState({ hintsSeen: true });
    await openSources(services, named);
  } else if (!restored) {
    await openDemo(services);
  }
}

async function restoreDraft(services: Services, drafts: DraftKeeper): Promise<boolean> {
  let draft: FoundDraft | null;
  try {
    draft = await drafts.adopt();
  } catch {
    return false; // Blocked storage: the first draft that can't be written says so.
  }
  if (!draft || draft.job.parts.length === 0) return false;
  const meshes = await readAllParts(services, draft);
  if (!meshes) return false;
  const again = jobReadAgain(draft, meshes);
  showJob(services, again.opened, meshes, { target: null, saved: draft.inFile && !again.isMoved });
  for (const notice of again.notices) notifyOfFile(services.store, notice, 'check');
  if (!draft.inFile) {
    const { name } = draft.job;
    notify(
      services.store,
      {
        code: DRAFT_RESTORED,
        message: `“${name}” is back as it was when the window closed; its latest changes are in no file yet.`,
        remedy: 'Go on working, and save it when you are ready.',
      },
      'note',
    );
  }
  return true;
}

async function openDemo(services: Services): Promise<void> {
  const bytes = await readBytes({ via: 'url', url: DEMO_URL });
  if (!bytes.ok) return; // Served without the demo: the empty window says what to do.
  const opened = unpackJob(bytes.value);
  if (!opened.ok) return notify(services.store, opened.error);
  const meshes = await readAllParts(services, opened.value);
  if (meshes) {
    showJob(services, opened.value, meshes, { target: null, saved: true });
    services.store.setState({ stage: 'current' });
  }
}
