import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { namedFiles } from '../../../main/files/named-files.ts';

const folder = resolve('/bench');

test('names are taken from the folder the program was called in', () => {
  expect(namedFiles(['ring.stl', 'sub/plate.obj'], folder)).toEqual([
    resolve(folder, 'ring.stl'),
    resolve(folder, 'sub/plate.obj'),
  ]);
  expect(namedFiles([resolve('/else/knob.stl')], folder)).toEqual([resolve('/else/knob.stl')]);
});

test('switches of the system and of Chromium are not files; after -- everything is', () => {
  expect(namedFiles(['--enable-features=x', '-psn_0_1', 'a.stl', ''], folder)).toEqual([
    resolve(folder, 'a.stl'),
  ]);
  expect(namedFiles(['--x', '--', '--odd.stl', '-b.stl'], folder)).toEqual([
    resolve(folder, '--odd.stl'),
    resolve(folder, '-b.stl'),
  ]);
});
