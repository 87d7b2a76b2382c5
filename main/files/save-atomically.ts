import { randomBytes } from 'node:crypto';
import { open, realpath, rename, stat, unlink } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { failure, success, type Result } from '../../core/result.ts';

/** The file system's part in a save; tests replace single calls to make them fail. */
export interface SaveFileSystem {
  readonly open: typeof open;
  readonly rename: typeof rename;
  readonly stat: typeof stat;
  readonly unlink: typeof unlink;
  readonly realpath: typeof realpath;
}

export interface SaveEnvironment {
  readonly fs: SaveFileSystem;
  readonly platform: NodeJS.Platform;
}

const here: SaveEnvironment = { fs: { open, rename, stat, unlink, realpath }, platform: process.platform };

/** Windows refuses to replace a file that a virus scanner or a sync client still reads: wait this long, each once. */
const RENAME_RETRY_MS = [50, 200, 500];

/**
 * Writes beside the target, flushes to the disk, then renames over it: whatever happens, the path holds either the
 * old file whole or the new one whole. A link stays a link, and permissions stay as they were.
 *
 * @param path absolute
 */
export async function saveAtomically(
  path: string,
  bytes: Uint8Array,
  environment: SaveEnvironment = here,
): Promise<Result<string>> {
  const { fs } = environment;
  let step: SaveStep = 'look';
  let temporary: string | null = null;
  try {
    const target = await fs.realpath(path).catch(ignore('ENOENT', path));
    const old = await fs.stat(target).catch(ignore('ENOENT', null));
    if (old?.isDirectory()) {
      return failure(
        'target-is-folder',
        `There is a folder named ${basename(path)} at that place.`,
        'Save under another name.',
      );
    }
    if (old && (old.mode & 0o222) === 0) {
      return failure(
        'target-read-only',
        `${basename(path)} is marked read-only.`,
        'Save under another name, or take the mark off and save again.',
      );
    }

    step = 'write';
    const mode = old ? old.mode & 0o777 : 0o666;
    const beside = join(dirname(target), `.tankside-${randomBytes(6).toString('hex')}.tmp`);
    const handle = await fs.open(beside, 'wx', mode);
    temporary = beside;
    try {
      await handle.writeFile(bytes);
      // The umask was taken off the mode when the file was made.
      if (old && environment.platform !== 'win32') await handle.chmod(mode);
      await handle.sync();
    } finally {
      await handle.close();
    }

    step = 'replace';
    await renameOver(beside, target, environment);
    temporary = null;
    await flushFolder(dirname(target), environment);
    return success(target);
  } catch (cause) {
    if (temporary !== null) await fs.unlink(temporary).catch(() => undefined);
    return explain(cause, step, path, environment.platform);
  }
}

type SaveStep = 'look' | 'write' | 'replace';

async function renameOver(from: string, to: string, { fs, platform }: SaveEnvironment): Promise<void> {
  const waits = platform === 'win32' ? RENAME_RETRY_MS : [];
  for (let attempt = 0; ; attempt++) {
    try {
      return await fs.rename(from, to);
    } catch (cause) {
      const wait = waits[attempt];
      if (wait === undefined || !isHeldOpen(codeOf(cause))) throw cause;
      await delay(wait);
    }
  }
}

/** Makes the new name itself last through a power cut. Some file systems cannot flush a folder: the file is whole. */
async function flushFolder(folder: string, { fs, platform }: SaveEnvironment): Promise<void> {
  if (platform === 'win32') return;
  const handle = await fs.open(folder, 'r').catch(() => null);
  await handle?.sync().catch(() => undefined);
  await handle?.close().catch(() => undefined);
}

function explain(cause: unknown, step: SaveStep, path: string, platform: NodeJS.Platform): Result<never> {
  const code = codeOf(cause);
  const name = basename(path);
  const folder = dirname(path);
  const kept = 'The file as it was before is untouched.';
  switch (code) {
    case 'ENOSPC':
    case 'EDQUOT':
      return failure(
        'disk-full',
        `The disk has no room for ${name}. ${kept}`,
        'Free some space or save to another disk.',
      );
    case 'EROFS':
      return failure(
        'disk-read-only',
        `The disk of ${folder} can only be read. ${kept}`,
        'Save to another folder.',
      );
    case 'ENOENT':
    case 'ENOTDIR':
      return failure(
        'folder-missing',
        `The folder ${folder} is no longer there.`,
        'Connect its drive again, or save to another folder.',
      );
    case 'ENAMETOOLONG':
      return failure(
        'name-too-long',
        `The name ${name} is too long for this disk.`,
        'Save under a shorter name.',
      );
    case 'EBUSY':
    case 'EACCES':
    case 'EPERM':
      if (platform === 'win32' && step === 'replace') {
        return failure(
          'target-in-use',
          `${name} is open in another program. ${kept}`,
          'Close it there and save again, or save under another name.',
        );
      }
      return failure(
        'folder-not-writable',
        `You may not write to ${folder}. ${kept}`,
        'Save to a folder of your own.',
      );
    default:
      return failure(
        'save-failed',
        `${name} could not be written (${code ?? String(cause)}). ${kept}`,
        'Save to another folder or disk.',
      );
  }
}

function isHeldOpen(code: string | undefined): boolean {
  return code === 'EPERM' || code === 'EACCES' || code === 'EBUSY';
}

function codeOf(cause: unknown): string | undefined {
  return cause instanceof Error ? (cause as NodeJS.ErrnoException).code : undefined;
}

function ignore<T>(code: string, instead: T): (cause: unknown) => T {
  return (cause) => {
    if (codeOf(cause) === code) return instead;
    throw cause;
  };
}
