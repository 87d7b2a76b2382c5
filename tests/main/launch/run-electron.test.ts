import { chmodSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { runElectron, startFailure } from '../../../main/launch/run-electron.ts';
import { launchedMark, windowShown } from '../../../main/launch/window-shown.ts';
import { temporaryFolder } from '../temporary-folder.ts';

/** A program in Electron's place: what it does is this script. */
function program(script: string): string {
  const file = join(temporaryFolder(), 'electron');
  writeFileSync(file, `#!${process.execPath}\n${script}`);
  chmodSync(file, 0o755);
  return file;
}

const showsWindow = `process.send(${JSON.stringify(windowShown)});`;

describe.runIf(process.platform !== 'win32')('a run', () => {
  test('gets the program folder and the files, and gives its exit code', async () => {
    const seen = join(temporaryFolder(), 'seen');
    const binary = program(
      `require('fs').writeFileSync(${JSON.stringify(seen)}, JSON.stringify([process.env.${launchedMark}, ...process.argv.slice(2)]))`,
    );
    expect(await runElectron(binary, '/app', ['/parts/a b.stl'])).toEqual({ started: true, exitCode: 0 });
    expect(JSON.parse(readFileSync(seen, 'utf8'))).toEqual(['1', '/app', '/parts/a b.stl']);
  });

  test('that showed its window did start, however it ends', async () => {
    const binary = program(`${showsWindow} setTimeout(() => process.exit(7), 100)`);
    expect(await runElectron(binary, '/app', [])).toEqual({ started: true, exitCode: 7 });
    const crashed = program(`${showsWindow} setTimeout(() => process.kill(process.pid, 'SIGKILL'), 100)`);
    expect(await runElectron(crashed, '/app', [])).toEqual({ started: true, exitCode: 1 });
  });

  test('that died before a window did not start, and says why', async () => {
    const noDisplay = program(
      "console.error('[1:ERROR:ozone_platform_x11.cc(250)] Missing X server or $DISPLAY'); process.exit(1)",
    );
    expect(await runElectron(noDisplay, '/app', [])).toEqual({
      started: false,
      cause: 'no display can be reached',
    });
    const killed = program("process.kill(process.pid, 'SIGKILL')");
    expect(await runElectron(killed, '/app', [])).toEqual({
      started: false,
      cause: 'it was ended by SIGKILL',
    });
  });

  test('of a file that is no program did not start', async () => {
    const file = join(temporaryFolder(), 'electron');
    writeFileSync(file, 'not a program');
    expect(await runElectron(file, '/app', [])).toMatchObject({ started: false });
    expect(await runElectron(join(temporaryFolder(), 'gone'), '/app', [])).toMatchObject({ started: false });
  });

  test('that the user stopped is not a failed start', async () => {
    const binary = program("process.kill(process.pid, 'SIGTERM'); setTimeout(() => {}, 5000)");
    expect(await runElectron(binary, '/app', [])).toEqual({ started: true, exitCode: 0 });
  });
});

// The words of the dynamic linker and of Chromium, from memory.
test.each([
  [
    'electron: error while loading shared libraries: libnss3.so: cannot open shared object file',
    127,
    /lacks the library libnss3\.so/,
  ],
  ['Missing X server or $DISPLAY\nThe platform failed to initialize.  Exiting.', 1, /no display/],
  [
    'Running as root without --no-sandbox is not supported. See https://crbug.com/638180.',
    1,
    /administrator/,
  ],
  ['The SUID sandbox helper binary was found, but is not configured correctly.', 133, /sandbox/],
  ['', 9, /code 9/],
])('%j is said in plain words', (output, code, words) => {
  expect(startFailure(output, code, null)).toMatch(words);
});
