import type { MenuItemConstructorOptions } from 'electron';
import { describe, expect, test } from 'vitest';
import type { MenuCommand } from '../../../core/bridge/bridge.ts';
import { appMenu } from '../../../main/window/app-menu.ts';

function items(menu: readonly MenuItemConstructorOptions[]): MenuItemConstructorOptions[] {
  return menu.flatMap((item) => [item, ...(Array.isArray(item.submenu) ? items(item.submenu) : [])]);
}

const click = (item: MenuItemConstructorOptions | undefined): void => (item?.click as () => void)();

describe.each(['linux', 'win32', 'darwin'] as const)('on %s', (platform) => {
  const sent: MenuCommand[] = [];
  let prints = 0;
  const all = items(appMenu(platform, { print: () => prints++, send: (command) => sent.push(command) }));

  test('edit, view, window, print and a way out', () => {
    const roles = all.map((item) => item.role);
    for (const role of ['cut', 'copy', 'paste', 'viewMenu', 'windowMenu'] as const)
      expect(roles).toContain(role);
    // macOS quits from the program's own menu.
    expect(roles).toContain(platform === 'darwin' ? 'appMenu' : 'quit');
    click(all.find((item) => item.accelerator === 'CommandOrControl+P'));
    expect(prints).toBe(1);
  });

  test('each command of the page has one item, and no key is given twice', () => {
    sent.length = 0;
    for (const item of all) if (item.click && item.label !== 'Print…') click(item);
    expect(sent).toEqual(['new', 'open', 'model', 'save', 'save-as', 'undo', 'redo']);
    const keys = all.flatMap(({ accelerator }) => (accelerator === undefined ? [] : [String(accelerator)]));
    expect(new Set(keys).size).toBe(keys.length);
  });
});
