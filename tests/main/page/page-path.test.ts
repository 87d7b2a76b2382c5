import { mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { pagePath } from '../../../main/page/page-path.ts';
import { temporaryFolder } from '../temporary-folder.ts';

function site(): { readonly page: string; readonly outside: string } {
  const folder = temporaryFolder();
  const page = join(folder, 'renderer');
  mkdirSync(join(page, 'assets'), { recursive: true });
  writeFileSync(join(page, 'index.html'), '<!doctype html>');
  writeFileSync(join(page, 'assets', 'a b.js'), 'export {}');
  writeFileSync(join(page, '.hidden'), 'x');
  // A neighbour whose name begins like the page's folder.
  mkdirSync(join(folder, 'renderer-secret'));
  writeFileSync(join(folder, 'renderer-secret', 'key.txt'), 'secret');
  writeFileSync(join(folder, 'key.txt'), 'secret');
  return { page, outside: folder };
}

test('finds the files of the page', async () => {
  const { page } = site();
  expect(await pagePath(page, '/')).toBe(join(page, 'index.html'));
  expect(await pagePath(page, '/index.html')).toBe(join(page, 'index.html'));
  expect(await pagePath(page, '/assets/a%20b.js')).toBe(join(page, 'assets', 'a b.js'));
});

test.each([
  '/../key.txt',
  '/..%2fkey.txt',
  '/%2e%2e/key.txt',
  '/%2e%2e%2fkey.txt',
  '/.%2e/key.txt',
  '/assets/../../key.txt',
  '/assets/..%5c..%5ckey.txt',
  '/..\\key.txt',
  '/%252e%252e/key.txt',
  '/../renderer-secret/key.txt',
  '//etc/passwd',
  '/%2fetc%2fpasswd',
  '//key.txt',
  '/assets//a b.js',
  '/./index.html',
  '/index.html/',
  '/index.html%00.js',
  '/index.html::$DATA',
  '/C:/Windows/win.ini',
  '/.hidden',
  '/assets',
  '/assets/',
  '/missing.js',
  '/%',
  '/%zz',
  '/%c0%ae%c0%ae/key.txt',
  'index.html',
  '',
  '*',
  'http://127.0.0.1/index.html',
])('refuses %j', async (requestPath) => {
  expect(await pagePath(site().page, requestPath)).toBeNull();
});

test.runIf(process.platform !== 'win32')(
  'a link may not lead out of the folder, one inside it may be followed',
  async () => {
    const { page, outside } = site();
    symlinkSync(join(outside, 'key.txt'), join(page, 'key.txt'));
    symlinkSync(outside, join(page, 'up'));
    symlinkSync(join(outside, 'renderer-secret'), join(page, 'near'));
    symlinkSync(join(page, 'index.html'), join(page, 'home.html'));
    expect(await pagePath(page, '/key.txt')).toBeNull();
    expect(await pagePath(page, '/up/key.txt')).toBeNull();
    expect(await pagePath(page, '/near/key.txt')).toBeNull();
    expect(await pagePath(page, '/home.html')).toBe(join(page, 'index.html'));
  },
);
