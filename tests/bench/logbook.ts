import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { Grants } from '../../main/files/grants.ts';
import { servePage } from '../../main/serve-page.ts';
import { fillBook } from '../e2e/fill-book.ts';
import { launchBrowser } from '../e2e/launch-browser.ts';
import { buildPage } from './build-page.ts';
import type { BenchSubject, Target } from './harness.ts';

/**
 * The logbook with 10 000 runs of 7 200 readings each, in a real Chromium with its own IndexedDB: how long the list, a search and
 * the opening of a run take from the click to what the user waits for.
 */
const RUNS = 10_000;
const ROUNDS = 7;

/** Milliseconds in the page from `act` until `there` holds, looked at in every frame. */
function timed(page: Page, act: string, there: string): Promise<number> {
  return page.evaluate(
    `new Promise((resolve, reject) => {
      const from = performance.now();
      (${act})();
      const look = () => {
        if ((${there})()) resolve(performance.now() - from);
        else if (performance.now() - from > 60000) reject(new Error('not there after a minute'));
        else requestAnimationFrame(look);
      };
      requestAnimationFrame(look);
    })`,
  );
}

const press = (selector: string, text: string): string =>
  `() => [...document.querySelectorAll(${JSON.stringify(selector)})].find((e) => e.textContent.includes(${JSON.stringify(text)})).click()`;
const says = (text: string): string => `() => document.body.textContent.includes(${JSON.stringify(text)})`;

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;

async function measure(page: Page): Promise<Target[]> {
  const list: number[] = [];
  const search: number[] = [];
  const open: number[] = [];
  const nav = 'nav .stage-link';
  for (let round = 0; round < ROUNDS; round++) {
    await page.reload();
    await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
    list.push(await timed(page, press(nav, 'Logbook'), says(`${RUNS} of ${RUNS} runs`)));
    const typed = `() => {
      const input = document.querySelector('input[type=search]');
      Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value').set.call(input, 'streaky 77');
      input.dispatchEvent(new Event('input', { bubbles: true }));
    }`;
    search.push(
      await timed(page, typed, `() => !document.body.textContent.includes('${RUNS} of ${RUNS} runs')`),
    );
    const row = `() => document.querySelector('[role=option].long-row').click()`;
    const drawn = `() => document.querySelector('.run-page .trace-plot canvas') !== null`;
    open.push(await timed(page, row, drawn));
  }
  const spread = (values: readonly number[]): string =>
    `${median(values).toFixed(0)} ms (${Math.min(...values).toFixed(0)} … ${Math.max(...values).toFixed(0)})`;
  console.log(`  list of ${RUNS} runs, first look of a window  ${spread(list)}`);
  console.log(`  search in them                              ${spread(search)}`);
  console.log(`  open one of 7200 readings, trace drawn      ${spread(open)}`);
  return [
    { what: `list of ${RUNS} runs`, value: median(list), limit: 1500, unit: ' ms' },
    { what: 'search in them', value: median(search), limit: 200, unit: ' ms' },
    { what: 'opening a run of 7200 readings', value: median(open), limit: 500, unit: ' ms' },
  ];
}

export const logbook: BenchSubject = {
  name: 'logbook',
  async run() {
    const folder = join(process.cwd(), 'dist', 'renderer');
    buildPage();
    const served = await servePage({ folder, grants: new Grants() }, [], 0);
    if (!served.ok) throw new Error(served.error.message);
    const browser = await launchBrowser();
    try {
      const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
      await page.goto(served.value.address);
      await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
      const from = performance.now();
      await fillBook(page, RUNS, 1);
      console.log(`  filled in ${((performance.now() - from) / 1000).toFixed(0)} s`);
      return await measure(page);
    } finally {
      await browser.close();
      await served.value.close();
    }
  },
};
