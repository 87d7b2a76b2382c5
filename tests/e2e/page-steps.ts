import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';

/** Drops a file on the window, as a hand would. */
export async function dropFile(page: Page, name: string, bytes: Buffer): Promise<void> {
  const transfer = await page.evaluateHandle(
    ({ base64, fileName }) => {
      const data = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      const carried = new DataTransfer();
      carried.items.add(new File([data], fileName));
      return carried;
    },
    { base64: bytes.toString('base64'), fileName: name },
  );
  await page.dispatchEvent('.app', 'drop', { dataTransfer: transfer });
}

export async function goTo(page: Page, stage: string): Promise<void> {
  await page
    .getByRole('navigation')
    .getByRole('button', { name: new RegExp(`^${stage}`) })
    .click();
}

/** A figure of the bar at the foot of the window; it is a way to its stage. */
export const planButton = (page: Page, label: string): Locator =>
  page.getByRole('contentinfo').getByRole('button', { name: new RegExp(label) });

export async function planFigure(page: Page, label: string): Promise<number> {
  return Number.parseFloat((await planButton(page, label).locator('.plan-value').textContent()) ?? '');
}

export async function waitForPlan(page: Page): Promise<void> {
  await expect.poll(() => planFigure(page, '^Current'), { timeout: 20_000 }).toBeGreaterThan(0);
}

/** Opens a section of the stage's panel, if it is closed. */
export async function openSection(page: Page, title: string): Promise<void> {
  const button = page.getByRole('complementary').getByRole('button', { name: new RegExp(`^${title}`) });
  if ((await button.getAttribute('aria-expanded')) === 'false') await button.click();
}

/** A figure of the panel by its label, as the number shown. */
export async function panelFigure(scope: Page | Locator, label: string): Promise<number> {
  const page = 'page' in scope ? scope.page() : scope;
  const figure = scope.locator('.figure').filter({ has: page.locator('.figure-label', { hasText: label }) });
  return Number.parseFloat((await figure.first().locator('.figure-value').textContent()) ?? '');
}

/** Types into a field and leaves it. */
export async function type(field: Locator, text: string): Promise<void> {
  await field.fill(text);
  await field.press('Tab');
}

/** Chooses an option of a list that opens. */
export async function choose(page: Page, label: string, option: string | RegExp): Promise<void> {
  await page.getByRole('button', { name: new RegExp(label) }).click();
  await page.getByRole('option', { name: option }).click();
}
