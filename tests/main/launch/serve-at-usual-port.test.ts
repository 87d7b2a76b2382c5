import { expect, test } from 'vitest';
import { failure, success, type Result } from '../../../core/result.ts';
import { serveAtUsualPort, USUAL_PORT } from '../../../main/launch/serve-at-usual-port.ts';
import type { PageServer } from '../../../main/serve-page.ts';

/** A machine where these ports are taken; says which ports were tried. */
function machine(taken: readonly number[]) {
  const tried: number[] = [];
  const serve = (port: number): Promise<Result<PageServer>> => {
    tried.push(port);
    const free = port === 0 ? 50_000 : port;
    return Promise.resolve(
      taken.includes(port)
        ? failure('port-not-free', 'taken', 'take another')
        : success({ address: `http://127.0.0.1:${free}/`, close: () => Promise.resolve() }),
    );
  };
  return { tried, serve };
}

test('the page comes back at the same port, where the browser kept its drafts', async () => {
  const { tried, serve } = machine([]);
  const served = await serveAtUsualPort(serve, 0, () => {});
  expect(served.ok && served.value.address).toBe(`http://127.0.0.1:${USUAL_PORT}/`);
  expect(tried).toEqual([USUAL_PORT]);
});

test('while that port is taken any free one serves, and what that means is said', async () => {
  const { tried, serve } = machine([USUAL_PORT]);
  const said: string[] = [];
  const served = await serveAtUsualPort(serve, 0, (line) => said.push(line));
  expect(served.ok).toBe(true);
  expect(tried).toEqual([USUAL_PORT, 0]);
  expect(said.join()).toContain('drafts');
});

test('a port that was asked for is that one or none', async () => {
  const { tried, serve } = machine([4000]);
  const served = await serveAtUsualPort(serve, 4000, () => {});
  expect(served.ok).toBe(false);
  expect(tried).toEqual([4000]);
});
