import { extname } from 'node:path';
import type { BrowserWindow, Dialog } from 'electron';
import { jobFileExtension, modelFileExtensions } from '../../core/bridge/file-kinds.ts';

export type SavedKind = 'job' | 'pdf';

/** The system's dialogs, as questions with plain answers. A cancelled dialog is an empty list or null. */
export interface FileDialogs {
  chooseFiles(kind: 'model' | 'job'): Promise<readonly string[]>;
  /** An absolute path that ends as its kind must. */
  chooseTarget(kind: SavedKind, suggestedName: string): Promise<string | null>;
}

const withoutDot = (extension: string): string => extension.slice(1);
const jobFilter = { name: 'Tankside job', extensions: [withoutDot(jobFileExtension)] };
const modelFilter = { name: '3D model', extensions: modelFileExtensions.map(withoutDot) };
const pdfFilter = { name: 'PDF', extensions: ['pdf'] };
const anyFilter = { name: 'All files', extensions: ['*'] };

export function fileDialogs(
  dialog: Pick<Dialog, 'showOpenDialog' | 'showSaveDialog' | 'showMessageBox'>,
  exists: (path: string) => boolean,
  window: () => BrowserWindow,
): FileDialogs {
  return {
    async chooseFiles(kind) {
      const answer = await dialog.showOpenDialog(window(), {
        title: kind === 'job' ? 'Open a job' : 'Open models',
        filters: [kind === 'job' ? jobFilter : modelFilter, anyFilter],
        properties: kind === 'job' ? ['openFile'] : ['openFile', 'multiSelections'],
      });
      return answer.canceled ? [] : answer.filePaths;
    },

    async chooseTarget(kind, suggestedName) {
      const ending = kind === 'job' ? jobFileExtension : '.pdf';
      const answer = await dialog.showSaveDialog(window(), {
        title: kind === 'job' ? 'Save the job' : 'Save as PDF',
        defaultPath: safeFileName(suggestedName, ending),
        filters: [kind === 'job' ? jobFilter : pdfFilter],
        properties: ['createDirectory', 'showOverwriteConfirmation'],
      });
      if (answer.canceled || answer.filePath === '') return null;
      if (extname(answer.filePath).toLowerCase() === ending) return answer.filePath;
      // The dialog asked about the name as typed, not about the one with its ending.
      const path = answer.filePath + ending;
      return exists(path) && !(await confirmReplace(path)) ? null : path;
    },
  };

  async function confirmReplace(path: string): Promise<boolean> {
    const { response } = await dialog.showMessageBox(window(), {
      type: 'warning',
      message: `${path} exists already.`,
      detail: 'Replacing it loses what it holds now.',
      buttons: ['Replace', 'Cancel'],
      defaultId: 1,
      cancelId: 1,
    });
    return response === 0;
  }
}

/** A file name that every system takes: no folders, no characters Windows refuses, the right ending, never empty. */
export function safeFileName(suggested: string, ending: string): string {
  const stem = suggested.toLowerCase().endsWith(ending) ? suggested.slice(0, -ending.length) : suggested;
  const plain = stem.replace(/[\u0000-\u001f<>:"/\\|?*]+/g, ' ').replace(/\s+/g, ' ');
  const name = plain.replace(/^[. ]+|[. ]+$/g, '').slice(0, 120);
  return (name === '' ? 'untitled' : name) + ending;
}
