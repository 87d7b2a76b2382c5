/**
 * Vitest's global setup for the tests that run what is built: window, main process and preload, built once however
 * many projects and runs ask at the same time, and not at all while what was built still fits the sources.
 */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const sources = ['core', 'renderer', 'main', 'assets'];
const settings = [
  'package.json',
  'package-lock.json',
  'vite.config.ts',
  'vite.main.config.ts',
  'tsconfig.base.json',
];
const products = [
  'dist/renderer/index.html',
  'dist/main/main.js',
  'dist/main/start.js',
  'dist/main/preload.cjs',
  'dist/main/tankside.js',
];

const stampFile = join(root, 'dist', '.built-from');
const lockFile = join(root, 'dist', '.build-lock');
const WAIT_LIMIT_MS = 10 * 60_000;

export default async function buildOnce(): Promise<void> {
  mkdirSync(dirname(lockFile), { recursive: true });
  await takeLock();
  try {
    const from = sourceDigest();
    if (readText(stampFile) === stamp(from)) return;
    rmSync(stampFile, { force: true });
    await build();
    const missing = products.filter((file) => !existsSync(join(root, file)));
    if (missing.length > 0) throw new Error(`the build made no ${missing.join(', ')}`);
    writeFileSync(stampFile, stamp(from));
  } finally {
    rmSync(lockFile, { force: true });
  }
}

/** One holder at a time, in this process or any other; a holder that died is forgotten. */
async function takeLock(): Promise<void> {
  const until = Date.now() + WAIT_LIMIT_MS;
  for (;;) {
    try {
      writeFileSync(lockFile, String(process.pid), { flag: 'wx' });
      return;
    } catch (cause) {
      if ((cause as NodeJS.ErrnoException).code !== 'EEXIST') throw cause;
    }
    const holder = Number(readText(lockFile));
    if (holder > 0 && !isAlive(holder)) rmSync(lockFile, { force: true });
    else if (Date.now() > until) throw new Error(`another build holds ${lockFile} (process ${holder})`);
    else await delay(100);
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (cause) {
    return (cause as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** The sources, and the age of what was built: a build made by hand since then from other sources is made again. */
function stamp(from: string): string {
  const ages = products.map((file) => {
    const path = join(root, file);
    return existsSync(path) ? `${file} ${statSync(path).mtimeMs}` : `${file} missing`;
  });
  return [from, ...ages].join('\n');
}

function sourceDigest(): string {
  const hash = createHash('sha256');
  const files = sources.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name)),
  );
  for (const file of [...files, ...settings.map((name) => join(root, name))].sort()) {
    hash.update(`${file}\0`).update(readFileSync(file)).update('\0');
  }
  return hash.digest('hex');
}

function build(): Promise<void> {
  // The test runner's own mode would build the page in its slow development form.
  const env = { ...process.env };
  for (const name of ['NODE_ENV', 'VITEST', 'TEST', 'MODE', 'DEV', 'PROD', 'SSR', 'BASE_URL'])
    delete env[name];
  return new Promise((settle, refuse) => {
    const npm = spawn('npm', ['run', '-s', 'build'], {
      cwd: root,
      env,
      stdio: ['ignore', 'inherit', 'inherit'],
      shell: process.platform === 'win32',
    });
    npm.on('error', refuse);
    npm.on('close', (code) =>
      code === 0 ? settle() : refuse(new Error(`npm run build ended with code ${code}`)),
    );
  });
}

function readText(file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return '';
  }
}
