import { expect, test } from 'vitest';
import { launchedMark, reportWindowShown, windowShown } from '../../../main/launch/window-shown.ts';

/** A process with, or without, a line to the one that started it. */
function reporting(env: NodeJS.ProcessEnv, connected = true) {
  const sent: unknown[] = [];
  let lines = 1;
  reportWindowShown({
    env,
    connected,
    send: ((message: unknown, sentIt: () => void) => {
      sent.push(message);
      sentIt();
      return true;
    }) as NonNullable<NodeJS.Process['send']>,
    disconnect: () => lines--,
  });
  return { sent, lines };
}

test('the launcher is told once, and the line let go', () => {
  expect(reporting({ [launchedMark]: '1' })).toEqual({ sent: [windowShown], lines: 0 });
});

test('nobody else is told anything, and their line is left alone', () => {
  expect(reporting({})).toEqual({ sent: [], lines: 1 });
  expect(reporting({ [launchedMark]: '1' }, false)).toEqual({ sent: [], lines: 1 });
});
