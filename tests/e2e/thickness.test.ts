import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { writeBinaryStl } from '../../main/demo/write-binary-stl.ts';
import { axeFindings } from './axe-findings.ts';
import { openBench, type TestBench, type WindowOptions } from './open-window.ts';
import { dropFile, goTo, openSection, panelFigure, planFigure, type, waitForPlan } from './page-steps.ts';

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

const panel = (page: Page): Locator => page.getByRole('complementary');
const scale = (page: Page): Locator => page.getByRole('group', { name: 'Scale of the map' });
const figures = (page: Page): Locator => page.getByRole('region', { name: 'Thickness', exact: true });
const pick = (page: Page, name: string): Promise<void> => panel(page).getByRole('radio', { name }).click();
const press = (page: Page, name: string | RegExp): Promise<void> =>
  panel(page)
    .getByRole('button', { name, exact: typeof name === 'string' })
    .click();

/** 60 × 40 × 20 mm, closed; faces f1 (bottom), f2 (top), f3 … f6 (sides). */
function blockStl(): Buffer {
  const [a, b, c] = [60, 40, 20];
  const corners = [0, 1, 2, 3, 4, 5, 6, 7].flatMap((i) => [i & 1 ? a : 0, i & 2 ? b : 0, i & 4 ? c : 0]);
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const triangles = quads.flatMap(([p, q, r, s]) => [p!, q!, r!, p!, r!, s!]);
  return Buffer.from(writeBinaryStl(new Float32Array(corners), new Uint32Array(triangles), 'block'));
}

/** A block at the thickness stage, in the usual tank, on the quickest grid. */
async function blockAtStage(options: WindowOptions = {}) {
  const { page, closeCleanly } = await bench.openWindow(options);
  await waitForPlan(page);
  await dropFile(page, 'block.stl', blockStl());
  await page.getByRole('button', { name: 'Yes, this mm' }).click();
  await goTo(page, 'Thickness map');
  await page.getByRole('region', { name: 'No tank yet' }).waitFor();
  await press(page, 'Take a usual tank around the part');
  await pick(page, 'Quick');
  return { page, closeCleanly };
}

async function workOut(page: Page): Promise<void> {
  await press(page, 'Work out the map');
  await figures(page).waitFor({ timeout: 60_000 });
}

test('no map without a tank that was chosen; then memory and time are said, and the map is shown', async () => {
  const { page, closeCleanly } = await blockAtStage();
  await panel(page)
    .getByText(/64\s000 cells: .* MB of memory, about/)
    .waitFor();
  await panel(page).getByText('No load hangs in the tank yet').waitFor();
  expect(await scale(page).count()).toBe(0);
  await workOut(page);
  await scale(page).getByText('Thickness, µm').waitFor();
  // The 25 µm of a metric job over everything are the mean; the block is alone and wholly coated.
  expect(await panelFigure(figures(page), 'Mean thickness')).toBeCloseTo(25, 1);
  const least = await panelFigure(figures(page), 'Least thickness');
  const most = await panelFigure(figures(page), 'Most thickness');
  expect(least).toBeLessThan(25);
  expect(most).toBeGreaterThan(25);

  // The pointer reads what the map says there: between least and most.
  const view = (await page.locator('.viewport canvas').boundingBox())!;
  await page.mouse.move(view.x + view.width / 2, view.y + view.height / 2);
  const cursor = page.getByLabel('Under the pointer');
  await expect.poll(() => cursor.textContent()).toMatch(/^f\d: [\d.]+ µm$/);
  const read = Number(/: ([\d.]+)/.exec((await cursor.textContent())!)![1]);
  expect(read).toBeGreaterThan(least - 0.05);
  expect(read).toBeLessThan(most + 0.05);

  // Another unit, everywhere.
  await page.getByRole('radio', { name: 'US', exact: true }).click();
  await scale(page).getByText('Thickness, mil').waitFor();
  expect(await panelFigure(figures(page), 'Mean thickness')).toBeCloseTo(25 / 25.4, 2);
  await page.getByRole('radio', { name: 'Metric', exact: true }).click();

  // The plan’s own stage and the sheet say it too.
  await goTo(page, 'Current and time');
  await page
    .getByRole('region', { name: 'By the thickness map' })
    .getByText(/thinnest place/)
    .waitFor();
  await goTo(page, 'Run sheet');
  await page
    .getByRole('article', { name: 'Run sheet' })
    .getByText(/by the thickness map: mean 25\.0 µm/)
    .waitFor();
  await closeCleanly();
});

test('after a reload the map is there again; of a job changed since, that it is not known is an open check', async () => {
  const { page, closeCleanly } = await blockAtStage();
  await workOut(page);
  const mean = await panelFigure(figures(page), 'Mean thickness');
  // The draft is written a moment after the last change.
  await page.waitForTimeout(1500);
  await page.reload();
  await waitForPlan(page);
  await goTo(page, 'Thickness map');
  await figures(page).waitFor();
  expect(await panelFigure(figures(page), 'Mean thickness')).toBe(mean);
  const forgotten = panel(page).getByText(/thickness map of “block” has not been worked out/);
  expect(await forgotten.count()).toBe(0);

  // The coating is grown at another current: the map shown is the old one, and after a reload it is none.
  await goTo(page, 'Current and time');
  await type(page.getByLabel('Current density'), '7 A/ft2');
  await page.waitForTimeout(1500);
  await page.reload();
  await waitForPlan(page);
  await goTo(page, 'Thickness map');
  await forgotten.waitFor();
  expect(await scale(page).count()).toBe(0);
  await workOut(page);
  await forgotten.waitFor({ state: 'detached' });
  await closeCleanly();
});

test('it can be stopped while it runs, and started again', async () => {
  const { page, closeCleanly } = await blockAtStage();
  await pick(page, 'Finest');
  await press(page, 'Work out the map');
  const progress = panel(page).getByRole('group', { name: 'Progress' });
  await progress.getByText(/grid/).waitFor();
  await progress.getByRole('button', { name: 'Stop' }).click();
  await progress.waitFor({ state: 'detached' });
  await panel(page).getByRole('button', { name: 'Work out the map' }).waitFor();
  expect(await figures(page).count()).toBe(0);
  await pick(page, 'Quick');
  await workOut(page);
  await closeCleanly();
});

test('the picture changes with the map, the section and back', async () => {
  const { page, closeCleanly } = await blockAtStage();
  const canvas = page.locator('.viewport canvas');
  await workOut(page);
  await page.waitForTimeout(500);
  const whole = await canvas.screenshot();
  await pick(page, 'Across Y');
  await panel(page).getByRole('slider').waitFor();
  await expect.poll(async () => whole.equals(await canvas.screenshot())).toBe(false);
  await pick(page, 'Whole');
  await expect.poll(async () => whole.equals(await canvas.screenshot()), { timeout: 5000 }).toBe(true);
  await closeCleanly();
});

test('a least thickness on a face is taken into the plan, and undone', async () => {
  const { page, closeCleanly } = await blockAtStage();
  await workOut(page);
  const before = await planFigure(page, '^Power on');
  await openSection(page, 'Face by face');
  const table = panel(page).getByRole('table', { name: 'Thickness of each face, thinnest first' });
  const first = table.getByRole('row').nth(1);
  const face = (await first.getByRole('button').textContent())!;
  const least = Number(await first.locator('td').nth(1).textContent());
  await first.getByRole('button').click();
  await press(page, 'Ask it of the selected faces');
  await panel(page).getByText(`Asked of ${face}.`).waitFor();
  await type(panel(page).getByLabel('Thinnest that still does'), '30 µm');
  await panel(page)
    .getByText(/the run has to be planned for/)
    .waitFor();
  expect(await planFigure(page, 'Open warnings')).toBeGreaterThan(0);
  await press(page, 'Take it into the plan');
  await panel(page).getByText('The plan gives it: nothing to change.').waitFor();
  // Time goes with charge: hold = k·d/j + ramp/2, so without the half ramp of 2.5 min it grows by 30 over the least.
  const after = await planFigure(page, '^Power on');
  expect((after - 2.5) / (before - 2.5)).toBeCloseTo(30 / least, 1);
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => planFigure(page, '^Power on')).toBeCloseTo(before, 6);
  await closeCleanly();
});

test('another bath makes the map old, and the old bath makes it good again', async () => {
  const { page, closeCleanly } = await blockAtStage();
  await workOut(page);
  await openSection(page, 'What it rests on');
  await type(panel(page).getByLabel('Conductivity you measured'), '40 S/m');
  await panel(page).getByText('The job has changed since this map was worked out.').waitFor();
  await scale(page).getByText('of an earlier setting').waitFor();
  await page.getByRole('button', { name: /^Undo/ }).click();
  await panel(page).getByText('The job has changed since').waitFor({ state: 'detached' });
  await closeCleanly();
});

test('what-ifs stand side by side on one scale; one is taken into the job', async () => {
  const { page, closeCleanly } = await blockAtStage();
  await workOut(page);
  await openSection(page, 'What if');
  await press(page, 'Find the best sides');
  const ranking = panel(page).getByRole('table', { name: 'Cathode sides, most even first' });
  await ranking.waitFor({ timeout: 60_000 });
  expect(await ranking.getByRole('row').count()).toBe(8);
  await press(page, 'Add to the comparison');
  const desk = page.getByRole('region', { name: 'Side by side' });
  const job = desk.getByRole('article', { name: 'The job as it stands' });
  const trial = desk.getByRole('article', { name: 'Cathodes: front wall' });
  await job.getByRole('img').waitFor();
  await trial.getByRole('img').waitFor({ timeout: 60_000 });
  // One sheet is less even than two facing ones, and its picture another.
  const spread = async (card: Locator): Promise<number> =>
    Number.parseFloat(
      (await card.locator('dl div').filter({ hasText: 'Spread' }).locator('dd').textContent())!,
    );
  expect(await spread(trial)).toBeGreaterThan(await spread(job));
  expect(await trial.getByRole('img').getAttribute('src')).not.toBe(
    await job.getByRole('img').getAttribute('src'),
  );
  await trial.getByRole('button', { name: /^Take it into the job/ }).click();
  // Taken, the job is what the what-if was: the same numbers, without solving again.
  await expect.poll(() => spread(job)).toBe(await spread(trial));
  await desk.getByRole('button', { name: 'Back to the one map' }).click();
  await scale(page).waitFor();
  await closeCleanly();
});

test.each(['light', 'dark'] as const)('axe-core finds nothing serious, %s', async (colorScheme) => {
  const { page, closeCleanly } = await blockAtStage({ width: 1024, height: 768, colorScheme });
  await workOut(page);
  for (const title of ['Face by face', 'Where the current goes', 'Holes', 'What if', 'What it rests on'])
    await openSection(page, title);
  await pick(page, 'Across Z');
  expect(await axeFindings(page)).toEqual([]);
  await pick(page, 'Density');
  await press(page, 'Add to the comparison');
  await page
    .getByRole('region', { name: 'Side by side' })
    .getByRole('img')
    .nth(1)
    .waitFor({ timeout: 60_000 });
  expect(await axeFindings(page)).toEqual([]);
  await closeCleanly();
});
