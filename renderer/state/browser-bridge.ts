import { z } from 'zod';
import type {
  BlobLike,
  Bridge,
  FileSource,
  RecentJob,
  SaveRequest,
  SaveTarget,
  WindowState,
} from '../../core/bridge/bridge.ts';
import { modelFileExtensions } from '../../core/bridge/file-kinds.ts';
import { failure, success, type Result } from '../../core/result.ts';
import type { DeskDatabase } from './desk-database.ts';

/**
 * The bridge in a plain browser. Files come from the browser's own chooser. Where the browser can write back to a
 * chosen file (File System Access) "Save" does; elsewhere every save is a download. Copies of the last jobs are kept
 * in the embedded database, since a browser gives no lasting access to files.
 */
interface WritableHandle {
  readonly name: string;
  createWritable(): Promise<{
    write(data: Uint8Array): Promise<void>;
    close(): Promise<void>;
    abort(): Promise<void>;
  }>;
}

interface SavePickerWindow {
  showSaveFilePicker?: (options: {
    suggestedName: string;
    types: { description: string; accept: Record<string, string[]> }[];
  }) => Promise<WritableHandle>;
}

const JOB_ENDING = '.tankside';
const MOST_RECENT = 8;
const MOST_RECENT_BYTES = 200 * 2 ** 20;
const MODEL_ACCEPT = modelFileExtensions.join(',');

const grantedSchema = z.array(
  z.object({ name: z.string(), byteLength: z.number().int().nonnegative(), url: z.string() }),
);

function chooseWithInput(accept: string, multiple: boolean): Promise<File[]> {
  return new Promise((resolve) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = accept;
    input.multiple = multiple;
    input.hidden = true;
    document.body.append(input);
    const finish = (files: File[]): void => {
      input.remove();
      resolve(files);
    };
    input.addEventListener('change', () => finish([...(input.files ?? [])]));
    input.addEventListener('cancel', () => finish([]));
    input.click();
  });
}

function isNamed(blob: BlobLike): blob is BlobLike & { name: string } {
  return 'name' in blob && typeof blob.name === 'string';
}

function sourceOf(blob: BlobLike): FileSource {
  return {
    name: isNamed(blob) ? blob.name : 'dropped',
    byteLength: blob.size,
    content: { via: 'blob', blob },
  };
}

function download(bytes: Uint8Array, name: string): void {
  const url = URL.createObjectURL(new Blob([bytes.slice()], { type: 'application/zip' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  window.setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

export class BrowserBridge implements Bridge {
  readonly shell = 'browser';
  private readonly handles = new Map<string, WritableHandle>();

  constructor(private readonly database: DeskDatabase) {}

  async startupFiles(): Promise<readonly FileSource[]> {
    try {
      const answer = await fetch('./granted.json');
      if (!answer.ok) return [];
      const granted = grantedSchema.safeParse(await answer.json());
      if (!granted.success) return [];
      return granted.data.map(({ name, byteLength, url }) => ({
        name,
        byteLength,
        content: { via: 'url', url },
      }));
    } catch {
      return []; // served by something other than our launcher: no files were named
    }
  }

  onFilesOpened(): () => void {
    return () => {};
  }

  async chooseFiles(kind: 'model' | 'job'): Promise<readonly FileSource[]> {
    const files = await chooseWithInput(kind === 'model' ? MODEL_ACCEPT : JOB_ENDING, kind === 'model');
    return files.map(sourceOf);
  }

  adoptDropped(files: readonly BlobLike[]): Promise<readonly FileSource[]> {
    return Promise.resolve(files.map(sourceOf));
  }

  async saveJob({ bytes, suggestedName, target }: SaveRequest): Promise<Result<SaveTarget | null>> {
    const picker = (window as SavePickerWindow).showSaveFilePicker;
    let handle = target ? this.handles.get(target.id) : undefined;
    if (!handle && picker) {
      try {
        handle = await picker.call(window, {
          suggestedName,
          types: [{ description: 'Tankside job', accept: { 'application/zip': [JOB_ENDING] } }],
        });
      } catch (fault) {
        if (fault instanceof DOMException && fault.name === 'AbortError') return success(null);
        throw fault;
      }
    }
    const saved: SaveTarget = { id: target?.id ?? crypto.randomUUID(), name: handle?.name ?? suggestedName };
    if (handle) {
      const written = await writeThrough(handle, bytes);
      if (!written.ok) return written;
      this.handles.set(saved.id, handle);
    } else {
      download(bytes, suggestedName);
    }
    await this.noteOpened(saved.name, bytes);
    return success(saved);
  }

  async noteOpened(name: string, bytes: Uint8Array): Promise<void> {
    if (bytes.length > MOST_RECENT_BYTES / 2) return;
    try {
      const openedAtMs = Date.now();
      await this.database.transaction('rw', this.database.recents, async () => {
        await this.database.recents.put({ id: name, name, openedAtMs, bytes });
        const rows = await this.database.recents.orderBy('openedAtMs').reverse().toArray();
        let total = 0;
        for (const [index, row] of rows.entries()) {
          total += row.bytes.length;
          if (index >= MOST_RECENT || total > MOST_RECENT_BYTES) await this.database.recents.delete(row.id);
        }
      });
    } catch {
      // The list of recent jobs is a convenience; the file itself is written, and the draft keeper reports blocked storage.
    }
  }

  async recentJobs(): Promise<readonly RecentJob[]> {
    try {
      const rows = await this.database.recents.orderBy('openedAtMs').reverse().toArray();
      return rows.map(({ id, name, openedAtMs }) => ({ id, name, openedAtMs }));
    } catch {
      return [];
    }
  }

  async openRecent(id: string): Promise<Result<FileSource>> {
    const row = await this.database.recents.get(id);
    if (!row) {
      return failure('recent-gone', 'This job is no longer kept here.', 'Open it from where you saved it.');
    }
    return success(sourceOf(new File([row.bytes.slice()], row.name)));
  }

  showWindowState({ title, unsaved }: WindowState): void {
    document.title = `${unsaved ? '● ' : ''}${title} · Tankside`;
  }
}

async function writeThrough(handle: WritableHandle, bytes: Uint8Array): Promise<Result<null>> {
  const problem = (cause: string): Result<never> =>
    failure('save-failed', cause, 'Free some space or choose another place; nothing of your work is lost.');
  try {
    const stream = await handle.createWritable();
    try {
      await stream.write(bytes);
      await stream.close();
    } catch (fault) {
      await stream.abort().catch(() => {});
      throw fault;
    }
    return success(null);
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === 'QuotaExceededError') {
      return problem('The disk is full; the old file was left as it was.');
    }
    if (fault instanceof DOMException && fault.name === 'NotAllowedError') {
      return problem('The browser was not allowed to write this file.');
    }
    return problem(`“${handle.name}” could not be written; the old file was left as it was.`);
  }
}
