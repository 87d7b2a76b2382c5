import { expect, it } from 'vitest';
import { fnv1a } from '../../core/fnv1a.ts';

// Test vectors of the authors (FNV reference code, test_fnv.c), which they give for the empty string, "a" and "foobar".
it.each([
  ['', 0x811c9dc5],
  ['a', 0xe40c292c],
  ['foobar', 0xbf9cf968],
])('of "%s"', (text, sum) => {
  expect(fnv1a(new TextEncoder().encode(text))).toBe(sum);
});
