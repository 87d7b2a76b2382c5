import { describe, expect, test } from 'vitest';
import { readCommandLine, readUnits } from '../../../main/terminal/command-line.ts';

const OPTIONS = {
  up: { type: 'string' },
  thickness: { type: 'string' },
  json: { type: 'boolean', default: false },
} as const;

describe('a command line', () => {
  test('a value that begins with a minus is a value, and the word after a switch stays a file', () => {
    const read = readCommandLine('plan', ['--thickness', '-1mil', '--up', '-1,0,0', '--json', '-'], OPTIONS);
    expect(read).toEqual({
      ok: true,
      value: expect.objectContaining({
        values: { thickness: '-1mil', up: '-1,0,0', json: true },
        positionals: ['-'],
      }),
    });
  });

  test('an unknown option names the verb whose help to read', () => {
    const read = readCommandLine('hang', ['--colour', 'red'], OPTIONS);
    expect(!read.ok && read.error).toMatchObject({
      code: 'option-unknown',
      remedy: expect.stringContaining('tankside hang --help'),
    });
  });

  test('units in a list or one by one; a wrong one is named', () => {
    expect(readUnits(['mm,IN', 'ft'])).toEqual({ ok: true, value: ['mm', 'in', 'ft'] });
    const wrong = readUnits(['mm', 'yard']);
    expect(!wrong.ok && wrong.error.message).toContain('“yard”');
  });
});
