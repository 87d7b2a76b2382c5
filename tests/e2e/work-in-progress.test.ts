import { afterAll, beforeAll, expect, test } from 'vitest';
import { writeBinaryStl } from '../../main/demo/write-binary-stl.ts';
import { wavyTorus } from '../bench/meshes.ts';
import { boxStl } from './box-stl.ts';
import { dropFile, goTo, planFigure, waitForPlan } from './page-steps.ts';
import { openBench, type TestBench } from './open-window.ts';

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

test('work that was never saved survives a closed tab', async () => {
  const { page, context, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await dropFile(page, 'block.stl', boxStl(60, 40, 10));
  await page.getByRole('button', { name: 'Yes, this mm' }).click();
  await goTo(page, 'Current and time');
  await page.getByLabel('Film thickness').fill('0.5 mil');
  await page.keyboard.press('Tab');
  // 720 A·min/ft² a mil at the metric 1.3 A/dm², and half of the 5 min ramp on top.
  const minutes = (720 * 0.5) / (130 * 0.3048 ** 2) + 2.5;
  await expect.poll(() => planFigure(page, '^Power on')).toBeCloseTo(minutes, 2);
  await page.waitForTimeout(1200); // longer than the draft keeper waits
  await page.close({ runBeforeUnload: false });
  const again = await context.newPage();
  await again.goto(bench.address);
  await waitForPlan(again);
  await again.getByText('its latest changes are in no file yet').waitFor();
  expect(await planFigure(again, '^Power on')).toBeCloseTo(minutes, 2);
  await closeCleanly();
});

test('a reload right after saving shows what was saved, and says nothing of unsaved work', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await dropFile(page, 'bracket.stl', boxStl(30, 30, 30));
  const name = page.getByRole('textbox', { name: 'Job name' });
  await expect.poll(() => name.inputValue(), { timeout: 20_000 }).toBe('bracket');
  await name.fill('bracket, left');
  await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
  await page.getByText('saved as').waitFor();
  await page.waitForTimeout(200); // a small write; without one of its own for the save it would come after 600 ms
  await page.reload();
  await waitForPlan(page);
  expect(await name.inputValue()).toBe('bracket, left');
  expect(await page.getByText('its latest changes are in no file yet').count()).toBe(0);
  await closeCleanly();
});

test('a model of many megabytes survives a closed tab whole', async () => {
  const { page, context, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  // 11 MB: more than is stored in one piece.
  const corners = wavyTorus(220_000);
  const order = Uint32Array.from({ length: corners.length / 3 }, (_, i) => i);
  const file = Buffer.from(writeBinaryStl(corners, order, 'torus'));
  await dropFile(page, 'many.stl', file);
  await expect.poll(() => page.getByLabel('Job name').inputValue(), { timeout: 20_000 }).toBe('many');
  const before = await planFigure(page, '^Area taking current');
  await page.waitForTimeout(2500); // longer than the draft keeper waits and writes
  await page.close({ runBeforeUnload: false });
  const again = await context.newPage();
  await again.goto(bench.address);
  await again.getByText('its latest changes are in no file yet').waitFor();
  expect(await again.getByLabel('Job name').inputValue()).toBe('many');
  expect(await planFigure(again, '^Area taking current')).toBe(before);
  await closeCleanly();
});

test('a browser that keeps nothing says so once, and the job can still be done', async () => {
  const { page, context, closeCleanly } = await bench.openWindow();
  await context.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException('The operation is insecure.', 'SecurityError');
    };
  });
  await page.reload();
  await waitForPlan(page);
  await dropFile(page, 'one.stl', boxStl(30, 30, 30));
  await expect.poll(() => page.getByLabel('Job name').inputValue()).toBe('one');
  expect(await page.getByText(/work in progress/i).count()).toBe(1);
  await closeCleanly();
});

test('a machine without a language setting gets the page all the same', async () => {
  const { page, context, closeCleanly } = await bench.openWindow();
  // What Chromium says under LC_ALL=C; Intl throws a RangeError for it.
  await context.addInitScript(() =>
    Object.defineProperty(Navigator.prototype, 'language', { get: () => 'en-US@posix' }),
  );
  await page.reload();
  await waitForPlan(page);
  await closeCleanly();
});

test('two windows keep their own work', async () => {
  const { page, context, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await dropFile(page, 'one.stl', boxStl(30, 30, 30));
  await expect.poll(() => page.getByLabel('Job name').inputValue()).toBe('one');
  await page.waitForTimeout(1200);
  const second = await context.newPage();
  await second.goto(bench.address);
  await waitForPlan(second);
  expect(await second.getByLabel('Job name').inputValue()).toBe('Demo: dovetail plate');
  await dropFile(second, 'two.stl', boxStl(40, 30, 30));
  await expect.poll(() => second.getByLabel('Job name').inputValue()).toBe('two');
  await second.waitForTimeout(1200);
  second.on('dialog', (dialog) => void dialog.accept());
  await Promise.all([page.reload(), second.reload()]);
  await Promise.all([waitForPlan(page), waitForPlan(second)]);
  expect(await page.getByLabel('Job name').inputValue()).toBe('one');
  expect(await second.getByLabel('Job name').inputValue()).toBe('two');
  await closeCleanly();
});
