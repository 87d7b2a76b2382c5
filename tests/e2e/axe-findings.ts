import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Serious and critical findings of axe-core on the page as it stands, WCAG 2.2 A and AA. */
export async function axeFindings(page: Page): Promise<string[]> {
  await page.evaluate(AXE); // the page's own policy lets no script in; the debugger's door is not the page's
  const results = (await page.evaluate('axe.run()')) as AxeResults;
  return results.violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(({ id, nodes }) => `${id} ${nodes.map(({ html }) => html).join(' | ')}`);
}
