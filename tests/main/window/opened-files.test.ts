import { expect, test } from 'vitest';
import type { FileSource } from '../../../core/bridge/bridge.ts';
import { OpenedFiles } from '../../../main/window/opened-files.ts';

const file = (name: string): FileSource => ({
  name,
  byteLength: 1,
  content: { via: 'url', url: `/${name}` },
});

function names(files: readonly FileSource[]): string[] {
  return files.map((f) => f.name);
}

test('files wait for the page, are handed out once, and are sent after that', () => {
  const sent: string[][] = [];
  const opened = new OpenedFiles((files) => sent.push(names(files)));
  opened.open([file('a')]);
  opened.open([file('b'), file('c')]);
  expect(sent).toEqual([]);
  expect(names(opened.takeWaiting())).toEqual(['a', 'b', 'c']);
  // The page was loaded again.
  expect(opened.takeWaiting()).toEqual([]);
  opened.open([file('d')]);
  opened.open([]);
  expect(sent).toEqual([['d']]);
});

test('with the window closed, what is opened waits for the next one', () => {
  const sent: string[][] = [];
  const opened = new OpenedFiles((files) => sent.push(names(files)));
  opened.takeWaiting();
  opened.pageGone();
  opened.open([file('a')]);
  expect(sent).toEqual([]);
  expect(names(opened.takeWaiting())).toEqual(['a']);
});
