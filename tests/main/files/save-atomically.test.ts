import * as fsPromises from 'node:fs/promises';
import {
  chmodSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import {
  saveAtomically,
  type SaveEnvironment,
  type SaveFileSystem,
} from '../../../main/files/save-atomically.ts';
import { temporaryFolder } from '../temporary-folder.ts';

const posix = process.platform !== 'win32';
const oldBytes = Buffer.from('the job as it was');
const newBytes = Buffer.from('the job as it is now');

function environment(
  replaced: Partial<SaveFileSystem>,
  platform: NodeJS.Platform = process.platform,
): SaveEnvironment {
  const { open, rename, stat, unlink, realpath } = fsPromises;
  return { fs: { open, rename, stat, unlink, realpath, ...replaced }, platform };
}

function systemError(code: string): Error {
  return Object.assign(new Error(code), { code });
}

/** Opens the real file, and fails at one step of writing it. */
function failingAt(step: 'writeFile' | 'sync', code: string): typeof fsPromises.open {
  return async (...args) => {
    const handle = await fsPromises.open(...args);
    const write = handle.writeFile.bind(handle);
    handle[step] = async () => {
      // A full disk takes the first part.
      if (step === 'writeFile') await write('half');
      throw systemError(code);
    };
    return handle;
  };
}

describe('with the real file system', () => {
  test('writes a new file', async () => {
    const path = join(temporaryFolder(), 'ring.tankside');
    expect(await saveAtomically(path, newBytes)).toEqual({ ok: true, value: path });
    expect(readFileSync(path).equals(newBytes)).toBe(true);
  });

  test('replaces an old one, and leaves nothing beside it', async () => {
    const folder = temporaryFolder();
    const path = join(folder, 'ring.tankside');
    writeFileSync(path, oldBytes);
    expect((await saveAtomically(path, newBytes)).ok).toBe(true);
    expect(readFileSync(path).equals(newBytes)).toBe(true);
    expect(readdirSync(folder)).toEqual(['ring.tankside']);
  });

  test.runIf(posix)(
    'never writes into the old file: a program that has it open keeps the old bytes',
    async () => {
      const path = join(temporaryFolder(), 'ring.tankside');
      writeFileSync(path, oldBytes);
      const held = await fsPromises.open(path);
      onTestFinished(() => held.close());
      await saveAtomically(path, newBytes);
      expect((await held.readFile()).equals(oldBytes)).toBe(true);
    },
  );

  test.runIf(posix).each([0o600, 0o664, 0o777])('keeps the permissions %i (decimal)', async (mode) => {
    const path = join(temporaryFolder(), 'ring.tankside');
    writeFileSync(path, oldBytes);
    chmodSync(path, mode);
    await saveAtomically(path, newBytes);
    expect(statSync(path).mode & 0o777).toBe(mode);
  });

  test.runIf(posix)('a link stays a link, and its target gets the bytes', async () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'jobs'));
    const target = join(folder, 'jobs', 'ring.tankside');
    writeFileSync(target, oldBytes);
    const link = join(folder, 'latest.tankside');
    symlinkSync(target, link);
    expect((await saveAtomically(link, newBytes)).ok).toBe(true);
    expect(lstatSync(link).isSymbolicLink()).toBe(true);
    expect(readFileSync(target).equals(newBytes)).toBe(true);
  });

  test('a name of 255 bytes, the longest most disks take, can be saved', async () => {
    const path = join(temporaryFolder(), `${'n'.repeat(246)}.tankside`);
    expect((await saveAtomically(path, newBytes)).ok).toBe(true);
    const longer = join(temporaryFolder(), `${'n'.repeat(300)}.tankside`);
    expect(await saveAtomically(longer, newBytes)).toMatchObject({ ok: false });
  });

  test('a vanished folder, a folder in the way and a file marked read-only are told apart', async () => {
    const folder = temporaryFolder();
    const gone = await saveAtomically(join(folder, 'gone', 'ring.tankside'), newBytes);
    expect(gone).toMatchObject({ ok: false, error: { code: 'folder-missing' } });

    mkdirSync(join(folder, 'dir.tankside'));
    const inTheWay = await saveAtomically(join(folder, 'dir.tankside'), newBytes);
    expect(inTheWay).toMatchObject({ ok: false, error: { code: 'target-is-folder' } });

    const marked = join(folder, 'marked.tankside');
    writeFileSync(marked, oldBytes);
    chmodSync(marked, 0o444);
    expect(await saveAtomically(marked, newBytes)).toMatchObject({
      ok: false,
      error: { code: 'target-read-only' },
    });
    chmodSync(marked, 0o644);
    expect(readFileSync(marked).equals(oldBytes)).toBe(true);
  });

  test.runIf(posix)('a folder that may not be written', async () => {
    const folder = temporaryFolder();
    const path = join(folder, 'ring.tankside');
    writeFileSync(path, oldBytes, { mode: 0o666 });
    chmodSync(path, 0o666);
    chmodSync(folder, 0o555);
    // An administrator may write anywhere: be somebody else for the moment.
    const administrator = process.getuid?.() === 0;
    if (administrator) process.seteuid?.(65_534);
    try {
      expect(await saveAtomically(path, newBytes)).toMatchObject({
        ok: false,
        error: { code: 'folder-not-writable' },
      });
      expect(readFileSync(path).equals(oldBytes)).toBe(true);
    } finally {
      if (administrator) process.seteuid?.(0);
      chmodSync(folder, 0o755);
    }
  });
});

describe('when the disk fails halfway', () => {
  test.each([
    ['writeFile', 'ENOSPC', 'disk-full'],
    ['writeFile', 'EDQUOT', 'disk-full'],
    ['sync', 'ENOSPC', 'disk-full'],
    ['sync', 'EIO', 'save-failed'],
  ] as const)('%s gives %s: %s, the old file whole and nothing beside it', async (step, code, expected) => {
    const folder = temporaryFolder();
    const path = join(folder, 'ring.tankside');
    writeFileSync(path, oldBytes);
    const saved = await saveAtomically(path, newBytes, environment({ open: failingAt(step, code) }));
    expect(saved).toMatchObject({ ok: false, error: { code: expected } });
    expect(readFileSync(path).equals(oldBytes)).toBe(true);
    expect(readdirSync(folder)).toEqual(['ring.tankside']);
  });

  test('a disk that can only be read', async () => {
    const path = join(temporaryFolder(), 'ring.tankside');
    const saved = await saveAtomically(
      path,
      newBytes,
      environment({ open: () => Promise.reject(systemError('EROFS')) }),
    );
    expect(saved).toMatchObject({ ok: false, error: { code: 'disk-read-only' } });
    expect(existsSync(path)).toBe(false);
  });

  test('on Windows a target held by a scanner is tried again, one held by a program is said to be open', async () => {
    const folder = temporaryFolder();
    const path = join(folder, 'ring.tankside');
    writeFileSync(path, oldBytes);

    let refusals = 2;
    const released: typeof fsPromises.rename = async (from, to) => {
      if (refusals-- > 0) throw systemError('EPERM');
      await fsPromises.rename(from, to);
    };
    expect((await saveAtomically(path, newBytes, environment({ rename: released }, 'win32'))).ok).toBe(true);
    expect(readFileSync(path).equals(newBytes)).toBe(true);

    const held = () => Promise.reject(systemError('EBUSY'));
    const saved = await saveAtomically(path, oldBytes, environment({ rename: held }, 'win32'));
    expect(saved).toMatchObject({ ok: false, error: { code: 'target-in-use' } });
    expect(readFileSync(path).equals(newBytes)).toBe(true);
    expect(readdirSync(folder)).toEqual(['ring.tankside']);
  });
});
