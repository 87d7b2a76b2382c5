import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Browser, CDPSession, Page } from 'playwright-core';
import { writeBinaryStl } from '../../main/demo/write-binary-stl.ts';
import { Grants } from '../../main/files/grants.ts';
import { servePage } from '../../main/serve-page.ts';
import { launchBrowser } from '../e2e/launch-browser.ts';
import { buildPage } from './build-page.ts';
import { dropFile } from './drop-file.ts';
import { printTimings, timingOf, type BenchSubject } from './harness.ts';
import { wavyTorus } from './meshes.ts';

const TRIANGLES = 100_000;
const COPIES = 4;
const ROUNDS = 5;
/** Steps of the pointer, one a frame: 1 mm or so each. */
const STEPS = 60;
const FRAME_MS = 1000 / 30;

/** Of the page's own thread, milliseconds a drag frame. */
interface Drag {
  readonly page: number;
  readonly layout: number;
  readonly longestTask: number;
}

/**
 * One of four copies of 100 k triangles dragged through the tank on the real page: what each frame takes of the page's
 * thread. Once as it is, and once with the draw calls left out: in a headless Chromium the processor draws, so that
 * "drawing" says little about a machine with a GPU. The distances are the worker's and follow behind.
 */
export const drag: BenchSubject = {
  name: 'drag',
  run: async () => {
    const folder = mkdtempSync(join(tmpdir(), 'tankside-bench-'));
    const file = join(folder, 'torus.stl');
    const positions = wavyTorus(TRIANGLES);
    const corners = Uint32Array.from({ length: positions.length / 3 }, (_, i) => i);
    writeFileSync(file, writeBinaryStl(positions, corners, 'torus'));
    buildPage();
    const served = await servePage({ folder: resolve('dist', 'renderer'), grants: new Grants() }, [], 0);
    if (!served.ok) throw new Error(served.error.message);
    const browser = await launchBrowser();
    const drags: Record<'undrawn' | 'drawn', Drag[]> = { undrawn: [], drawn: [] };
    try {
      for (const how of ['undrawn', 'drawn'] as const) {
        drags[how] = await dragRounds(browser, served.value.address, file, how === 'drawn');
      }
    } finally {
      await browser.close();
      await served.value.close();
      rmSync(folder, { recursive: true });
    }
    const { undrawn, drawn } = drags;
    const of = (name: string, all: readonly Drag[], key: keyof Drag) =>
      timingOf(
        name,
        all.map((one) => one[key]),
      );
    const page = of('page’s thread a frame, drawing left out', undrawn, 'page');
    const longest = of('longest task, drawing left out', undrawn, 'longestTask');
    printTimings(
      `one of ${COPIES} copies of ${TRIANGLES / 1000} k triangles dragged, ${ROUNDS} times ${STEPS} steps`,
      [
        page,
        of('of it style and layout', undrawn, 'layout'),
        longest,
        of('page’s thread a frame, drawing', drawn, 'page'),
        of('longest task, drawing', drawn, 'longestTask'),
      ],
    );
    return [
      { what: 'page’s thread a drag frame, drawing aside', value: page.median, limit: FRAME_MS, unit: ' ms' },
    ];
  },
};

async function dragRounds(
  browser: Browser,
  address: string,
  file: string,
  drawing: boolean,
): Promise<Drag[]> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  try {
    if (!drawing) await context.addInitScript(drawNothing);
    await context.addInitScript(watchTasks);
    const page = await context.newPage();
    await page.goto(address);
    await page.locator('.plan-figure:first-child .plan-value', { hasText: /\d/ }).waitFor();
    await page.waitForTimeout(1500); // the demo's own loading is over
    await dropFile(page, file);
    await page.getByRole('button', { name: /^Yes, this/ }).click();
    await page.getByRole('navigation').getByText('Tank').first().click();
    await page.getByRole('button', { name: 'Describe a box tank' }).click();
    const copies = page.getByLabel('Copies to hang');
    await copies.fill(String(COPIES));
    await copies.press('Enter');
    await page.getByRole('button', { name: new RegExp(`^Hang ${COPIES}`) }).click();
    await page.getByRole('button', { name: /^Copy 2,/ }).waitFor();
    await page.waitForTimeout(3000); // packing, picking and the first distances are over
    const session = await context.newCDPSession(page);
    await session.send('Performance.enable');
    const rounds: Drag[] = [];
    for (let round = -1; round < ROUNDS; round++) {
      const took = await dragOnce(page, session);
      if (round >= 0) rounds.push(took);
    }
    return rounds;
  } finally {
    await context.close();
  }
}

/** Takes hold of the second copy by its badge and moves it about; it ends where it began. */
async function dragOnce(page: Page, session: CDPSession): Promise<Drag> {
  const box = await page.locator('.tank-desk [data-pin="bar-1-2"] .pin-foot').boundingBox();
  if (!box) throw new Error('the second copy has no badge');
  const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.move(at.x + 8, at.y);
  const before = await metrics(session);
  await page.evaluate(() => void (window.benchTasks.length = 0));
  for (let step = 0; step < STEPS; step++) {
    await page.mouse.move(at.x + 8 + 30 * Math.sin(step / 8), at.y + 20 * Math.sin(step / 5));
    await page.evaluate(() => new Promise((done) => requestAnimationFrame(done)));
  }
  const after = await metrics(session);
  const tasks = await page.evaluate(() => [...window.benchTasks]);
  await page.mouse.move(at.x, at.y);
  await page.mouse.up();
  await page.waitForTimeout(1000);
  const a = (name: string): number => (1000 * (after[name]! - before[name]!)) / STEPS;
  return {
    page: a('TaskDuration'),
    layout: a('LayoutDuration') + a('RecalcStyleDuration'),
    longestTask: Math.max(0, ...tasks),
  };
}

async function metrics(session: CDPSession): Promise<Record<string, number>> {
  const { metrics: all } = await session.send('Performance.getMetrics');
  return Object.fromEntries(all.map(({ name, value }) => [name, value]));
}

declare global {
  interface Window {
    benchTasks: number[];
  }
}

/** Runs in the page before its own scripts. Tasks of 50 ms and longer. */
function watchTasks(): void {
  window.benchTasks = [];
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) window.benchTasks.push(duration);
  }).observe({ type: 'longtask' });
}

/** Runs in the page before its own scripts. */
function drawNothing(): void {
  WebGL2RenderingContext.prototype.drawArrays = () => {};
  WebGL2RenderingContext.prototype.drawElements = () => {};
}
