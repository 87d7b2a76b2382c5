import { expect, test } from 'vitest';
import { launchArguments, launchHelp } from '../../../main/launch/launch-arguments.ts';

test('nothing named opens a window on the demo part', () => {
  expect(launchArguments([])).toEqual({
    ok: true,
    value: { files: [], browser: false, openBrowser: true, port: 0, help: false },
  });
});

test('options and files in any order; after -- everything is a file', () => {
  expect(
    launchArguments(['ring.stl', '--no-open', '--port', '8123', 'plate.obj', '--browser', '--', '--odd.stl']),
  ).toEqual({
    ok: true,
    value: {
      files: ['ring.stl', 'plate.obj', '--odd.stl'],
      browser: true,
      openBrowser: false,
      port: 8123,
      help: false,
    },
  });
});

test.each(['0', '65536', '-1', '80.5', 'eight', '', '1e3', ' 80'])('port %j is refused', (port) => {
  expect(launchArguments([`--port=${port}`])).toMatchObject({ ok: false, error: { code: 'port-invalid' } });
});

test.each([['--prot', '80'], ['--port'], ['--browser=yes'], ['-x']])(
  '%s %s is refused in one sentence',
  (...args) => {
    const asked = launchArguments(args.filter((arg) => arg !== undefined));
    if (asked.ok) throw new Error('accepted');
    expect(asked.error.code).toBe('option-unknown');
    expect(asked.error.message).toMatch(/^[^\n]+[^.]\.$/);
  },
);

test('the help names every option', () => {
  for (const option of ['--browser', '--no-open', '--port', '--help']) {
    expect(launchHelp).toContain(option);
    const args = option === '--port' ? [option, '80'] : [option];
    expect(launchArguments(args).ok).toBe(true);
  }
});
