import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { findElectronBinary } from '../../../main/launch/electron-binary.ts';
import { temporaryFolder } from '../temporary-folder.ts';

const programs = [
  ['linux', 'electron'],
  ['win32', 'electron.exe'],
  ['darwin', 'Electron.app/Contents/MacOS/Electron'],
] as const;

function put(...parts: string[]): string {
  const file = join(...parts);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, '');
  return file;
}

test.each(programs)('on %s it is %s, where it was fetched', (platform, program) => {
  const folder = temporaryFolder();
  expect(findElectronBinary(folder, undefined, platform)).toBeNull();
  const binary = put(folder, 'dist', program);
  expect(findElectronBinary(folder, undefined, platform)).toBe(binary);
  expect(findElectronBinary(folder, '', platform)).toBe(binary);
});

test('an own build of Electron goes first, and is not replaced by the fetched one', () => {
  const folder = temporaryFolder();
  const own = temporaryFolder();
  put(folder, 'dist', 'electron');
  expect(findElectronBinary(folder, own, 'linux')).toBeNull();
  const binary = put(own, 'electron');
  expect(findElectronBinary(folder, own, 'linux')).toBe(binary);
});

test('the name that the package wrote down is taken, and one that is gone is not', () => {
  const folder = temporaryFolder();
  writeFileSync(join(folder, 'path.txt'), 'electron-special');
  put(folder, 'dist', 'electron');
  expect(findElectronBinary(folder, undefined, 'linux')).toBeNull();
  const binary = put(folder, 'dist', 'electron-special');
  expect(findElectronBinary(folder, undefined, 'linux')).toBe(binary);
});

test('a system Electron is not made for has none', () => {
  expect(findElectronBinary(temporaryFolder(), undefined, 'sunos')).toBeNull();
});

test.each(programs)(
  "the installed package's own script names the same program for %s",
  (platform, program) => {
    const script = createRequire(import.meta.url).resolve('electron/install.js');
    const cases = readFileSync(script, 'utf8').split('switch (platform)')[1] ?? '';
    expect(cases).toMatch(new RegExp(`case '${platform}':[^;]*return '${program}';`));
  },
);
