import { randomBytes } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { get as httpGet, type IncomingHttpHeaders } from 'node:http';
import { connect } from 'node:net';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { describeFile } from '../../main/files/describe-file.ts';
import { Grants } from '../../main/files/grants.ts';
import { contentSecurityPolicy } from '../../main/page/page-headers.ts';
import { servedAddress, servePage, type ListedFile } from '../../main/serve-page.ts';
import { temporaryFolder } from './temporary-folder.ts';

async function served() {
  const folder = temporaryFolder();
  const page = join(folder, 'renderer');
  mkdirSync(page);
  writeFileSync(join(page, 'index.html'), '<!doctype html><title>Tankside</title>');
  writeFileSync(join(page, 'entry.js'), 'export {};');
  writeFileSync(join(page, 'core.wasm'), Buffer.from('0061736d01000000', 'hex'));
  writeFileSync(join(folder, 'key.txt'), 'secret');
  const model = join(folder, 'ring é.stl');
  const bytes = randomBytes(1_300_000);
  writeFileSync(model, bytes);

  const grants = new Grants();
  const file = await describeFile(model, grants, servedAddress);
  if (!file.ok || file.value.content.via !== 'url') throw new Error('the model exists');
  const listed: ListedFile[] = [
    { name: file.value.name, byteLength: file.value.byteLength, url: file.value.content.url },
  ];
  const server = await servePage({ folder: page, grants }, listed, 0);
  if (!server.ok) throw new Error(server.error.message);
  onTestFinished(() => server.value.close());
  const address = new URL(server.value.address);
  return { address, port: Number(address.port), listed, bytes };
}

/** Sends these very bytes and gives back the whole answer: a client library would tidy the path first. */
function raw(port: number, request: string): Promise<string> {
  return new Promise((settle, refuse) => {
    let answer = '';
    const socket = connect(port, '127.0.0.1', () => socket.write(request));
    socket.setTimeout(5000, () => socket.destroy(new Error('no answer')));
    socket.setEncoding('latin1');
    socket.on('data', (text: string) => (answer += text));
    socket.on('end', () => settle(answer));
    socket.on('error', refuse);
  });
}

function getWith(
  port: number,
  path: string,
  headers: Record<string, string>,
): Promise<{ status: number; headers: IncomingHttpHeaders }> {
  return new Promise((settle, refuse) => {
    httpGet({ host: '127.0.0.1', port, path, headers }, (response) => {
      response.resume();
      settle({ status: response.statusCode ?? 0, headers: response.headers });
    }).on('error', refuse);
  });
}

test('serves the page with its types and the policy', async () => {
  const { address } = await served();
  const page = await fetch(address);
  expect(page.status).toBe(200);
  expect(await page.text()).toContain('<title>Tankside</title>');
  expect(page.headers.get('content-security-policy')).toBe(contentSecurityPolicy);
  expect(page.headers.get('x-content-type-options')).toBe('nosniff');
  expect((await fetch(new URL('/entry.js', address))).headers.get('content-type')).toMatch(
    /^text\/javascript/,
  );
  const wasm = await fetch(new URL('/core.wasm?v=1', address));
  expect(wasm.headers.get('content-type')).toBe('application/wasm');
  expect(WebAssembly.validate(await wasm.arrayBuffer())).toBe(true);
});

test('lists the files named on the command line, and serves each whole', async () => {
  const { address, listed, bytes } = await served();
  const answer = await fetch(new URL('/granted.json', address));
  expect(answer.headers.get('content-type')).toMatch(/^application\/json/);
  const list = (await answer.json()) as ListedFile[];
  expect(list).toEqual(listed);
  expect(list[0]).toMatchObject({ name: 'ring é.stl', byteLength: bytes.length });
  const file = await fetch(new URL(list[0]?.url ?? '', address));
  expect(file.headers.get('content-length')).toBe(String(bytes.length));
  expect(Buffer.from(await file.arrayBuffer()).equals(bytes)).toBe(true);
});

test('HEAD answers without a body', async () => {
  const { port, bytes, listed } = await served();
  for (const path of ['/', '/granted.json', listed[0]?.url ?? '']) {
    const answer = await raw(
      port,
      `HEAD ${path} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: close\r\n\r\n`,
    );
    expect(answer).toMatch(/^HTTP\/1\.1 200 /);
    expect(answer.endsWith('\r\n\r\n')).toBe(true);
    if (path.startsWith('/granted/')) expect(answer).toContain(`content-length: ${bytes.length}\r\n`);
  }
});

test.each(['POST', 'PUT', 'DELETE', 'PATCH', 'OPTIONS'])('%s is refused', async (method) => {
  const { address } = await served();
  for (const path of ['/', '/granted.json']) {
    const answer = await fetch(new URL(path, address), { method });
    expect(answer.status).toBe(405);
    expect(answer.headers.get('content-security-policy')).toBe(contentSecurityPolicy);
  }
});

test.each([
  '/../key.txt',
  '/..%2fkey.txt',
  '/%2e%2e/key.txt',
  '/%2E%2E%2Fkey.txt',
  '/..%5ckey.txt',
  '/entry.js/../../key.txt',
  '//key.txt',
  '/granted/../../key.txt',
  '/granted/..%2f..%2fkey.txt',
  'http://127.0.0.1/../key.txt',
  '/%00',
  '*',
])('a request for %j as written gets nothing', async (path) => {
  const { port } = await served();
  const answer = await raw(
    port,
    `GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: close\r\n\r\n`,
  );
  expect(answer).toMatch(/^HTTP\/1\.1 40[04] /);
  expect(answer).not.toContain('secret');
});

describe('against other sites', () => {
  test('only its own name is answered, so that no other name can be pointed at it', async () => {
    const { port, listed } = await served();
    expect((await getWith(port, '/', { host: `127.0.0.1:${port}` })).status).toBe(200);
    expect((await getWith(port, '/', { host: `localhost:${port}` })).status).toBe(200);
    for (const host of [
      'evil.example',
      `evil.example:${port}`,
      '127.0.0.1',
      'localhost',
      `127.0.0.1:${port + 1}`,
      `[::1]:${port}`,
      `127.0.0.1:${port}.evil.example`,
    ]) {
      for (const path of ['/', '/granted.json', listed[0]?.url ?? '']) {
        expect((await getWith(port, path, { host })).status).toBe(421);
      }
    }
    const without = await raw(port, 'GET / HTTP/1.0\r\n\r\n');
    expect(without).toMatch(/^HTTP\/1\.1 421 /);
  });

  test("the user's files are not given to another site's page", async () => {
    const { port, listed } = await served();
    const host = `127.0.0.1:${port}`;
    for (const path of ['/granted.json', listed[0]?.url ?? '']) {
      expect((await getWith(port, path, { host, 'sec-fetch-site': 'cross-site' })).status).toBe(403);
      expect((await getWith(port, path, { host, 'sec-fetch-site': 'same-site' })).status).toBe(403);
      const own = await getWith(port, path, { host, 'sec-fetch-site': 'same-origin' });
      expect(own.status).toBe(200);
      expect(own.headers['access-control-allow-origin']).toBeUndefined();
      expect(own.headers['cross-origin-resource-policy']).toBe('same-origin');
    }
  });

  // On Linux all of 127.0.0.0/8 is this machine: a server on every address would answer on 127.0.0.2 as well.
  test.runIf(process.platform === 'linux')('it listens on 127.0.0.1 alone', async () => {
    const { port } = await served();
    await expect(
      new Promise((settle, refuse) =>
        connect(port, '127.0.0.2', () => settle('reached')).on('error', refuse),
      ),
    ).rejects.toMatchObject({ code: 'ECONNREFUSED' });
  });
});

test('a port that is taken is said, not thrown', async () => {
  const { port } = await served();
  const second = await servePage({ folder: temporaryFolder(), grants: new Grants() }, [], port);
  expect(second).toMatchObject({ ok: false, error: { code: 'port-not-free' } });
});

test('a browser that goes away halfway leaves the server answering', async () => {
  const { address, port, listed } = await served();
  await new Promise<void>((settle) => {
    const socket = connect(port, '127.0.0.1', () =>
      socket.write(`GET ${listed[0]?.url} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n\r\n`),
    );
    socket.once('data', () => socket.destroy());
    socket.on('close', () => settle());
  });
  expect((await fetch(address)).status).toBe(200);
});
