import { randomUUID } from 'node:crypto';
import { mkdir, readFile } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import { z } from 'zod';
import type { RecentJob } from '../../core/bridge/bridge.ts';
import { saveAtomically } from './save-atomically.ts';

const MOST_KEPT = 10;

const storedEntry = z.object({
  id: z.string().min(1),
  path: z.string().min(1),
  openedAtMs: z.number().int().nonnegative(),
});
const storedList = z.object({ version: z.literal(1), jobs: z.array(storedEntry) });
type StoredEntry = z.infer<typeof storedEntry>;

/**
 * The last ten job files, newest first, in one small file of the program's own folder. It is a convenience: a
 * damaged list is an empty list, and a list that cannot be written stops nothing.
 */
export class RecentJobs {
  readonly #file: string;
  readonly #nowMs: () => number;
  #last: Promise<unknown> = Promise.resolve();

  constructor(file: string, nowMs: () => number) {
    this.#file = file;
    this.#nowMs = nowMs;
  }

  async list(): Promise<readonly RecentJob[]> {
    await this.#last;
    return (await this.#read()).map(({ id, path, openedAtMs }) => ({ id, name: basename(path), openedAtMs }));
  }

  async pathOf(id: string): Promise<string | null> {
    await this.#last;
    return (await this.#read()).find((entry) => entry.id === id)?.path ?? null;
  }

  /** Moves `path` to the top. Calls run one after the other, so that none undoes another. */
  add(path: string): Promise<void> {
    const next = this.#last.then(() => this.#add(path));
    this.#last = next;
    return next;
  }

  async #add(path: string): Promise<void> {
    const before = await this.#read();
    const id = before.find((entry) => entry.path === path)?.id ?? randomUUID();
    const jobs = [
      { id, path, openedAtMs: this.#nowMs() },
      ...before.filter((entry) => entry.path !== path),
    ].slice(0, MOST_KEPT);
    await mkdir(dirname(this.#file), { recursive: true }).catch(() => undefined);
    await saveAtomically(this.#file, Buffer.from(`${JSON.stringify({ version: 1, jobs }, null, 2)}\n`));
  }

  async #read(): Promise<readonly StoredEntry[]> {
    try {
      return storedList.parse(JSON.parse(await readFile(this.#file, 'utf8'))).jobs.slice(0, MOST_KEPT);
    } catch {
      return [];
    }
  }
}
