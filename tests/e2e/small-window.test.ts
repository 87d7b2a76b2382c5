import { afterAll, beforeAll, expect, test } from 'vitest';
import { openBench, type TestBench } from './open-window.ts';

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

/** What a screen of 1440 × 900 and of 1024 × 768 leaves when zoomed to 200 % (WCAG 2.2, 1.4.4 and 1.4.10). */
const ZOOMED = [
  [720, 450],
  [512, 384],
] as const;

test.each(ZOOMED)(
  '%i × %i: nothing to scroll sideways, no figure cut, the part in sight',
  async (width, height) => {
    const { page, closeCleanly } = await bench.openWindow({ width, height });
    await page
      .locator('.plan-figure:first-child .plan-value', { hasText: /\d/ })
      .waitFor({ timeout: 20_000 });
    const seen = await page.evaluate(() => {
      const cut = [...document.querySelectorAll('.plan-bar *, .stage-rail *:not(.visually-hidden)')].filter(
        (element) =>
          element.scrollWidth > element.clientWidth + 1 && getComputedStyle(element).display !== 'inline',
      );
      const view = document.querySelector('.viewport')!.getBoundingClientRect();
      const panel = document.querySelector('.panel')!.getBoundingClientRect();
      return {
        pageWidth: document.documentElement.scrollWidth,
        cut: cut.map((element) => element.textContent),
        viewWidth: view.width,
        viewHeight: view.height,
        panelBelow: panel.top >= view.bottom - 1,
      };
    });
    expect(seen.pageWidth).toBeLessThanOrEqual(width);
    expect(seen.cut).toEqual([]);
    expect(seen.viewWidth).toBeGreaterThan(0.95 * width);
    expect(seen.viewHeight).toBeGreaterThanOrEqual(200);
    expect(seen.panelBelow).toBe(true);
    // The foot of the page can be scrolled to and used.
    await page
      .getByRole('contentinfo')
      .getByRole('button', { name: /^Loads/ })
      .click();
    await page.getByRole('heading', { name: 'Current and time', level: 2 }).waitFor();
    await closeCleanly();
  },
);
