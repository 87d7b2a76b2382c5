import type { BrowserWindow, MessageBoxSyncOptions } from 'electron';
import { expect, test } from 'vitest';
import { askBeforeUnload } from '../../../main/window/ask-before-unload.ts';
import { preventable, StandInContents } from '../electron-stand-in.ts';

/** Answers with the button of this name. */
function closing(button: string | null) {
  const contents = new StandInContents();
  let asked: MessageBoxSyncOptions | null = null;
  const showMessageBoxSync = ((_window: unknown, options: MessageBoxSyncOptions) => {
    asked = options;
    return button === null ? (options.cancelId ?? -1) : (options.buttons ?? []).indexOf(button);
  }) as Electron.Dialog['showMessageBoxSync'];
  askBeforeUnload({ webContents: contents } as unknown as BrowserWindow, { showMessageBoxSync });
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
