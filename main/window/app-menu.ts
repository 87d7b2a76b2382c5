import type { MenuItemConstructorOptions } from 'electron';

/**
 * The menu: what every desktop program has. The page hears each key first, so its own undo and save work; a key it
 * leaves alone reaches the menu.
 */
export function appMenu(platform: NodeJS.Platform, print: () => void): MenuItemConstructorOptions[] {
  const mac = platform === 'darwin';
  const printItem: MenuItemConstructorOptions = {
    label: 'Print…',
    accelerator: 'CommandOrControl+P',
    click: print,
  };
  return [
    ...(mac ? [{ role: 'appMenu' } satisfies MenuItemConstructorOptions] : []),
    {
      label: 'File',
      submenu: [printItem, { type: 'separator' }, mac ? { role: 'close' } : { role: 'quit' }],
    },
    { role: 'editMenu' },
    { role: 'viewMenu' },
    { role: 'windowMenu' },
  ];
}
