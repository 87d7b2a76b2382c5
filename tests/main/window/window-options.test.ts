import { expect, test } from 'vitest';
import { windowOptions } from '../../../main/window/window-options.ts';

// Electron's security checklist, items 2, 3, 4, 6, 8, 9 and 11: the page has no Node, no way around its own world.
test('the page runs in its own sandboxed world', () => {
  const { webPreferences } = windowOptions({ preload: '/p/preload.cjs', icon: '/p/icon.png' }, false);
  expect(webPreferences).toMatchObject({
    preload: '/p/preload.cjs',
    contextIsolation: true,
    sandbox: true,
    webSecurity: true,
    nodeIntegration: false,
    nodeIntegrationInWorker: false,
    nodeIntegrationInSubFrames: false,
    webviewTag: false,
    allowRunningInsecureContent: false,
    experimentalFeatures: false,
    navigateOnDragDrop: false,
  });
  expect(webPreferences).not.toHaveProperty('enableBlinkFeatures');
});

test('nothing is fetched for spelling', () => {
  expect(windowOptions({ preload: '', icon: '' }, true).webPreferences?.spellcheck).toBe(false);
});

test('the first paint fits the system: dark on dark', () => {
  const brightness = (dark: boolean) =>
    parseInt(windowOptions({ preload: '', icon: '' }, dark).backgroundColor?.slice(1, 3) ?? '', 16);
  expect(brightness(true)).toBeLessThan(64);
  expect(brightness(false)).toBeGreaterThan(192);
});
