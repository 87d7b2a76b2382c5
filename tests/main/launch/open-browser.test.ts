import { chmodSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { browserCommand, hasDisplay, openBrowser } from '../../../main/launch/open-browser.ts';
import { temporaryFolder } from '../temporary-folder.ts';

const address = 'http://127.0.0.1:8123/';

test('where a window can be seen', () => {
  expect(hasDisplay('linux', {})).toBe(false);
  expect(hasDisplay('linux', { DISPLAY: '' })).toBe(false);
  expect(hasDisplay('linux', { DISPLAY: ':0' })).toBe(true);
  expect(hasDisplay('linux', { WAYLAND_DISPLAY: 'wayland-0' })).toBe(true);
  expect(hasDisplay('darwin', {})).toBe(true);
  expect(hasDisplay('darwin', { SSH_CONNECTION: '10.0.0.1 1 10.0.0.2 22' })).toBe(false);
  expect(hasDisplay('win32', {})).toBe(true);
});

test('the address is one argument of a program, never part of a shell line', () => {
  for (const platform of ['linux', 'freebsd', 'darwin', 'win32'] as const) {
    const { command, args } = browserCommand(platform, address);
    expect(['xdg-open', 'open', 'rundll32']).toContain(command);
    expect(args.at(-1)).toBe(address);
  }
});

test.runIf(process.platform === 'linux')('says whether the system took the address', async () => {
  const folder = temporaryFolder();
  const opener = join(folder, 'xdg-open');
  const seen = join(folder, 'seen');
  const path = process.env['PATH'] ?? '';
  const put = (script: string): void => {
    writeFileSync(opener, `#!/bin/sh\n${script}\n`);
    chmodSync(opener, 0o755);
  };
  try {
    vi.stubEnv('PATH', `${folder}${delimiter}${path}`);
    put(`echo "$1" > "${seen}"`);
    expect(await openBrowser('linux', address)).toBe(true);
    expect(readFileSync(seen, 'utf8').trim()).toBe(address);
    // Its code for "no program could be found" (xdg-utils manual).
    put('exit 3');
    expect(await openBrowser('linux', address)).toBe(false);
    vi.stubEnv('PATH', join(folder, 'nothing'));
    expect(existsSync(join(folder, 'nothing'))).toBe(false);
    expect(await openBrowser('linux', address)).toBe(false);
  } finally {
    vi.unstubAllEnvs();
  }
});
