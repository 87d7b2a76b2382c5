import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { secondStartFiles } from '../../../main/window/second-start.ts';

test('takes absolute paths in the agreed shape, and nothing else', () => {
  const path = resolve('/parts/ring.stl');
  expect(secondStartFiles({ files: [path] })).toEqual([path]);
  for (const odd of [
    null,
    undefined,
    'x',
    [path],
    {},
    { files: path },
    { files: [3] },
    { files: ['ring.stl'] },
  ]) {
    expect(secondStartFiles(odd)).toEqual([]);
  }
});
