import type { BrowserWindow, Dialog } from 'electron';

/** Asks before a window with unsaved work closes or loads its page again; keeping it open is the default. */
export function askBeforeUnload(window: BrowserWindow, dialog: Pick<Dialog, 'showMessageBoxSync'>): void {
  window.webContents.on('will-prevent-unload', (event) => {
    const choice = dialog.showMessageBoxSync(window, {
      type: 'warning',
      message: 'This job has changes that are not saved.',
      detail: 'Closing now loses them. Go back to save them first.',
      buttons: ['Go back', 'Close without saving'],
      defaultId: 0,
      cancelId: 0,
      noLink: true,
    });
    // Preventing the event overrides the page's objection: the window closes.
    if (choice === 1) event.preventDefault();
  });
}
