import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { unpackJob } from '../../core/job/container.ts';
import { openBench, type TestBench } from './open-window.ts';
import { goTo, openSection, panelFigure, planFigure, type, waitForPlan } from './page-steps.ts';

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

test('mix a bath, use it, and see how warm the run gets', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await goTo(page, 'Bath');
  await openSection(page, 'Mix a bath');
  await type(page.getByRole('textbox', { name: 'Acid, as its container says' }), '35 %');
  await type(page.getByRole('textbox', { name: 'Strength wanted' }).first(), '180 g/L');
  await type(page.getByRole('textbox', { name: 'Finished bath' }), '5 L');
  // 5 L of 180 g/L hold 0.9 kg of acid: 0.9 / 0.35 kg of what is poured. Shown to four digits.
  const acidKg = page
    .locator('.figure')
    .filter({ hasText: /^Acid/ })
    .locator('.figure-value', { hasText: 'kg' });
  await expect.poll(async () => Number.parseFloat((await acidKg.textContent())!)).toBeCloseTo(0.9 / 0.35, 3);
  await page.getByText('Acid into water', { exact: false }).first().waitFor();
  await page.getByText(/of cold water into the vessel first/).waitFor();

  // The other way round: all of 2 L of it make 4.900 L (2 L · 1.2599 · 0.35 / 0.18, density by Perry).
  await type(page.getByRole('textbox', { name: 'Or from all of this acid' }), '2 L');
  await expect.poll(() => page.getByRole('textbox', { name: 'Finished bath' }).inputValue()).toBe('4.9 L');
  await type(page.getByRole('textbox', { name: 'Finished bath' }), '5 L');

  // A wrong acid is explained, and the amounts of the acid before it are not left to be poured.
  await type(page.getByRole('textbox', { name: 'Acid, as its container says' }), '35');
  await page.getByText('has no unit and is no specific gravity').waitFor();
  await page.getByText('The amounts come back once the entry marked above is put right.').waitFor();
  expect(await acidKg.count()).toBe(0);
  expect(await page.getByRole('button', { name: 'Use as this job’s bath' }).count()).toBe(0);
  await type(page.getByRole('textbox', { name: 'Acid, as its container says' }), '35 %');

  await page.getByRole('button', { name: 'Use as this job’s bath' }).click();
  expect(await page.getByRole('textbox', { name: 'Bath volume' }).inputValue()).toBe('5 L');
  await openSection(page, 'Heat through the run');
  const warm = await panelFigure(page, 'Bath at the end');
  expect(warm).toBeGreaterThan(20);
  await page.getByRole('img', { name: /Bath temperature over the run/ }).waitFor();

  // Ten times the bath warms up about a tenth as much; losses to the air only make it less.
  await type(page.getByRole('textbox', { name: 'Bath volume' }), '50 L');
  await expect.poll(() => panelFigure(page, 'Bath at the end')).toBeLessThan(20 + (warm - 20) / 5);

  // Far too small a bath is stopped by its own stage, and the rail says so.
  await type(page.getByRole('textbox', { name: 'Bath volume' }), '1 L');
  await page
    .getByText(/leave −10 to 60 °C|above 24 °C/)
    .first()
    .waitFor();
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Bath (look here|stop)/ })
    .waitFor();
  await closeCleanly();
});

test('enter a bath in the book, titrate it, run it, top it up; its history survives a reload and the job a save', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await goTo(page, 'Bath');
  await type(page.getByRole('textbox', { name: 'Bath volume' }), '20 L');
  await type(page.getByRole('textbox', { name: 'Dissolved aluminium' }), '0 g/L');
  await openSection(page, 'Bath life');
  await type(page.getByRole('textbox', { name: 'Enter the bath above in the book as' }), 'Blue tub');
  await page.getByRole('button', { name: 'Enter this bath' }).click();
  const history = page.getByRole('region', { name: 'History of Blue tub' });
  await history.getByText('20.0 L, 180 g/L free acid').waitFor();

  // 5 mL taking 18 mL of 1 N lye, 17 with fluoride: 17 · 49.04 / 5 = 166.7 g/L free, 1 · 8.994 / 5 = 1.8 g/L aluminium
  // (factors as printed in the trade journal's titration note).
  await openSection(page, 'Test the bath');
  const titration = page.getByRole('region', { name: 'Titration' });
  await type(titration.getByRole('textbox', { name: 'Lye used, plain sample' }), '18 mL');
  await type(titration.getByRole('textbox', { name: 'Lye used, with fluoride' }), '17 mL');
  await titration.getByText('hydrofluoric').waitFor();
  expect(await panelFigure(titration, 'Free acid')).toBeCloseTo(166.7, 1);
  expect(await panelFigure(titration, 'Dissolved aluminium')).toBeCloseTo(1.799, 2);
  await titration.getByRole('button', { name: 'Note it in this bath’s history' }).click();
  await history.getByText('167 g/L free acid, 1.80 g/L aluminium').waitFor();
  await expect
    .poll(() => page.getByRole('textbox', { name: 'Sulfuric acid in the bath' }).inputValue())
    .toMatch(/^166\.7/);

  await history.getByRole('button', { name: 'Count this job as run' }).click();
  await history.getByText(/1 runs, .* reckoned, not measured/).waitFor();

  // Back to 180 g/L: no acid is lost or made, so drawn off less, added as much as is missing.
  await openSection(page, 'Top up');
  await page.getByRole('button', { name: 'Done: this is the bath now' }).click();
  await expect
    .poll(() => page.getByRole('textbox', { name: 'Sulfuric acid in the bath' }).inputValue())
    .toBe('180 g/L');
  await history.getByText('180 g/L free acid').waitFor();

  await page.getByRole('heading', { name: 'Bath', exact: true }).click();
  const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
  const saved = unpackJob(new Uint8Array(readFileSync(await download.path())));
  if (!saved.ok) throw new Error(saved.error.message);
  expect(saved.value.job.bath.volumeM3).toBeCloseTo(0.02, 4);
  expect(saved.value.job.bath.aluminiumKgPerM3).toBeGreaterThan(1.6);

  await page.reload();
  await waitForPlan(page);
  await goTo(page, 'Bath');
  await openSection(page, 'Bath life');
  await page.getByRole('region', { name: 'History of Blue tub' }).getByText('180 g/L free acid').waitFor();
  await openSection(page, 'Entries');
  expect(
    await page.getByRole('region', { name: 'History of Blue tub' }).getByRole('listitem').count(),
  ).toBeGreaterThanOrEqual(4);
  await closeCleanly();
});

test('hydrogen, air and what a spill takes', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  const amps = await planFigure(page, '^Current');
  await goTo(page, 'Bath');
  await openSection(page, 'Hydrogen');
  // Faraday: I / 2F mol/s, 24.055 L/mol at 20 °C: 0.4487 L/h for each ampere.
  const litres = await panelFigure(page, 'Hydrogen');
  expect(litres / amps).toBeCloseTo((3600 / (2 * 96485.33)) * 24.055, 2);
  await openSection(page, 'Spills');
  // 1 L of 180 g/L: 1.8353 mol of acid, 3.6706 mol of baking soda at 84.006 g.
  expect(await panelFigure(page, 'baking soda')).toBeCloseTo((180 / 98.079) * 2 * 84.006, 0);
  await page.getByText('Foams hard', { exact: false }).waitFor();
  await closeCleanly();
});
