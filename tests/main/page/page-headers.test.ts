import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
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
  const allowed = new Set(["'none'", "'self'", "'wasm-unsafe-eval'", 'data:', 'blob:', libraryStyleHash()]);
  for (const sources of policy.values()) for (const source of sources) expect(allowed).toContain(source);
  // A data: script or worker would be inline code under another name.
  for (const [name, sources] of policy) if (name !== 'img-src') expect(sources).not.toContain('data:');
});

test('the one inline style let in is the one that the installed widget library writes', () => {
  expect(policy.get('style-src')).toEqual(["'self'", libraryStyleHash()]);
});

/** CSP level 3, section 6.7.3.3: the hash of the style's whole text, in base64. */
function libraryStyleHash(): string {
  const components = createRequire(import.meta.url).resolve('react-aria-components/package.json');
  const library = dirname(createRequire(components).resolve('react-aria/package.json'));
  const code = readFileSync(join(library, 'dist/private/interactions/usePress.mjs'), 'utf8');
  const [, text = ''] = /style\.textContent = `([^`]*)`\.trim\(\)/.exec(code) ?? [];
  const [, attribute = ''] = /PRESSABLE_ATTRIBUTE = '([^']+)'/.exec(code) ?? [];
  const style = text.replace(/\$\{[^}]*PRESSABLE_ATTRIBUTE\}/, attribute).trim();
  return `'sha256-${createHash('sha256').update(style).digest('base64')}'`;
}

test('types are not guessed and no address is told on', () => {
  expect(pageHeaders).toMatchObject({
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'no-referrer',
  });
});
