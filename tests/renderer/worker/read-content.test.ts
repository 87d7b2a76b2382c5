import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readContent } from '../../../renderer/worker/read-content.ts';

const bytes = Uint8Array.from({ length: 300_000 }, (_, i) => (i * 7) % 251);

let server: Server;
let address: string;

beforeAll(async () => {
  server = createServer((request, response) => {
    if (request.url === '/gone') return void response.writeHead(404).end();
    if (request.url === '/broken') {
      response.writeHead(200, { 'content-length': bytes.length });
      response.write(bytes.subarray(0, 1000));
      return void setTimeout(() => response.destroy(), 20);
    }
    // With its length, or in chunks without.
    if (request.url === '/sized') response.setHeader('content-length', bytes.length);
    response.write(bytes.subarray(0, 100_000));
    setTimeout(() => response.end(bytes.subarray(100_000)), 5);
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});

afterAll(() => void server.close());

async function read(content: Parameters<typeof readContent>[1]) {
  const steps: [number, number | null][] = [];
  const result = await readContent('part.stl', content, (so, of) => steps.push([so, of]));
  return { result, steps };
}

describe('readContent', () => {
  it('streams a blob and counts its bytes', async () => {
    const { result, steps } = await read({ via: 'blob', blob: new Blob([bytes]) });
    expect(result).toEqual({ ok: true, value: bytes });
    expect(steps.at(-1)).toEqual([bytes.length, bytes.length]);
  });

  it.each([
    ['/sized', bytes.length],
    ['/chunked', null],
  ])('streams %s and knows its length where it is told', async (path, total) => {
    const { result, steps } = await read({ via: 'url', url: address + path });
    expect(result).toEqual({ ok: true, value: bytes });
    expect(steps.length).toBeGreaterThan(1);
    expect(steps.at(-1)).toEqual([bytes.length, total]);
  });

  it('reads an empty file as no bytes', async () => {
    const { result } = await read({ via: 'blob', blob: new Blob([]) });
    expect(result).toEqual({ ok: true, value: new Uint8Array(0) });
  });

  it.each(['/gone', '/broken'])('says by name that %s could not be read', async (path) => {
    const { result } = await read({ via: 'url', url: address + path });
    expect(result).toMatchObject({ ok: false, error: { code: 'file-unreadable' } });
    expect(result.ok ? '' : result.error.message).toContain('part.stl');
  });

  // A browser hands over a dropped folder as a file that fails to be read, with words about the network.
  it.each([
    ['fixtures', 'seems to be a folder'],
    ['part.stl', 'part.stl can’t be read'],
  ])('says in plain words that a dropped %s could not be read', async (name, words) => {
    const blob = new Blob(['x']);
    blob.stream = () => new ReadableStream({ start: (it) => it.error(new Error('network error')) });
    const result = await readContent(name, { via: 'blob', blob }, () => {});
    expect(result).toMatchObject({ ok: false, error: { code: 'file-unreadable' } });
    expect(result.ok ? '' : result.error.message).toContain(words);
    expect(result.ok ? '' : result.error.message).not.toContain('network');
  });
});
