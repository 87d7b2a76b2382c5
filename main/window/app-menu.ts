import type { MenuItemConstructorOptions } from 'electron';
import type { MenuCommand } from '../../core/bridge/bridge.ts';

export interface MenuEffects {
  readonly print: () => void;
  readonly send: (command: MenuCommand) => void;
}

/**
 * The menu: what every desktop program has. The page hears each key first, and answers those it knows; a key it leaves alone,
 * and every click, comes here. Undo goes to the page too, which knows whether a text or the job is meant.
 */
export function appMenu(
  platform: NodeJS.Platform,
  { print, send }: MenuEffects,
): MenuItemConstructorOptions[] {
  const mac = platform === 'darwin';
  const item = (label: string, command: MenuCommand, accelerator?: string): MenuItemConstructorOptions => ({
    label,
    click: () => send(command),
    ...(accelerator === undefined ? {} : { accelerator: `CommandOrControl+${accelerator}` }),
  });
  const line: MenuItemConstructorOptions = { type: 'separator' };
  return [
    ...(mac ? [{ role: 'appMenu' } satisfies MenuItemConstructorOptions] : []),
    {
      label: 'File',
      submenu: [
        item('New job', 'new'),
        item('Open a job…', 'open'),
        item('Open a model…', 'model', 'O'),
        line,
        item('Save', 'save', 'S'),
        item('Save as…', 'save-as', 'Shift+S'),
        line,
        { label: 'Print…', accelerator: 'CommandOrControl+P', click: print },
        line,
        mac ? { role: 'close' } : { role: 'quit' },
      ],
    },
    {
      label: 'Edit',
      submenu: [
        item('Undo', 'undo', 'Z'),
        item('Redo', 'redo', mac ? 'Shift+Z' : 'Y'),
        line,
        { role: 'cut' },
        { role: 'copy' },
        { role: 'paste' },
        { role: 'selectAll' },
      ],
    },
    { role: 'viewMenu' },
    { role: 'windowMenu' },
  ];
}
