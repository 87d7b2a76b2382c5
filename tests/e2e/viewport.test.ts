/**
 * The 3D view and the worker in a real browser, under the page's own content policy. What is measured on the picture
 * is compared with the demo parts' drawing (assets/README.md) and with plain geometry.
 */
import { readFileSync, rmSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { TRIANGLE_STYLE } from '../../renderer/viewport/triangle-style.ts';
import type { StandardView, ViewportPin } from '../../renderer/viewport/viewport-props.ts';
import { DOVETAIL_PLATE } from '../../main/demo/dovetail-plate.ts';
import { Grants } from '../../main/files/grants.ts';
import { servePage, type PageServer } from '../../main/serve-page.ts';
import { axeFindings } from './axe-findings.ts';
import { buildHarness } from './harness/build-harness.ts';
import type {} from './harness/harness.tsx';
import { launchBrowser, watchForErrors } from './launch-browser.ts';

const PLATE = '/demo/dovetail-plate.stl';
const KNOB = '/demo/focuser-knob.stl';
/** Grey of the masked face and of its hatch on paper, from PRINT_THEME. */
const PAPER = 0xfb;
const INK = 0x3a;

let folder: string;
let server: PageServer;
let browser: Browser;
let page: Page;
let complainIfAny: () => void;

beforeAll(async () => {
  folder = await buildHarness();
  const served = await servePage({ folder, grants: new Grants() }, [], 0);
  if (!served.ok) throw new Error(served.error.message);
  server = served.value;
  browser = await launchBrowser();
}, 120_000);

afterAll(async () => {
  await browser?.close();
  await server?.close();
  if (folder) rmSync(folder, { recursive: true, force: true });
});

beforeEach(async () => {
  page = await browser.newPage({ viewport: { width: 900, height: 640 } });
  complainIfAny = watchForErrors(page);
  await page.addInitScript(countWebGl);
});

afterEach(async () => {
  await page.close();
  complainIfAny();
});

/** Counts, inside the page, what WebGL holds and how often it draws. */
function countWebGl(): void {
  const counts = { buffers: 0, textures: 0, draws: 0 };
  (window as unknown as { webGlCounts: typeof counts }).webGlCounts = counts;
  const proto = WebGL2RenderingContext.prototype;
  const wrap = (name: string, key: keyof typeof counts, by: number): void => {
    const methods = proto as unknown as Record<string, (...values: unknown[]) => unknown>;
    const original = methods[name]!;
    methods[name] = function (this: WebGL2RenderingContext, ...values: unknown[]) {
      if (by > 0 || values[0]) counts[key] += by;
      return original.apply(this, values);
    };
  };
  wrap('createBuffer', 'buffers', 1);
  wrap('deleteBuffer', 'buffers', -1);
  wrap('createTexture', 'textures', 1);
  wrap('deleteTexture', 'textures', -1);
  wrap('drawArrays', 'draws', 1);
  wrap('drawElements', 'draws', 1);
  wrap('drawElementsInstanced', 'draws', 1);
}

async function open(url: string = PLATE, query = ''): Promise<void> {
  await page.goto(`${server.address}${query}`);
  await page.waitForSelector('body[data-ready]');
  expect(await page.evaluate((file) => window.harness.open(file), url)).toBeNull();
  await settle();
}

/** Two frames, so that what was asked for is on the screen. */
async function settle(): Promise<void> {
  await page.evaluate(
    () => new Promise<void>((done) => requestAnimationFrame(() => requestAnimationFrame(() => done()))),
  );
}

async function look(view: StandardView): Promise<void> {
  await page.evaluate((name) => window.harness.handle().look(name), view);
  await settle();
}

interface Picture {
  readonly width: number;
  readonly height: number;
  /** RGBA. */
  readonly data: Buffer;
}

/** The view as for paper, decoded by the browser and brought over as base64, which is far quicker than numbers. */
async function snapshot(view: StandardView, widthPx = 900, heightPx = 560): Promise<Picture> {
  const { width, height, base64 } = await page.evaluate(
    async ({ view, widthPx, heightPx }) => {
      const url = window.harness.handle().snapshot({ widthPx, heightPx, background: '#ffffff', view });
      const image = new Image();
      image.src = url!;
      await image.decode();
      const canvas = document.createElement('canvas');
      canvas.width = image.width;
      canvas.height = image.height;
      const context = canvas.getContext('2d')!;
      context.drawImage(image, 0, 0);
      const { width, height, data } = context.getImageData(0, 0, image.width, image.height);
      const reader = new FileReader();
      const read = new Promise((done) => reader.addEventListener('load', done));
      reader.readAsDataURL(new Blob([data]));
      await read;
      return { width, height, base64: (reader.result as string).split(',')[1]! };
    },
    { view, widthPx, heightPx },
  );
  return { width, height, data: Buffer.from(base64, 'base64') };
}

function isPart({ width, data }: Picture, x: number, y: number): boolean {
  const at = (y * width + x) * 4;
  return data[at]! < 250 || data[at + 1]! < 250 || data[at + 2]! < 250;
}

/** Size of what differs from the white background. */
function silhouette(picture: Picture): { widthPx: number; heightPx: number; left: number; top: number } {
  let left = Infinity;
  let right = -1;
  let top = Infinity;
  let bottom = -1;
  for (let y = 0; y < picture.height; y++) {
    for (let x = 0; x < picture.width; x++) {
      if (!isPart(picture, x, y)) continue;
      left = Math.min(left, x);
      right = Math.max(right, x);
      top = Math.min(top, y);
      bottom = Math.max(bottom, y);
    }
  }
  return { widthPx: right - left + 1, heightPx: bottom - top + 1, left, top };
}

async function pinOn(point: [number, number, number], patchRadius: number): Promise<ViewportPin> {
  return page.evaluate(
    ({ point, patchRadius }) => {
      const { positions, triangleCount } = window.harness.part!.geometry;
      // The flat triangle under the point, found by going through all of them.
      for (let t = 0; t < triangleCount; t++) {
        const p = positions.subarray(t * 9, t * 9 + 9);
        if ([2, 5, 8].some((k) => Math.abs(p[k]! - point[2]) > 1e-4)) continue;
        const side = (a: number, b: number): number =>
          (p[b]! - p[a]!) * (point[1] - p[a + 1]!) - (p[b + 1]! - p[a + 1]!) * (point[0] - p[a]!);
        const sides = [side(0, 3), side(3, 6), side(6, 0)];
        if (sides.every((s) => s >= 0) || sides.every((s) => s <= 0)) {
          return { id: 'pin', number: 7, at: point, triangle: t, patchRadius, level: 'ok', selected: false };
        }
      }
      throw new Error('no triangle there');
    },
    { point, patchRadius },
  ) as Promise<ViewportPin>;
}

describe('reading in the worker', () => {
  it('tells how far it is, never backwards, and gives the part over whole', async () => {
    await open();
    const { fractions, phases, triangles, bytes } = await page.evaluate(() => ({
      fractions: window.harness.progress.map((step) => step.fraction),
      phases: window.harness.progress.map((step) => step.phase),
      triangles: window.harness.part!.geometry.triangleCount,
      bytes: window.harness.part!.bytes.byteLength,
    }));
    const file = readFileSync(new URL('../../assets/demo/dovetail-plate.stl', import.meta.url));
    expect(bytes).toBe(file.byteLength);
    // The triangle count is in the file's own header.
    expect(triangles).toBe(file.readUInt32LE(80));
    expect(phases[0]).toBe('reading');
    expect(phases).toContain('finding faces');
    const known = fractions.filter((fraction) => fraction !== null);
    expect(known).toEqual([...known].sort((a, b) => a - b));
  });

  it('says in plain words what is wrong with a file', async () => {
    await page.goto(server.address);
    await page.waitForSelector('body[data-ready]');
    const failure = await page.evaluate(() => window.harness.open('/harness-has-no-such-file.stl'));
    expect(failure).toMatchObject({ code: 'file-unreadable' });
    expect(failure!.message).toContain('harness-has-no-such-file.stl');
    // The refused request itself is what the browser complains about.
    complainIfAny = () => {};
  });

  it('stops at once in the middle of parsing, and the next job runs', async () => {
    await open();
    const stopped = await page.evaluate(async () => {
      const facet =
        'facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\n';
      const lines = ['solid big\n', ...new Array<string>(400_000).fill(facet), 'endsolid big\n'];
      const blob = new Blob(lines);
      const stop = new AbortController();
      let parsing = false;
      const started = window.harness.worker.run(
        'readModel',
        { name: 'big.stl', content: { via: 'blob', blob }, splitAngleRad: 0.5 },
        {
          signal: stop.signal,
          onProgress: ({ phase }) => {
            parsing ||= phase !== 'reading';
          },
        },
      );
      while (!parsing) await new Promise((next) => setTimeout(next, 5));
      const before = performance.now();
      stop.abort();
      const result = await started;
      return { code: result.ok ? 'read' : result.error.code, ms: performance.now() - before };
    });
    expect(stopped.code).toBe('cancelled');
    // Parsing alone takes seconds; ending the worker does not wait for it.
    expect(stopped.ms).toBeLessThan(500);
    expect(await page.evaluate((file) => window.harness.open(file), KNOB)).toBeNull();
  });
});

describe('picking', () => {
  it('finds the place under the pointer, to the scale the bar shows', async () => {
    await open();
    await look('top');
    const box = (await page.locator('.viewport canvas').boundingBox())!;
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.click(x - 60, y - 30);
    await page.mouse.click(x + 60, y + 30);
    const picks = await page.evaluate(() => window.harness.picks);
    expect(picks).toHaveLength(2);
    const [a, b] = picks;
    // Seen from above, the plate shows its top.
    for (const pick of picks) {
      expect(pick.point[2]).toBeCloseTo(DOVETAIL_PLATE.height, 4);
      expect(pick.normal[2]).toBeCloseTo(1, 6);
    }
    const bar = await page.evaluate(() => ({
      px: document.querySelector('.view-scale-bar')!.getBoundingClientRect().width,
      text: document.querySelector('.view-scale-text')!.textContent,
    }));
    const mmPerPx = Number.parseFloat(bar.text!) / bar.px;
    expect(bar.text).toMatch(/ mm$/);
    // The bar is drawn to a tenth of a pixel of about a hundred.
    expect(b!.point[0] - a!.point[0]).toBeCloseTo(120 * mmPerPx, 0);
    expect(b!.point[1] - a!.point[1]).toBeCloseTo(-60 * mmPerPx, 0);
  });

  it('tells replace, add and subtract apart, and a click beside the part', async () => {
    await open();
    await look('top');
    const box = (await page.locator('.viewport canvas').boundingBox())!;
    const [x, y] = [box.x + box.width / 2 - 30, box.y + box.height / 2];
    await page.mouse.click(x, y);
    for (const key of ['Shift', 'Control', 'Alt']) {
      await page.keyboard.down(key);
      await page.mouse.click(x, y);
      await page.keyboard.up(key);
    }
    await page.mouse.click(box.x + 200, box.y + 20);
    const seen = await page.evaluate(() => ({
      intents: window.harness.picks.map((pick) => pick.intent),
      misses: window.harness.misses,
    }));
    expect(seen).toEqual({ intents: ['replace', 'add', 'subtract', 'subtract'], misses: 1 });
  });

  it('never takes an orbit for a click', async () => {
    await open();
    const box = (await page.locator('.viewport canvas').boundingBox())!;
    const before = await page.evaluate(() => document.querySelector('.view-axes')!.innerHTML);
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 + 80, box.y + box.height / 2 + 30, { steps: 5 });
    await page.mouse.up();
    await settle();
    expect(await page.evaluate(() => window.harness.picks.length + window.harness.misses)).toBe(0);
    expect(await page.evaluate(() => document.querySelector('.view-axes')!.innerHTML)).not.toBe(before);
  });

  it('answers a click made before the index is there, as soon as it is', async () => {
    await page.goto(server.address);
    await page.waitForSelector('body[data-ready]');
    await page.evaluate((file) => window.harness.open(file, false), PLATE);
    await settle();
    await look('top');
    await page.waitForSelector('.viewport-hint');
    const box = (await page.locator('.viewport canvas').boundingBox())!;
    await page.mouse.click(box.x + box.width / 2 - 30, box.y + box.height / 2);
    expect(await page.evaluate(() => window.harness.picks.length)).toBe(0);
    await page.evaluate(() => window.harness.buildIndex());
    await settle();
    expect(await page.evaluate(() => window.harness.picks.map((pick) => pick.normal[2]))).toEqual([1]);
    expect(await page.locator('.viewport-hint').count()).toBe(0);
  });

  it('tells what is hovered, and that nothing is any more', async () => {
    await open();
    await look('top');
    const box = (await page.locator('.viewport canvas').boundingBox())!;
    await page.mouse.move(box.x + box.width / 2 - 30, box.y + box.height / 2);
    await settle();
    await page.mouse.move(box.x + 200, box.y + 20);
    await settle();
    const hovers = await page.evaluate(() => window.harness.hovers);
    expect(hovers[0]).toBeGreaterThanOrEqual(0);
    expect(hovers.at(-1)).toBeNull();
  });
});

describe('the picture', () => {
  const { length, width, height } = DOVETAIL_PLATE;

  it('seen from every side is as wide and high as drawn', async () => {
    await open();
    const sides = { front: height, back: height, top: width, bottom: width, left: height, right: height };
    for (const [view, upward] of Object.entries(sides)) {
      const { widthPx, heightPx } = silhouette(await snapshot(view as StandardView));
      const across = view === 'left' || view === 'right' ? width : length;
      // Lines stand half their width over the border, about a pixel on each side.
      expect(Math.abs(heightPx - (widthPx * upward) / across), view).toBeLessThan(3);
    }
  });

  it('has up in the bath up on the screen', async () => {
    await open();
    await page.evaluate(() => window.harness.show({ upDirection: [1, 0, 0] }));
    await settle();
    const { widthPx, heightPx } = silhouette(await snapshot('front'));
    expect(heightPx).toBeGreaterThan(widthPx * 2);
  });

  it('hatches a masked face with stripes of a quarter of their pitch', async () => {
    await open();
    const plain = await snapshot('top');
    await page.evaluate((mask) => {
      const { faces } = window.harness.part!.geometry;
      const rows = [...faces.area.keys()];
      window.harness.style(rows, mask);
    }, TRIANGLE_STYLE.mask);
    await settle();
    const masked = await snapshot('top');
    const box = silhouette(plain);
    const field: number[] = [];
    // Of the flat top between the slots, clear of edges.
    for (let y = box.top + box.heightPx * 0.42; y < box.top + box.heightPx * 0.58; y++) {
      for (let x = box.left + box.widthPx * 0.47; x < box.left + box.widthPx * 0.53; x++) {
        field.push(masked.data[(Math.round(y) * masked.width + Math.round(x)) * 4]!);
      }
    }
    // One light falls on paper and ink alike: the brightest pixel is paper.
    const paper = Math.max(...field);
    const ink = paper * (INK / PAPER);
    const dark = field.reduce((sum, grey) => sum + (paper - grey) / (paper - ink), 0);
    // The stripes are 24 % of their pitch. The field is some six of them wide and cuts one anywhere on two sides.
    expect(Math.abs(dark / field.length - 0.24)).toBeLessThan(0.04);
  });

  it('draws the contact patch at its true radius', async () => {
    await open();
    const radius = 8;
    const point: [number, number, number] = [20, 4, height];
    const bare = await snapshot('top', 1800, 1120);
    await page.evaluate(async (pins) => window.harness.show({ pins }), [await pinOn(point, radius)]);
    await settle();
    const pinned = await snapshot('top', 1800, 1120);
    const box = silhouette(bare);
    const pxPerMm = box.widthPx / length;
    const row = Math.round(box.top + box.heightPx / 2 - point[1] * pxPerMm);
    const changed: number[] = [];
    for (let x = 0; x < bare.width; x++) {
      const at = (row * bare.width + x) * 4;
      if (Math.abs(bare.data[at]! - pinned.data[at]!) > 12) changed.push(x);
    }
    const spanMm = (changed.at(-1)! - changed[0]! + 1) / pxPerMm;
    // The ring is drawn on both sides of the true radius, 1.2 layout px of 2 px each.
    expect(Math.abs(spanMm - 2 * radius) * pxPerMm).toBeLessThan(9);
    const middle = (changed.at(-1)! + changed[0]!) / 2;
    expect(Math.abs(middle - (box.left + box.widthPx / 2 + point[0] * pxPerMm))).toBeLessThan(4);
  });

  it('draws only when something changed', async () => {
    await open();
    const draws = (): Promise<number> =>
      page.evaluate(() => (window as unknown as { webGlCounts: { draws: number } }).webGlCounts.draws);
    await page.waitForTimeout(300);
    const before = await draws();
    await page.waitForTimeout(600);
    expect(await draws()).toBe(before);
    await page.evaluate((selected) => window.harness.style([0], selected), TRIANGLE_STYLE.selected);
    await settle();
    expect(await draws()).toBeGreaterThan(before);
  });
});

describe('pins', () => {
  it('are picked by a click and moved along the surface by a drag', async () => {
    await open();
    const pin = await pinOn([20, 4, DOVETAIL_PLATE.height], 3);
    await page.evaluate((pins) => window.harness.show({ pins }), [pin]);
    await look('top');
    const badge = (await page.locator('.pin-shape').boundingBox())!;
    const at = { x: badge.x + badge.width / 2, y: badge.y + badge.height / 2 };
    await page.mouse.click(at.x, at.y);
    expect(await page.evaluate(() => window.harness.pinPicks)).toEqual(['pin']);
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(at.x - 150, at.y, { steps: 6 });
    await page.mouse.up();
    const bar = await page.evaluate(() => ({
      px: document.querySelector('.view-scale-bar')!.getBoundingClientRect().width,
      mm: Number.parseFloat(document.querySelector('.view-scale-text')!.textContent!),
    }));
    const moves = await page.evaluate(() => window.harness.pinMoves);
    expect(moves).toHaveLength(1);
    expect(moves[0]!.to.point[0]).toBeCloseTo(20 - (150 * bar.mm) / bar.px, 0);
    expect(moves[0]!.to.point[1]).toBeCloseTo(4, 0);
    expect(moves[0]!.to.point[2]).toBeCloseTo(DOVETAIL_PLATE.height, 4);
    expect(await page.evaluate(() => window.harness.picks)).toEqual([]);
  });

  it('show when they are on the far side', async () => {
    await open();
    const pin = await pinOn([20, 4, DOVETAIL_PLATE.height], 3);
    await page.evaluate((pins) => window.harness.show({ pins }), [pin]);
    await look('top');
    expect(await page.locator('.pin').getAttribute('data-hidden')).toBe('false');
    await look('bottom');
    expect(await page.locator('.pin').getAttribute('data-hidden')).toBe('true');
    expect(await page.locator('.pin text').textContent()).toBe('7');
  });
});

describe('zoom', () => {
  it('keeps the place under the pointer, near the rim and with a trackpad’s pinch', async () => {
    await open();
    await look('top');
    const box = (await page.locator('.viewport canvas').boundingBox())!;
    const [x, y] = [box.x + box.width / 2 + 230, box.y + box.height / 2 + 20];
    const barPx = (): Promise<number> =>
      page.evaluate(() => {
        const length = Number.parseFloat(document.querySelector('.view-scale-text')!.textContent!);
        return document.querySelector('.view-scale-bar')!.getBoundingClientRect().width / length;
      });
    const before = await barPx();
    await page.mouse.click(x, y);
    await page.mouse.wheel(0, -400);
    await settle();
    const nearer = await barPx();
    expect(nearer).toBeGreaterThan(before * 1.3);
    await page.mouse.click(x, y);
    await page.keyboard.down('Control');
    await page.mouse.wheel(0, 30);
    await page.keyboard.up('Control');
    await settle();
    expect(await barPx()).toBeLessThan(nearer);
    await page.mouse.click(x, y);
    const [a, b, c] = await page.evaluate(() => window.harness.picks.map((pick) => pick.point));
    // A pointer stands on whole pixels, about 0.25 mm each: half of one either way.
    for (const other of [b!, c!]) {
      for (const axis of [0, 1, 2]) expect(Math.abs(other[axis]! - a![axis]!)).toBeLessThan(0.125);
    }
  });
});

describe('fingers', () => {
  it('select with a tap and turn with a swipe', async () => {
    const context = await browser.newContext({ viewport: { width: 900, height: 640 }, hasTouch: true });
    const touched = await context.newPage();
    const complain = watchForErrors(touched);
    const mousePage = page;
    page = touched;
    try {
      await open();
      await look('top');
      const box = (await page.locator('.viewport canvas').boundingBox())!;
      const [x, y] = [box.x + box.width / 2 - 30, box.y + box.height / 2];
      await page.touchscreen.tap(x, y);
      expect(await page.evaluate(() => window.harness.picks.map((pick) => pick.intent))).toEqual(['replace']);
      const axes = (): Promise<string> =>
        page.evaluate(() => document.querySelector('.view-axes')!.innerHTML);
      const before = await axes();
      const cdp = await context.newCDPSession(page);
      await cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x, y }] });
      for (const step of [20, 50, 90]) {
        await cdp.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [{ x: x + step, y }] });
      }
      await cdp.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
      await settle();
      expect(await axes()).not.toBe(before);
      expect(await page.evaluate(() => window.harness.picks.length)).toBe(1);
      complain();
    } finally {
      page = mousePage;
      await context.close();
    }
  });
});

describe('keys', () => {
  it('turn, move, zoom, fit and choose views', async () => {
    await open();
    await page.locator('.viewport').focus();
    const state = (): Promise<string> =>
      page.evaluate(
        () =>
          document.querySelector('.view-axes')!.innerHTML + document.querySelector('.view-scale')!.innerHTML,
      );
    const press = async (key: string): Promise<string> => {
      await page.keyboard.press(key);
      await settle();
      return state();
    };
    const front = await press('1');
    expect(await press('ArrowLeft')).not.toBe(front);
    const right = await press('4');
    expect(right).not.toBe(front);
    const nearer = await press('+');
    expect(nearer).not.toBe(right);
    expect(await press('f')).toBe(right);
    expect(await press('1')).toBe(front);
  });
});

describe('graphics that come and go', () => {
  it('says so when the context is lost and draws again when it is back', async () => {
    await open();
    await page.evaluate(() => {
      const context = document.querySelector('canvas')!.getContext('webgl2')!;
      const loser = context.getExtension('WEBGL_lose_context')!;
      (window as unknown as { loser: typeof loser }).loser = loser;
      loser.loseContext();
    });
    await page.waitForSelector('.viewport-message');
    expect(
      await page.evaluate(() =>
        window.harness.handle().snapshot({ widthPx: 90, heightPx: 56, background: '#fff' }),
      ),
    ).toBeNull();
    await page.evaluate(() =>
      (window as unknown as { loser: { restoreContext(): void } }).loser.restoreContext(),
    );
    await page.waitForSelector('.viewport-message', { state: 'detached' });
    await settle();
    const { widthPx, heightPx } = silhouette(await snapshot('top'));
    expect(Math.abs(heightPx - (widthPx * DOVETAIL_PLATE.width) / DOVETAIL_PLATE.length)).toBeLessThan(3);
  });

  it('leaves a message and a working page where there is no WebGL', async () => {
    await page.addInitScript(() => {
      const original = HTMLCanvasElement.prototype.getContext;
      HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, ...values: unknown[]) {
        return values[0] === '2d' ? (original as (...v: unknown[]) => unknown).apply(this, values) : null;
      } as typeof original;
    });
    await open();
    expect(await page.locator('.viewport-message').textContent()).toContain('WebGL 2');
    // Axes without a part to point along would be nonsense.
    expect(await page.locator('.view-axes').count()).toBe(0);
    expect(await page.locator('.harness-legend svg').count()).toBeGreaterThan(0);
  });

  it('keeps a renderer that can’t be made from taking the page down', async () => {
    await page.addInitScript(() => {
      const original = HTMLCanvasElement.prototype.getContext;
      let asked = 0;
      HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, ...values: unknown[]) {
        // The question whether there is WebGL is answered yes; the context itself is refused.
        if (values[0] !== '2d' && asked++ > 0) return null;
        return (original as (...v: unknown[]) => unknown).apply(this, values);
      } as typeof original;
    });
    await open();
    expect(await page.locator('.viewport-message').textContent()).toContain('WebGL 2');
    // Axes without a part to point along would be nonsense.
    expect(await page.locator('.view-axes').count()).toBe(0);
    expect(await page.locator('.harness-legend svg').count()).toBeGreaterThan(0);
    // The library reports the refused context as an error, rightly.
    complainIfAny = () => {};
  });

  it('gives back what a part took from the graphics card when another comes', async () => {
    await open(KNOB);
    const held = (): Promise<{ buffers: number; textures: number }> =>
      page.evaluate(
        () => (window as unknown as { webGlCounts: { buffers: number; textures: number } }).webGlCounts,
      );
    const { buffers, textures } = await held();
    for (let i = 0; i < 3; i++) {
      for (const file of [PLATE, KNOB]) {
        await page.evaluate((url) => window.harness.open(url), file);
        await settle();
      }
    }
    const after = await held();
    expect(after.buffers).toBe(buffers);
    expect(after.textures).toBe(textures);
  });

  it('can be taken away and put back many times without running out of contexts', async () => {
    const warnings: string[] = [];
    page.on('console', (message) => {
      if (/too many active webgl/i.test(message.text())) warnings.push(message.text());
    });
    await open();
    for (let i = 0; i < 20; i++) {
      await page.evaluate((mounted) => window.harness.show({ mounted }), i % 2 === 1);
      await settle();
    }
    await page.waitForFunction(
      () => window.harness.handle()?.snapshot({ widthPx: 16, heightPx: 16, background: '#ffffff' }) != null,
    );
    expect(warnings).toEqual([]);
    const { widthPx } = silhouette(await snapshot('top'));
    expect(widthPx).toBeGreaterThan(300);
  });
});

it.each(['light', 'dark'])('has nothing serious for axe-core to find, %s', async (theme) => {
  await open(PLATE, `?theme=${theme}`);
  expect(await axeFindings(page)).toEqual([]);
});
