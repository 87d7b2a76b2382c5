import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFindings } from './axe-findings.ts';
import { openBench, type TestBench } from './open-window.ts';

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

const STAGES = [
  'Part',
  'Faces',
  'Hanging',
  'Current and time',
  'Thickness map',
  'Bath',
  'Fits and masks',
  'Dye and seal',
  'Run sheet',
  'The run',
  'Logbook',
];

/** Opens every closed section of the panel; closed ones hold nothing to look at. */
async function openSections(page: Page): Promise<void> {
  const closed = page.locator('.panel .disclosure-button[aria-expanded="false"]');
  while ((await closed.count()) > 0) await closed.first().click();
}

/** WCAG 2.2 A and AA as axe-core tests them; serious and critical findings fail. */
test.each(['light', 'dark'] as const)(
  'axe-core finds nothing serious on any stage, %s',
  async (colorScheme) => {
    const { page, closeCleanly } = await bench.openWindow({ width: 1024, height: 768, colorScheme });
    await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
    for (const stage of STAGES) {
      await page
        .getByRole('navigation')
        .getByRole('button', { name: new RegExp(`^${stage}`) })
        .click();
      if (stage === 'Dye and seal') await page.getByText('Dye this job').click();
      await openSections(page);
      await page.waitForTimeout(300);
      const bad = (await axeFindings(page)).map((finding) => `${stage}: ${finding}`);
      expect(bad).toEqual([]);
    }
    await closeCleanly();
  },
);
