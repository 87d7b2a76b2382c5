import { expect, test } from 'vitest';
import { Grants } from '../../../main/files/grants.ts';

test('a token cannot be guessed, and leads to its own path only', () => {
  const grants = new Grants();
  const tokens = Array.from({ length: 200 }, (_, i) => grants.grant(`/parts/${i}.stl`));
  expect(new Set(tokens).size).toBe(200);
  // 24 random bytes are 32 characters of base64url, and nothing of the path is in them.
  for (const token of tokens) expect(token).toMatch(/^[A-Za-z0-9_-]{32}$/);
  expect(grants.find(tokens[7] ?? '')?.path).toBe('/parts/7.stl');
});

test('the same path keeps its token, and nothing else is a token', () => {
  const grants = new Grants();
  const token = grants.grant('/parts/a.stl');
  expect(grants.grant('/parts/a.stl')).toBe(token);
  for (const guess of ['', '/parts/a.stl', 'a.stl', '__proto__', token.slice(0, -1)]) {
    expect(grants.find(guess)).toBeUndefined();
  }
});

test('only a job file may be written back', () => {
  const grants = new Grants();
  const mayWrite = (path: string) => grants.find(grants.grant(path))?.mayWrite;
  expect(mayWrite('/parts/a.tankside')).toBe(true);
  expect(mayWrite('/parts/A.TANKSIDE')).toBe(true);
  expect(mayWrite('/parts/a.stl')).toBe(false);
  expect(mayWrite('/parts/a.tankside.stl')).toBe(false);
  expect(mayWrite('/etc/hosts')).toBe(false);
});
