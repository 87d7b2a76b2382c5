import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFindings } from './axe-findings.ts';
import { CUP, cupStl } from './cup-stl.ts';
import { openBench, type TestBench } from './open-window.ts';
import {
  choose,
  dropFile,
  goTo,
  openSection,
  panelFigure,
  planFigure,
  type,
  waitForPlan,
} from './page-steps.ts';

let bench: TestBench;
let cup: Buffer;
beforeAll(async () => {
  [bench, cup] = await Promise.all([openBench(), cupStl()]);
});
afterAll(() => bench.close());

/** Closed form of a cylinder, mL; its 96 flats hold 0.07 % less. */
const CUP_ML = (Math.PI * (CUP.bore / 2) ** 2 * CUP.depth) / 1000;

const panel = (page: Page): Locator => page.getByRole('complementary');

async function hangCup(page: Page): Promise<void> {
  await waitForPlan(page);
  await dropFile(page, 'cup.stl', cup);
  await page.getByRole('button', { name: 'Yes, this mm' }).click();
  await goTo(page, 'Hanging');
  await expect.poll(() => panelFigure(panel(page), 'Gas that stays'), { timeout: 20_000 }).toBeGreaterThan(0);
}

async function look(page: Page): Promise<void> {
  await page.getByRole('button', { name: /^Look at 500/ }).click();
  await page.getByRole('button', { name: 'Hang it this way' }).waitFor({ timeout: 60_000 });
}

test('a place is accepted with one click, judged like any pin, and undone in one step', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await hangCup(page);
  const places = panel(page).getByRole('list', { name: 'Places to clamp' });
  // Ranked, best first, with reasons in words.
  await expect.poll(() => places.locator('.proposal-score').count(), { timeout: 20_000 }).toBeGreaterThan(1);
  const scores = (await places.locator('.proposal-score').allTextContents()).map(Number);
  expect(scores).toEqual([...scores].sort((a, b) => b - a));
  await places
    .getByText(/through hole of 4\.0 mm/)
    .first()
    .waitFor();
  await places.getByRole('button', { name: 'Accept place A' }).click();
  const pin = page.getByRole('region', { name: 'Pin 1' });
  await pin.getByRole('button', { name: /Place of pin 1: through hole/ }).click();
  await pin.getByText(/bolt and nut hold/).waitFor();
  // The same word on it as the proposal had: alone it lets the part swing.
  await pin.getByText(/One point alone lets the part swing/).waitFor();
  expect(Number.parseFloat((await pin.getByText(/ of 100, alone$/).textContent()) ?? '')).toBe(scores[0]);
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => pin.count()).toBe(0);
  await closeCleanly();
});

test('the trapped gas is the cylinder’s volume, and goes with an attitude picked from the map by keyboard', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await hangCup(page);
  expect((await panelFigure(panel(page), 'Gas that stays')) / CUP_ML).toBeCloseTo(1, 2);
  await panel(page)
    .getByText(/keeps 9\.4 mL of gas as it hangs, in one pocket/)
    .waitFor();
  // The foot of the window lists it, and a press leads here from anywhere.
  await goTo(page, 'Current and time');
  await page.getByRole('button', { name: /^Open warnings/ }).click();
  await page
    .getByRole('dialog')
    .getByRole('button', { name: /Hanging.*keeps 9\.4 mL of gas/ })
    .click();
  await panel(page).getByRole('heading', { name: 'Hanging' }).waitFor();
  await page.locator('.view-legend').getByText('Gas stays').waitFor();
  await look(page);
  const map = page.getByRole('application', { name: /Which side of the model points up/ });
  await map.focus();
  const said = panel(page).locator('.attitude-map [role=status]');
  const before = await said.textContent();
  await page.keyboard.press('ArrowRight');
  await expect.poll(() => said.textContent()).not.toBe(before);
  await page.keyboard.press('Home');
  await expect.poll(() => said.textContent()).toContain('gas 0 mL');
  await page.keyboard.press('Enter');
  await expect.poll(() => panelFigure(panel(page), 'Gas that stays')).toBe(0);
  await expect
    .poll(() =>
      panel(page)
        .getByText(/mL of gas/)
        .count(),
    )
    .toBe(0);
  await expect.poll(() => page.locator('.view-legend').getByText('Gas stays').count()).toBe(0);
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => panelFigure(panel(page), 'Gas that stays')).toBeGreaterThan(9);
  await closeCleanly();
});

test('the search can be stopped', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await hangCup(page);
  const start = page.getByRole('button', { name: /^Look at 500/ });
  // Both presses in one breath: the search of so small a part is over in a second or two.
  await start.evaluate((button: HTMLElement) => button.click());
  await page.getByRole('button', { name: 'Stop looking' }).evaluate((button: HTMLElement) => button.click());
  await start.waitFor();
  await look(page);
  await closeCleanly();
});

test('too thin a hanger stops the plan, and what would do is one click', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await hangCup(page);
  await panel(page).getByRole('button', { name: 'Accept place A' }).click();
  const pin = page.getByRole('region', { name: 'Pin 1' });
  await type(pin.getByLabel('Wire or rod, across'), '0.4 mm');
  await pin.getByRole('alert').filter({ hasText: 'dry part of the hanger' }).waitFor();
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Hanging stop/ })
    .waitFor();
  await pin.getByRole('button', { name: /^Use 1 × Ti grade 2/ }).click();
  await expect.poll(() => pin.getByRole('alert').count()).toBe(0);
  await expect
    .poll(async () => Number.parseFloat(await pin.getByLabel('Wire or rod, across').inputValue()))
    .toBeGreaterThan(0.4);
  await closeCleanly();
});

test('hangers of the shop’s stock are chosen in another job', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await goTo(page, 'Hanging');
  const pin = page.getByRole('region', { name: 'Pin 1' });
  await type(pin.getByLabel('Wire or rod, across'), '3.2 mm');
  await pin.getByRole('button', { name: 'Lengths, hook and patch at pin 1' }).click();
  await pin.getByRole('button', { name: 'Keep this hanger in the shop’s book' }).click();
  await pin.getByRole('button', { name: /From the shop’s stock, for pin 1/ }).waitFor();
  await dropFile(page, 'cup.stl', cup);
  await page.getByRole('button', { name: 'Yes, this mm' }).click();
  await goTo(page, 'Hanging');
  await page.getByRole('button', { name: 'Accept place A' }).click({ timeout: 20_000 });
  await page.getByRole('button', { name: /From the shop’s stock, for pin 1/ }).click();
  await page.getByRole('option', { name: 'Al 5356, 3.20 mm' }).click();
  await expect.poll(() => pin.getByLabel('Wire or rod, across').inputValue()).toBe('3.2 mm');
  await closeCleanly();
});

test.each(['light', 'dark'] as const)(
  'axe-core finds nothing serious with everything open, %s',
  async (colorScheme) => {
    const { page, closeCleanly } = await bench.openWindow({ width: 1024, height: 768, colorScheme });
    await hangCup(page);
    await panel(page).getByRole('button', { name: 'Accept place A' }).click();
    await look(page);
    for (const section of [
      'Place of pin 1',
      'Lengths, hook',
      'What the hanger',
      'Weight and balance',
      'What you allow',
    ]) {
      await openSection(page, section);
    }
    expect(await axeFindings(page)).toEqual([]);
    await closeCleanly();
  },
);

test('a bus end in the bath takes current with every load; titanium takes none; a part is turned by a press', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await goTo(page, 'Hanging');
  const before = await planFigure(page, 'Area taking current');
  await openSection(page, 'Bus ends in the bath');
  await panel(page).getByRole('button', { name: 'Add a bus end' }).click();
  // Flat, 20 × 3 mm, 50 mm deep: 2 · 23 · 50 + 60 mm² = 23.6 cm².
  await expect.poll(() => planFigure(page, 'Area taking current')).toBeCloseTo(before + 23.6, 0);
  await choose(page, 'Bus end 1', 'Ti grade 2');
  await expect.poll(() => planFigure(page, 'Area taking current')).toBeCloseTo(before, 1);
  const turned = panel(page).getByLabel('Turned about the upright, in the tank');
  await panel(page).getByRole('button', { name: '↺ 90°' }).click();
  await panel(page).getByRole('button', { name: '↺ 15°' }).click();
  await expect.poll(() => turned.inputValue()).toBe('105°');
  await page.keyboard.press('Control+z');
  await expect.poll(() => turned.inputValue()).toBe('0°');
  await closeCleanly();
});
