import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Browser } from 'playwright-core';
import { writeBinaryStl } from '../../main/demo/write-binary-stl.ts';
import { Grants } from '../../main/files/grants.ts';
import { servePage } from '../../main/serve-page.ts';
import { launchBrowser } from '../e2e/launch-browser.ts';
import { buildPage } from './build-page.ts';
import { dropFile } from './drop-file.ts';
import { printTimings, timingOf, type BenchSubject, type Timing } from './harness.ts';
import { wavyTorus } from './meshes.ts';

const TRIANGLES = 1_000_000;
const ROUNDS = 5;
const PART = 'wavy-torus';
/** The draft is written and the pick index comes back after the first picture: their share of the page counts too. */
const AFTERWARDS_MS = 2000;

/** Milliseconds after the drop; tasks are the longest of the page's main thread. */
interface Load {
  readonly measured: number;
  readonly picture: number | null;
  readonly longestTask: number;
}

/**
 * A 1 M-triangle binary STL dropped on the real page in a real Chromium: how long until the plan and the first picture,
 * and how long the page is deaf meanwhile. Once as it is and once with WebGL refused, which leaves out drawing and the
 * upload to the GPU; in a headless Chromium that is the processor as well, so "as it is" says little about a machine
 * with a GPU.
 */
export const pageLoad: BenchSubject = {
  name: 'window',
  run: async () => {
    const folder = mkdtempSync(join(tmpdir(), 'tankside-bench-'));
    const file = join(folder, `${PART}.stl`);
    const corners = wavyTorus(TRIANGLES);
    writeFileSync(
      file,
      writeBinaryStl(
        corners,
        Uint32Array.from({ length: 3 * TRIANGLES }, (_, i) => i),
        PART,
      ),
    );
    buildPage();
    const served = await servePage({ folder: resolve('dist', 'renderer'), grants: new Grants() }, [], 0);
    if (!served.ok) throw new Error(served.error.message);
    const browser = await launchBrowser();
    const loads: Record<'drawn' | 'undrawn', Load[]> = { drawn: [], undrawn: [] };
    try {
      for (let round = -1; round < ROUNDS; round++) {
        for (const how of ['undrawn', 'drawn'] as const) {
          const load = await loadOnce(browser, served.value.address, file, how === 'drawn');
          if (round >= 0) loads[how].push(load);
        }
      }
    } finally {
      await browser.close();
      await served.value.close();
      rmSync(folder, { recursive: true });
    }
    const { drawn, undrawn } = loads;
    const longest = timingOf(
      'longest task, no WebGL',
      undrawn.map((load) => load.longestTask),
    );
    const timings: Timing[] = [
      timingOf(
        'measured, no WebGL',
        undrawn.map((load) => load.measured),
      ),
      longest,
      timingOf(
        'measured, drawing',
        drawn.map((load) => load.measured),
      ),
      timingOf(
        'first picture',
        drawn.map((load) => load.picture ?? NaN),
      ),
      timingOf(
        'longest task, drawing',
        drawn.map((load) => load.longestTask),
      ),
    ];
    printTimings(`dropping ${TRIANGLES} triangles on the page, ${ROUNDS} times`, timings);
    return [
      { what: 'longest main-thread task, GPU upload aside', value: longest.median, limit: 100, unit: ' ms' },
    ];
  },
};

async function loadOnce(browser: Browser, address: string, file: string, drawing: boolean): Promise<Load> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  try {
    if (!drawing) await context.addInitScript(refuseWebGl);
    await context.addInitScript(watchLoad, { part: PART, vertices: 3 * TRIANGLES });
    const page = await context.newPage();
    await page.goto(address);
    await page.locator('.plan-figure:first-child .plan-value', { hasText: /\d/ }).waitFor();
    await page.waitForTimeout(1500); // the demo's own loading is over
    await dropFile(page, file);
    await page.waitForFunction(
      (wanted) => window.benchLoad.measured !== null && (!wanted || window.benchLoad.picture !== null),
      drawing,
      { timeout: 60_000 },
    );
    await page.waitForTimeout(AFTERWARDS_MS);
    const { start, measured, picture, tasks } = await page.evaluate(() => window.benchLoad);
    if (start === null || measured === null) throw new Error('the page never saw the drop');
    return {
      measured: measured - start,
      picture: picture === null ? null : picture - start,
      longestTask: Math.max(0, ...tasks.filter(([from]) => from >= start).map(([, took]) => took)),
    };
  } finally {
    await context.close();
  }
}

interface WatchedLoad {
  start: number | null;
  measured: number | null;
  picture: number | null;
  readonly tasks: [from: number, took: number][];
}

declare global {
  interface Window {
    benchLoad: WatchedLoad;
  }
}

/** Runs in the page before its own scripts. */
function refuseWebGl(): void {
  const getContext = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, ...given: [string]) {
    return given[0].startsWith('webgl') ? null : getContext.apply(this, given);
  } as typeof getContext;
}

/**
 * Runs in the page before its own scripts. Measured is when the view names the part and the plan stands; the first
 * picture is when the GPU has finished the first draw call of the whole part.
 */
function watchLoad({ part, vertices }: { part: string; vertices: number }): void {
  const load: WatchedLoad = { start: null, measured: null, picture: null, tasks: [] };
  window.benchLoad = load;
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) load.tasks.push([startTime, duration]);
  }).observe({ type: 'longtask' });
  const look = (): void => {
    const label = document.querySelector('.viewport')?.getAttribute('aria-label') ?? '';
    const plan = document.querySelector('.plan-value')?.textContent ?? '';
    if (label.startsWith(part) && /\d/.test(plan)) load.measured = performance.now();
    else requestAnimationFrame(look);
  };
  window.addEventListener(
    'drop',
    () => {
      load.start = performance.now();
      look();
    },
    { capture: true },
  );
  const draw = WebGL2RenderingContext.prototype.drawArrays;
  WebGL2RenderingContext.prototype.drawArrays = function (mode, first, count) {
    draw.call(this, mode, first, count);
    if (count !== vertices || load.picture !== null) return;
    const fence = this.fenceSync(this.SYNC_GPU_COMMANDS_COMPLETE, 0);
    this.flush();
    const done = (): void => {
      if (fence && this.getSyncParameter(fence, this.SYNC_STATUS) === this.SIGNALED) {
        load.picture ??= performance.now();
      } else setTimeout(done, 1);
    };
    setTimeout(done, 1);
  };
}
