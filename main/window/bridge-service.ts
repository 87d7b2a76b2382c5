import { basename } from 'node:path';
import type { Bridge, FileSource, SaveRequest, SaveTarget } from '../../core/bridge/bridge.ts';
import { isJobFileName } from '../../core/bridge/file-kinds.ts';
import { failure, success, type Result } from '../../core/result.ts';
import { describeFile } from '../files/describe-file.ts';
import type { Grants } from '../files/grants.ts';
import type { RecentJobs } from '../files/recent-jobs.ts';
import type { saveAtomically } from '../files/save-atomically.ts';
import { grantedAddress } from './app-scheme.ts';
import type { FileDialogs } from './file-dialogs.ts';
import type { OpenedFiles } from './opened-files.ts';

export interface BridgeServiceParts {
  readonly grants: Grants;
  readonly recent: RecentJobs;
  readonly dialogs: FileDialogs;
  readonly opened: OpenedFiles;
  readonly save: typeof saveAtomically;
  readonly printToPdf: () => Promise<Uint8Array>;
  readonly showWindowState: Bridge['showWindowState'];
}

/** Main's half of the Bridge: every path in it was chosen, dropped or named by the user. */
export class BridgeService {
  readonly #parts: BridgeServiceParts;

  constructor(parts: BridgeServiceParts) {
    this.#parts = parts;
  }

  startupFiles(): readonly FileSource[] {
    return this.#parts.opened.takeWaiting();
  }

  async chooseFiles(kind: 'model' | 'job'): Promise<readonly FileSource[]> {
    const answers = await Promise.all((await this.#parts.dialogs.chooseFiles(kind)).map(this.describe));
    return answers.flatMap((answer) => (answer.ok ? [answer.value] : []));
  }

  /** In the order of the paths; null for what is not a file. */
  async grantDropped(paths: readonly string[]): Promise<readonly (FileSource | null)[]> {
    const answers = await Promise.all(paths.map(this.describe));
    return answers.map((answer) => (answer.ok ? answer.value : null));
  }

  async saveJob({ bytes, suggestedName, target }: SaveRequest): Promise<Result<SaveTarget | null>> {
    const { grants, dialogs, save, recent } = this.#parts;
    let path: string | null;
    if (target === null) {
      path = await dialogs.chooseTarget('job', suggestedName);
    } else {
      const grant = grants.find(target.id);
      if (!grant?.mayWrite) {
        return failure(
          'target-unknown',
          `${target.name} cannot be written from here.`,
          'Save it as a new file.',
        );
      }
      path = grant.path;
    }
    if (path === null) return success(null);
    const saved = await save(path, bytes);
    if (!saved.ok) return saved;
    await recent.add(path);
    return success({ id: grants.grant(path), name: basename(path) });
  }

  recentJobs(): ReturnType<Bridge['recentJobs']> {
    return this.#parts.recent.list();
  }

  async openRecent(id: string): Promise<Result<FileSource>> {
    const path = await this.#parts.recent.pathOf(id);
    if (path === null) {
      return failure(
        'recent-unknown',
        'This job is no longer in the list of recent jobs.',
        'Open its file instead.',
      );
    }
    return this.describe(path);
  }

  showWindowState(state: Parameters<Bridge['showWindowState']>[0]): void {
    this.#parts.showWindowState(state);
  }

  async savePdf(suggestedName: string): Promise<Result<SaveTarget | null>> {
    const { dialogs, printToPdf, save } = this.#parts;
    const path = await dialogs.chooseTarget('pdf', suggestedName);
    if (path === null) return success(null);
    let bytes: Uint8Array;
    try {
      bytes = await printToPdf();
    } catch (cause) {
      return failure(
        'pdf-failed',
        `The page could not be drawn as PDF (${String(cause)}).`,
        'Print it to paper or to a file through Print.',
      );
    }
    const saved = await save(path, bytes);
    // A finished sheet is not a job: it gets no grant, and nothing is ever written back to it.
    return saved.ok ? success({ id: 'pdf', name: basename(path) }) : saved;
  }

  /** Grants one named file; a job goes to the top of the recent ones. */
  readonly describe = async (path: string): Promise<Result<FileSource>> => {
    const answer = await describeFile(path, this.#parts.grants, grantedAddress);
    if (answer.ok && isJobFileName(path)) await this.#parts.recent.add(path);
    return answer;
  };
}
