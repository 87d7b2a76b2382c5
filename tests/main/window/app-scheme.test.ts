import { randomBytes } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { Grants } from '../../../main/files/grants.ts';
import { contentSecurityPolicy } from '../../../main/page/page-headers.ts';
import { appScheme, appSchemeHandler, grantedAddress, isAppUrl } from '../../../main/window/app-scheme.ts';
import { temporaryFolder } from '../temporary-folder.ts';

function handler() {
  const folder = temporaryFolder();
  const page = join(folder, 'renderer');
  mkdirSync(page);
  writeFileSync(join(page, 'index.html'), '<!doctype html>');
  writeFileSync(join(page, 'core.wasm'), Buffer.from('0061736d01000000', 'hex'));
  writeFileSync(join(folder, 'key.txt'), 'secret');
  const model = join(folder, 'ring.stl');
  const bytes = randomBytes(1_500_000);
  writeFileSync(model, bytes);
  const grants = new Grants();
  const handle = appSchemeHandler({ folder: page, grants });
  return { ask: (url: string, init?: RequestInit) => handle(new Request(url, init)), grants, model, bytes };
}

test('the scheme is a secure origin that cannot step around the policy', () => {
  expect(appScheme.privileges).toMatchObject({ standard: true, secure: true, supportFetchAPI: true });
  for (const never of ['bypassCSP', 'corsEnabled', 'allowServiceWorkers', 'allowExtensions'] as const) {
    expect(appScheme.privileges?.[never] ?? false).toBe(false);
  }
});

test('gives the page, its WebAssembly, and the policy', async () => {
  const { ask } = handler();
  const page = await ask('tankside://app/index.html');
  expect(page.status).toBe(200);
  expect(page.headers.get('content-security-policy')).toBe(contentSecurityPolicy);
  expect((await ask('tankside://app/core.wasm')).headers.get('content-type')).toBe('application/wasm');
});

test('streams a granted file, with its length', async () => {
  const { ask, grants, model, bytes } = handler();
  const answer = await ask(grantedAddress(grants.grant(model)));
  expect(answer.headers.get('content-length')).toBe(String(bytes.length));
  expect(Buffer.from(await answer.arrayBuffer()).equals(bytes)).toBe(true);
});

test.each([
  'tankside://app/../key.txt',
  'tankside://app/..%2fkey.txt',
  'tankside://app/%2e%2e%2fkey.txt',
  'tankside://app/..%5ckey.txt',
  'tankside://app//key.txt',
  'tankside://other/index.html',
  'tankside://app.evil/index.html',
  'tankside://app:1/index.html',
  'tankside://user@app/index.html',
  'tankside://app/granted/ring.stl',
  'https://app/index.html',
])('refuses %s', async (url) => {
  const { ask } = handler();
  // A Request with a user name cannot even be made.
  const answer = url.includes('@') ? null : await ask(url);
  expect(answer?.status ?? 404).toBe(404);
  expect((await answer?.text()) ?? '').not.toContain('secret');
});

test('nothing can be written', async () => {
  const { ask } = handler();
  expect((await ask('tankside://app/index.html', { method: 'POST', body: 'x' })).status).toBe(405);
});

test('only the own origin is the own origin', () => {
  expect(isAppUrl('tankside://app')).toBe(true);
  expect(isAppUrl('tankside://app/index.html#sheet')).toBe(true);
  for (const other of [
    '',
    'about:blank',
    'tankside://app@evil/',
    'tankside://x:y@app/',
    'tankside://app.evil/',
    'https://app/',
    'file:///app',
    'tankside:app',
    'blob:tankside://app/1',
    'null',
  ]) {
    expect(isAppUrl(other)).toBe(false);
  }
});
