import type { BrowserWindow, Dialog } from 'electron';
import type { WindowState } from '../../core/bridge/bridge.ts';

const RUN = 'A run is going on.';
const RUN_DETAIL =
  'With the window closed nobody reads the supply and no alarm rings. The run itself goes on at the tank, and is found again when the program is opened.';

/** Asks before a window with unsaved work or a run closes or loads its page again; keeping it open is the default. */
export function askBeforeUnload(
  window: BrowserWindow,
  dialog: Pick<Dialog, 'showMessageBoxSync'>,
  state: () => WindowState,
): void {
  window.webContents.on('will-prevent-unload', (event) => {
    const { unsaved, runGoesOn } = state();
    const choice = dialog.showMessageBoxSync(window, {
      type: 'warning',
      message: runGoesOn ? RUN : 'This job has changes that are not saved.',
      detail: [
        ...(runGoesOn ? [RUN_DETAIL] : []),
        ...(unsaved
          ? [
              `${runGoesOn ? 'The job has changes that are not saved. ' : ''}Closing now loses them. Go back to save them first.`,
            ]
          : []),
      ].join('\n\n'),
      buttons: ['Go back', unsaved ? 'Close without saving' : 'Close all the same'],
      defaultId: 0,
      cancelId: 0,
      noLink: true,
    });
    // Preventing the event overrides the page's objection: the window closes.
    if (choice === 1) event.preventDefault();
  });
}
