import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { Grants } from '../../main/files/grants.ts';
import { servePage, type PageServer } from '../../main/serve-page.ts';
import { launchBrowser, watchForErrors } from './launch-browser.ts';

/** The real page, served as the launcher serves it, in a real Chromium. */
export interface TestBench {
  readonly address: string;
  /** A fresh user: nothing remembered. `closeCleanly` throws when the page complained. */
  openWindow(options?: WindowOptions): Promise<TestWindow>;
  close(): Promise<void>;
}

export interface WindowOptions {
  readonly width?: number;
  readonly height?: number;
  readonly colorScheme?: 'light' | 'dark';
  /** A browser in English (US) starts in US units. */
  readonly locale?: string;
}

export interface TestWindow {
  readonly page: Page;
  readonly context: BrowserContext;
  closeCleanly(): Promise<void>;
}

export const ROOT = join(import.meta.dirname, '..', '..');

export async function openBench(): Promise<TestBench> {
  const served = await servePage({ folder: join(ROOT, 'dist', 'renderer'), grants: new Grants() }, [], 0);
  if (!served.ok) throw new Error(served.error.message);
  const server: PageServer = served.value;
  const browser: Browser = await launchBrowser();
  return {
    address: server.address,
    async openWindow({ width = 1440, height = 900, colorScheme = 'light', locale = 'en-GB' } = {}) {
      const context = await browser.newContext({
        viewport: { width, height },
        colorScheme,
        acceptDownloads: true,
        locale,
      });
      // A headless browser has no dialog to answer: without the picker, saving is a download.
      await context.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
      const page = await context.newPage();
      const complained = watchForErrors(page);
      page.on('dialog', (dialog) => void dialog.accept());
      await page.goto(server.address);
      return {
        page,
        context,
        async closeCleanly() {
          await context.close();
          complained();
        },
      };
    },
    async close() {
      await browser.close();
      await server.close();
    },
  };
}
