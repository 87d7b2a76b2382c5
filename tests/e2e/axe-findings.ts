import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/**
 * Serious and critical findings of axe-core on the page as it stands, WCAG 2.2 A and AA. Every rule is run; only of
 * what passes no list is made, which is half of the work.
 */
export async function axeFindings(page: Page): Promise<string[]> {
  // The page's own policy lets no script in; the debugger's door is not the page's.
  if (!(await page.evaluate('"axe" in window'))) await page.evaluate(AXE);
  const results = (await page.evaluate('axe.run({ resultTypes: ["violations"] })')) as AxeResults;
  return results.violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(({ id, nodes }) => `${id} ${nodes.map(({ html }) => html).join(' | ')}`);
}
