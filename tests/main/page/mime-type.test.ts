import { expect, test } from 'vitest';
import { mimeType } from '../../../main/page/mime-type.ts';

// WebAssembly.compileStreaming takes application/wasm alone (WebAssembly Web API, section 3), a module script only a
// JavaScript type (HTML standard, "fetch a single module script").
test.each([
  ['a/index.html', 'text/html; charset=utf-8'],
  ['a/entry-9f.js', 'text/javascript; charset=utf-8'],
  ['a/entry.mjs', 'text/javascript; charset=utf-8'],
  ['a/manifold.wasm', 'application/wasm'],
  ['a/MANIFOLD.WASM', 'application/wasm'],
  ['a/style.css', 'text/css; charset=utf-8'],
  ['a/icon.svg', 'image/svg+xml'],
  ['a/icon.png', 'image/png'],
  ['a/what.xyz', 'application/octet-stream'],
  ['a/noending', 'application/octet-stream'],
])('%s is %s', (path, type) => {
  expect(mimeType(path)).toBe(type);
});
