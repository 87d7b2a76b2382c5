/** A STEP file in the real page, under its real content policy: dropped, read by the kernel in the worker, planned. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { TopoDS_Shape } from 'replicad-opencascadejs';
import { unpackJob } from '../../core/job/container.ts';
import { box, cut, moved, startDrawing, writeStep } from '../fixtures/write-step.ts';
import { openBench, ROOT, type TestBench } from './open-window.ts';

let bench: TestBench;
let kernel: Awaited<ReturnType<typeof startDrawing>>;
beforeAll(async () => {
  [bench, kernel] = await Promise.all([openBench(), startDrawing()]);
});
afterAll(() => bench.close());

const require = createRequire(import.meta.url);
const SAMPLES = join(dirname(require.resolve('occt-import-js')), '..', 'test', 'testfiles');

async function drop(page: Page, name: string, bytes: Buffer): Promise<void> {
  const transfer = await page.evaluateHandle(
    ({ base64, fileName }) => {
      const data = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      const carried = new DataTransfer();
      carried.items.add(new File([data], fileName));
      return carried;
    },
    { base64: bytes.toString('base64'), fileName: name },
  );
  await page.dispatchEvent('.app', 'drop', { dataTransfer: transfer });
}

/** A square tube 21 outside, 19 inside and 30 high between two plates 40 × 40 × 2. */
function spool(d: typeof kernel): TopoDS_Shape[] {
  const tube = cut(d, box(d, 21, 21, 30), moved(d, box(d, 19, 19, 32), 1, 1, -1));
  return [box(d, 40, 40, 2), moved(d, tube, 9.5, 9.5, 2), moved(d, box(d, 40, 40, 2), 0, 0, 32)];
}

async function coatedCm2(page: Page): Promise<number> {
  const button = page.getByRole('contentinfo').getByRole('button', { name: /^Area taking current/ });
  return Number.parseFloat((await button.locator('.plan-value').textContent()) ?? '');
}

test('a STEP file needs no unit, has exact areas and its own faces, and is saved whole', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await expect.poll(() => coatedCm2(page), { timeout: 20_000 }).toBeGreaterThan(0);
  const kernels: string[] = [];
  page.on('request', (request) => {
    if (/\.wasm|replicad/.test(request.url())) kernels.push(new URL(request.url()).origin);
  });

  // A model of triangles never fetches the kernel.
  await drop(page, 'knob.stl', readFileSync(join(ROOT, 'assets', 'demo', 'focuser-knob.stl')));
  await expect.poll(() => page.getByLabel('Job name').inputValue(), { timeout: 20_000 }).toBe('knob');
  expect(kernels).toEqual([]);
  await page.getByRole('button', { name: 'Remove this part from the job' }).click();

  const bytes = readFileSync(join(SAMPLES, 'rounded-cube', 'rounded-cube.step'));
  await drop(page, 'rounded.step', bytes);
  // 567.80972 mm² by OpenCascade; the bar shows three digits or more.
  await expect.poll(() => coatedCm2(page), { timeout: 60_000 }).toBeCloseTo(5.678, 2);
  expect(kernels.length).toBeGreaterThan(0);
  expect(new Set(kernels)).toEqual(new Set([new URL(bench.address).origin]));
  await page.getByText('✓ confirmed').waitFor();
  expect(await page.getByText('is a guess from the size').count()).toBe(0);

  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Faces/ })
    .click();
  await page.getByText('The faces and their areas are the CAD program’s own').waitFor();
  const faces = page.getByRole('grid', { name: 'Faces' });
  expect(await faces.getByRole('row', { name: /^f\d+ / }).count()).toBe(7);

  const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
  const saved = unpackJob(new Uint8Array(readFileSync(await download.path())));
  if (!saved.ok) throw new Error(saved.error.message);
  const [part] = saved.value.job.parts;
  expect(part).toMatchObject({ unit: 'mm', unitConfirmed: true });
  expect([...saved.value.models.values()].map((model) => Buffer.from(model))).toEqual([bytes]);

  // A tube of 12 cm³ inside between two plates: fused, its inside is a hollow that no acid reaches and that lifts.
  await page.getByRole('button', { name: /^Part/ }).click();
  await page.getByRole('button', { name: 'Remove this part from the job' }).click();
  await drop(page, 'spool.step', Buffer.from(writeStep(kernel, spool(kernel))));
  const apart = 4 * (40 * 40 + 2 * 40 * 2) + 84 * 30 + 76 * 30 + 2 * (21 ** 2 - 19 ** 2);
  await expect.poll(() => coatedCm2(page), { timeout: 20_000 }).toBeCloseTo(apart / 100, 1);
  await page.getByRole('button', { name: 'Fuse the bodies…' }).first().click();
  await page.getByRole('button', { name: 'Do it' }).click();
  const wetted = 4 * (40 * 40 + 2 * 40 * 2) - 2 * 21 ** 2 + 84 * 30;
  await expect.poll(() => coatedCm2(page), { timeout: 20_000 }).toBeCloseTo(wetted / 100, 1);
  await page.getByText('One void has no way out.').waitFor();
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Hanging/ })
    .click();
  // Archimedes: 10.83 mL of hollow against 8.8 mL of metal, 1.11 against 2.70 − 1.11: 86 %.
  await page.getByText(/What is shut in the hollows of “spool” takes 86 % of its weight/).waitFor();
  await closeCleanly();
});

test('a truncated STEP file says so; a long one can be stopped while the kernel works', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await expect.poll(() => coatedCm2(page), { timeout: 20_000 }).toBeGreaterThan(0);
  const bytes = readFileSync(join(SAMPLES, 'cax-if', 'as1-oc-214.stp'));
  await drop(page, 'cut.stp', bytes.subarray(0, 200_000));
  await page
    .getByRole('alert')
    .filter({ hasText: 'cut.stp: The STEP file ends inside a statement' })
    .waitFor({ timeout: 60_000 });
  await drop(page, 'as1.stp', bytes);
  await page.getByRole('button', { name: /^(Stop|Cancel)/ }).click({ timeout: 30_000 });
  await expect.poll(() => page.getByText('as1.stp').count()).toBe(0);
  expect(await page.getByLabel('Job name').inputValue()).toBe('Demo: dovetail plate');
  await closeCleanly();
});
