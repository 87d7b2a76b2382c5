import { randomBytes } from 'node:crypto';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { Grants } from '../../../main/files/grants.ts';
import { answerPageRequest } from '../../../main/page/answer-page-request.ts';
import { pageHeaders } from '../../../main/page/page-headers.ts';
import { temporaryFolder } from '../temporary-folder.ts';

function site() {
  const folder = temporaryFolder();
  const page = join(folder, 'renderer');
  mkdirSync(page);
  writeFileSync(join(page, 'index.html'), '<!doctype html><title>é</title>');
  const model = join(folder, 'ring.stl');
  const bytes = randomBytes(2_500_000);
  writeFileSync(model, bytes);
  const grants = new Grants();
  return { site: { folder: page, grants }, token: grants.grant(model), bytes, model };
}

test('a page file comes with its type, its length in bytes and the policy', async () => {
  const { site: s } = site();
  const answer = await answerPageRequest(s, 'GET', '/');
  expect(answer.status).toBe(200);
  expect(answer.headers).toMatchObject({
    ...pageHeaders,
    'content-type': 'text/html; charset=utf-8',
    'content-length': '32',
  });
  expect((answer.body as Uint8Array).byteLength).toBe(32);
});

test('a granted file comes whole, as bytes and never as a page', async () => {
  const { site: s, token, bytes } = site();
  const answer = await answerPageRequest(s, 'GET', `/granted/${token}`);
  expect(answer.headers).toMatchObject({
    ...pageHeaders,
    'content-type': 'application/octet-stream',
    'content-length': String(bytes.length),
  });
  const read = Buffer.from(await new Response(answer.body as BodyInit).arrayBuffer());
  expect(read.equals(bytes)).toBe(true);
});

test('what was not granted does not exist; what vanished says so', async () => {
  const { site: s, token, model } = site();
  for (const other of ['', 'x', `${token}/..`, `${token}x`, '..%2fring.stl', encodeURIComponent(model)]) {
    expect((await answerPageRequest(s, 'GET', `/granted/${other}`)).status).toBe(404);
  }
  rmSync(model);
  expect((await answerPageRequest(s, 'GET', `/granted/${token}`)).status).toBe(410);
  mkdirSync(model);
  expect((await answerPageRequest(s, 'GET', `/granted/${token}`)).status).toBe(410);
});

test('HEAD gives the length without the bytes; nothing can be written', async () => {
  const { site: s, token, bytes } = site();
  const head = await answerPageRequest(s, 'HEAD', `/granted/${token}`);
  expect(head).toMatchObject({ status: 200, body: null });
  expect(head.headers['content-length']).toBe(String(bytes.length));
  for (const method of ['POST', 'PUT', 'DELETE', 'OPTIONS', 'TRACE', 'get', '']) {
    const answer = await answerPageRequest(s, method, '/');
    expect(answer.status).toBe(405);
    expect(answer.headers['allow']).toBe('GET, HEAD');
  }
});
