import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openBench, type TestBench } from './open-window.ts';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

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
    await page.evaluate(AXE); // the page's own policy lets no script in; the debugger's door is not the page's
    for (const stage of STAGES) {
      await page
        .getByRole('navigation')
        .getByRole('button', { name: new RegExp(`^${stage}`) })
        .click();
      if (stage === 'Dye and seal') await page.getByText('Dye this job').click();
      await openSections(page);
      await page.waitForTimeout(300);
      const results = (await page.evaluate('axe.run()')) as AxeResults;
      const bad = results.violations
        .filter((violation) => violation.impact === 'serious' || violation.impact === 'critical')
        .map(
          (violation) => `${stage}: ${violation.id} ${violation.nodes.map((node) => node.html).join(' | ')}`,
        );
      expect(bad).toEqual([]);
    }
    await closeCleanly();
  },
);
