import type { Page } from 'playwright-core';

/** A file let go over the page as the system does it: the page gets a File on disk, not bytes from here. */
export async function dropFile(page: Page, file: string): Promise<void> {
  const session = await page.context().newCDPSession(page);
  const data = { items: [], files: [file], dragOperationsMask: 1 };
  for (const type of ['dragEnter', 'dragOver', 'drop'] as const) {
    await session.send('Input.dispatchDragEvent', { type, x: 600, y: 400, data });
  }
  await session.detach();
}
