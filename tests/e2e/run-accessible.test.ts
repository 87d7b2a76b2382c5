import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFindings } from './axe-findings.ts';
import { fillBook } from './fill-book.ts';
import { openBench, type TestBench } from './open-window.ts';
import { goTo } from './page-steps.ts';

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

async function look(page: Page, where: string): Promise<void> {
  await page.waitForTimeout(300);
  const bad = (await axeFindings(page)).map((finding) => `${where}: ${finding}`);
  expect(bad).toEqual([]);
}

/** WCAG 2.2 A and AA as axe-core tests them, in every state of the run and the logbook. */
test.each(['light', 'dark'] as const)('axe-core finds nothing serious, %s', async (colorScheme) => {
  const { page, closeCleanly } = await bench.openWindow({ width: 1024, height: 768, colorScheme });
  await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
  await fillBook(page, 12, 60);
  await goTo(page, 'The run');
  await page.getByRole('button', { name: /^Practise/ }).click();
  await look(page, 'before the run');
  await page.getByRole('button', { name: /What goes wrong/ }).click();
  await page.getByRole('option', { name: 'A contact lets go', exact: true }).click();
  await page.getByLabel('When, after power on').fill('10 min');
  await page.getByRole('radio', { name: '600 ×' }).click();
  await page.getByRole('button', { name: 'Start practising' }).click();
  await page.getByRole('button', { name: /^Begin/ }).click();
  for (;;) {
    const next = page.getByRole('button', { name: /^Next: / });
    const label = await next.textContent();
    await next.click();
    if (label?.includes('ramp to')) break;
  }
  await page.locator('.alarm-banner').waitFor({ timeout: 30_000 });
  await page.getByRole('button', { name: 'What went wrong?' }).click();
  await look(page, 'during the run, alarm ringing');
  await page.locator('.alarm-banner').getByRole('button', { name: 'Silence' }).click();
  await page.getByRole('button', { name: 'Fill the window' }).click();
  await look(page, 'the board over the whole window');
  // The readings by the keyboard; who leaves them is still at the whole board.
  const walk = page.getByRole('slider', { name: 'Readings, one by one' });
  await walk.press('Home');
  const said = /^\d+ s: \d+\.\d\d V, \d+\.\d\d A$/;
  await expect.poll(() => walk.getAttribute('aria-valuetext')).toMatch(said);
  await page.getByText(said).waitFor();
  await look(page, 'a reading of the board’s chart');
  await walk.press('Escape');
  await expect.poll(() => walk.getAttribute('aria-valuetext')).toBe('none chosen yet');
  await page.getByRole('button', { name: 'Back to the window' }).waitFor();
  await page.keyboard.press('Escape');
  for (;;) {
    const next = page.getByRole('button', { name: /^(Next: |Done|End the hold now)/ });
    const label = await next.textContent();
    await next.click();
    if (label?.startsWith('Done')) break;
  }
  await look(page, 'after the run');
  // The supply was left on: that comes before anything else.
  await page.getByRole('button', { name: 'I looked: the supply is off' }).click();
  await page.getByRole('button', { name: 'Write it up in the logbook' }).click();
  const desk = page.getByRole('region', { name: 'Logbook page' });
  await desk.getByRole('img', { name: /^Volts and amps/ }).waitFor();
  await look(page, 'a run of the logbook');
  await desk.getByRole('button', { name: 'Compare with another run' }).click();
  await page
    .getByRole('listbox', { name: 'Runs' })
    .getByRole('option')
    .filter({ hasText: 'Plate 9' })
    .click();
  await desk.getByRole('table', { name: 'Settings side by side' }).waitFor();
  await look(page, 'two runs side by side');
  await page.getByRole('button', { name: 'What these runs teach' }).click();
  await desk.getByText('From 12 runs.').first().waitFor();
  await look(page, 'what the runs teach');
  await closeCleanly();
});
