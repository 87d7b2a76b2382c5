import { resolve } from 'node:path';

/**
 * The files named in a program's arguments, absolute. Switches (which Chromium and the system add as they like) are
 * not files; after `--` everything is.
 *
 * @param args without the program itself
 */
export function namedFiles(args: readonly string[], folder: string): readonly string[] {
  const end = args.indexOf('--');
  const before = end < 0 ? args : args.slice(0, end);
  const after = end < 0 ? [] : args.slice(end + 1);
  return [...before.filter((arg) => !arg.startsWith('-')), ...after]
    .filter((arg) => arg !== '')
    .map((arg) => resolve(folder, arg));
}
