import type { BrowserWindow, MessageBoxSyncOptions } from 'electron';
import { expect, test } from 'vitest';
import { askBeforeUnload } from '../../../main/window/ask-before-unload.ts';
import { preventable, StandInContents } from '../electron-stand-in.ts';

/** Answers with the button of this name. */
function closing(button: string | null, { unsaved = true, runGoesOn = false } = {}) {
  const contents = new StandInContents();
  let asked: MessageBoxSyncOptions | null = null;
  const showMessageBoxSync = ((_window: unknown, options: MessageBoxSyncOptions) => {
    asked = options;
    return button === null ? (options.cancelId ?? -1) : (options.buttons ?? []).indexOf(button);
  }) as Electron.Dialog['showMessageBoxSync'];
  askBeforeUnload({ webContents: contents } as unknown as BrowserWindow, { showMessageBoxSync }, () => ({
    title: 'Ring',
    unsaved,
    runGoesOn,
  }));
  const event = preventable();
  contents.emit('will-prevent-unload', event);
  if (!asked) throw new Error('nobody was asked');
  // Electron: preventing this event lets the window close.
  return { closes: event.prevented, asked: asked as MessageBoxSyncOptions };
}

test('only the plain wish to lose the changes closes the window', () => {
  expect(closing('Close without saving').closes).toBe(true);
  expect(closing('Go back').closes).toBe(false);
  expect(closing(null).closes).toBe(false);
});

test('a key struck in haste keeps the work', () => {
  const { asked } = closing(null);
  expect(asked.buttons?.[asked.defaultId ?? -1]).toBe('Go back');
});

test('of a run it says what closing ends and what it does not', () => {
  const { asked } = closing(null, { unsaved: false, runGoesOn: true });
  expect(asked.message).toBe('A run is going on.');
  expect(asked.detail).toMatch(/no alarm rings.*found again/);
  expect(asked.detail).not.toMatch(/not saved/);
  expect(asked.buttons).toEqual(['Go back', 'Close all the same']);
  expect(closing('Close all the same', { unsaved: false, runGoesOn: true }).closes).toBe(true);
  const both = closing(null, { runGoesOn: true }).asked;
  expect(both.detail).toMatch(/no alarm rings[^]*changes that are not saved/);
  expect(both.buttons?.[1]).toBe('Close without saving');
});
