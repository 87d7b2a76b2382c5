import { expect, test } from 'vitest';
import { contentSecurityPolicy, pageHeaders } from '../../../main/page/page-headers.ts';

const policy = new Map(
  contentSecurityPolicy.split('; ').map((directive) => {
    const [name = '', ...sources] = directive.split(' ');
    return [name, sources] as const;
  }),
);

test('nothing is allowed that is not named, and no script but the own', () => {
  expect(policy.get('default-src')).toEqual(["'none'"]);
  expect(policy.get('script-src')).toEqual(["'self'", "'wasm-unsafe-eval'"]);
  for (const closed of ['base-uri', 'form-action', 'frame-ancestors'])
    expect(policy.get(closed)).toEqual(["'none'"]);
});

test('no directive lets in another server, inline code or eval', () => {
  const allowed = new Set(["'none'", "'self'", "'wasm-unsafe-eval'", 'data:', 'blob:']);
  for (const sources of policy.values()) for (const source of sources) expect(allowed).toContain(source);
  // A data: script or worker would be inline code under another name.
  for (const [name, sources] of policy) if (name !== 'img-src') expect(sources).not.toContain('data:');
});

test('types are not guessed and no address is told on', () => {
  expect(pageHeaders).toMatchObject({
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'no-referrer',
  });
});
