import type { MenuItemConstructorOptions } from 'electron';
import { expect, test } from 'vitest';
import { appMenu } from '../../../main/window/app-menu.ts';

function items(menu: readonly MenuItemConstructorOptions[]): MenuItemConstructorOptions[] {
  return menu.flatMap((item) => [item, ...(Array.isArray(item.submenu) ? items(item.submenu) : [])]);
}

test.each(['linux', 'win32', 'darwin'] as const)(
  'on %s: edit, view, window, print and a way out',
  (platform) => {
    let prints = 0;
    const all = items(appMenu(platform, () => prints++));
    const roles = all.map((item) => item.role);
    for (const role of ['editMenu', 'viewMenu', 'windowMenu'] as const) expect(roles).toContain(role);
    // macOS quits from the program's own menu.
    expect(roles).toContain(platform === 'darwin' ? 'appMenu' : 'quit');
    const print = all.find((item) => item.accelerator === 'CommandOrControl+P');
    (print?.click as (() => void) | undefined)?.();
    expect(prints).toBe(1);
  },
);
