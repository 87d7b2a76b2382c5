import { spawn, spawnSync, type ChildProcessWithoutNullStreams } from 'node:child_process';
import { chmodSync, cpSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { windowShown } from '../../main/launch/window-shown.ts';
import { temporaryFolder } from './temporary-folder.ts';

const project = join(import.meta.dirname, '../..');

/** The launcher as it was built, beside a small page of its own: what it serves is not the point here. */
function built(): string {
  const folder = temporaryFolder();
  cpSync(join(project, 'dist', 'main'), join(folder, 'dist', 'main'), { recursive: true });
  mkdirSync(join(folder, 'dist', 'renderer'));
  writeFileSync(join(folder, 'dist', 'renderer', 'index.html'), '<!doctype html><title>Tankside</title>');
  cpSync(join(project, 'package.json'), join(folder, 'package.json'));
  symlinkSync(join(project, 'node_modules'), join(folder, 'node_modules'), 'junction');
  return folder;
}

const noDisplay = { DISPLAY: '', WAYLAND_DISPLAY: '', SSH_CONNECTION: 'x' };

class Launcher {
  readonly child: ChildProcessWithoutNullStreams;
  output = '';
  errors = '';
  readonly ended: Promise<{ code: number | null; signal: string | null }>;

  constructor(folder: string, args: readonly string[], env: Record<string, string> = {}) {
    this.child = spawn(process.execPath, [join(folder, 'dist/main/start.js'), ...args], {
      cwd: folder,
      env: { ...process.env, npm_lifecycle_event: '', ...noDisplay, ...env },
    });
    this.child.stdout.on('data', (chunk: Buffer) => (this.output += chunk.toString()));
    this.child.stderr.on('data', (chunk: Buffer) => (this.errors += chunk.toString()));
    this.ended = new Promise((settle) => this.child.on('close', (code, signal) => settle({ code, signal })));
    onTestFinished(async () => {
      this.child.kill('SIGKILL');
      await this.ended;
    });
  }

  /** The address it prints, as soon as it does. */
  address(): Promise<string> {
    return new Promise((settle, refuse) => {
      const look = (): void => {
        const found = /Tankside is at (http:\/\/127\.0\.0\.1:\d+\/)/.exec(this.output)?.[1];
        if (found !== undefined) settle(found);
      };
      this.child.stdout.on('data', look);
      look();
      void this.ended.then(() => refuse(new Error(`it ended: ${this.output}${this.errors}`)));
    });
  }
}

test('serves the page and the files it was given, until it is stopped', async () => {
  const folder = built();
  writeFileSync(join(folder, 'ring.stl'), 'solid ring');
  const launcher = new Launcher(folder, ['--browser', '--no-open', 'ring.stl']);
  const address = await launcher.address();
  const page = await fetch(address);
  expect(await page.text()).toContain('<title>Tankside</title>');
  expect(page.headers.get('content-security-policy')).toContain("default-src 'none'");
  const [file] = (await (await fetch(new URL('granted.json', address))).json()) as {
    name: string;
    byteLength: number;
    url: string;
  }[];
  expect(file).toMatchObject({ name: 'ring.stl', byteLength: 10 });
  expect(await (await fetch(new URL(file?.url ?? '', address))).text()).toBe('solid ring');

  launcher.child.kill('SIGINT');
  const { code, signal } = await launcher.ended;
  // Windows has no signals: there the process is simply ended.
  if (process.platform !== 'win32') expect({ code, signal }).toEqual({ code: 0, signal: null });
  await expect(fetch(address)).rejects.toThrow();
});

test('files are found from where npm start was called', async () => {
  const folder = built();
  const bench = temporaryFolder();
  writeFileSync(join(bench, 'plate.obj'), 'v 0 0 0');
  const launcher = new Launcher(folder, ['--browser', '--no-open', 'plate.obj'], {
    npm_lifecycle_event: 'start',
    INIT_CWD: bench,
  });
  const list = await (await fetch(new URL('granted.json', await launcher.address()))).json();
  expect(list).toMatchObject([{ name: 'plate.obj' }]);
});

describe.runIf(process.platform === 'linux')('with a display', () => {
  /** A program in Electron's place. */
  function electron(script: string): string {
    const dist = temporaryFolder();
    writeFileSync(join(dist, 'electron'), `#!${process.execPath}\n${script}`);
    chmodSync(join(dist, 'electron'), 0o755);
    return dist;
  }
  const withDisplay = (dist: string) => ({ DISPLAY: ':99', ELECTRON_OVERRIDE_DIST_PATH: dist });

  test('Electron gets the program and the files, and nothing is served', async () => {
    const folder = built();
    writeFileSync(join(folder, 'ring.stl'), 'solid ring');
    const seen = join(folder, 'seen.json');
    const dist = electron(
      `require('fs').writeFileSync(${JSON.stringify(seen)}, JSON.stringify(process.argv.slice(2)));
       process.send(${JSON.stringify(windowShown)}, () => process.exit(3));`,
    );
    const launcher = new Launcher(folder, ['ring.stl'], withDisplay(dist));
    expect((await launcher.ended).code).toBe(3);
    expect(launcher.output).toBe('');
    expect(JSON.parse(readFileSync(seen, 'utf8'))).toEqual([folder, join(folder, 'ring.stl')]);
  });

  test('Electron that dies at its start gives way to the browser', async () => {
    const dist = electron(
      "console.error('electron: error while loading shared libraries: libnss3.so: x'); process.exit(127)",
    );
    const launcher = new Launcher(built(), ['--no-open'], withDisplay(dist));
    expect((await fetch(await launcher.address())).status).toBe(200);
    expect(launcher.output).toContain('lacks the library libnss3.so');
  });
});

test.each([
  [['nowhere.stl'], /no file .*nowhere\.stl/],
  [['--port', 'eight'], /not a port/],
  [['--no-such-option'], /--help/],
])('%j ends with code 2 and one plain line', (args, words) => {
  const run = spawnSync(process.execPath, [join(built(), 'dist/main/start.js'), ...args], {
    encoding: 'utf8',
    timeout: 30_000,
  });
  expect(run.status).toBe(2);
  expect(run.stderr).toMatch(words);
  expect(run.stderr.trim().split('\n').length).toBe(1);
  expect(run.stdout).toBe('');
});

test('a page that was not built is said', () => {
  const folder = built();
  const bare = temporaryFolder();
  cpSync(join(folder, 'dist', 'main'), join(bare, 'dist', 'main'), { recursive: true });
  const run = spawnSync(process.execPath, [join(bare, 'dist/main/start.js'), '--browser', '--no-open'], {
    encoding: 'utf8',
    timeout: 30_000,
  });
  expect(run.status).toBe(1);
  expect(run.stdout).toContain('npm run build');
});
