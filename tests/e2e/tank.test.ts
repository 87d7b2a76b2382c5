import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { axeFindings } from './axe-findings.ts';
import { boxStl } from './box-stl.ts';
import { CUP, cupStl } from './cup-stl.ts';
import { openBench, type TestBench } from './open-window.ts';
import { choose, dropFile, goTo, openSection, planFigure, type, waitForPlan } from './page-steps.ts';

let bench: TestBench;
let cup: Buffer;
beforeAll(async () => {
  [bench, cup] = await Promise.all([openBench(), cupStl()]);
});
afterAll(() => bench.close());

const panel = (page: Page): Locator => page.getByRole('complementary');

async function cupInBox(page: Page): Promise<void> {
  await waitForPlan(page);
  await dropFile(page, 'cup.stl', cup);
  await page.getByRole('button', { name: 'Yes, this mm' }).click();
  await goTo(page, 'Tank and loads');
  await page.getByRole('button', { name: 'Describe a box tank' }).click();
}

async function hang(page: Page, copies: number): Promise<void> {
  await type(page.getByLabel('Copies to hang'), String(copies));
  await panel(page)
    .getByRole('button', { name: new RegExp(`^Hang ${copies}`) })
    .click();
}

const copy = (page: Page, number: number): Locator =>
  panel(page).getByRole('button', { name: new RegExp(`^Copy ${number},`) });

async function distance(page: Page, to: string): Promise<number> {
  const row = panel(page)
    .getByRole('table', { name: /^Smallest distances/ })
    .getByRole('row', { name: new RegExp(`^${to}`) });
  return Number.parseFloat((await row.locator('td').first().textContent()) ?? '');
}

/** Middle of a copy on the picture; the selected one is drawn last, so they are told by their names. */
const foot = async (page: Page, index: number): Promise<{ x: number; y: number }> => {
  const circle = page.locator(`.tank-desk [data-pin="bar-1-${index + 1}"] .pin-foot`);
  const box = (await circle.boundingBox())!;
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
};

test('four copies with one action, their distances as the drawing says', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await cupInBox(page);
  await hang(page, 4);
  for (const number of [1, 2, 3, 4])
    await expect.poll(() => copy(page, number).getAttribute('aria-label')).toContain('clear');
  await page.getByRole('region', { name: 'Copy 1' }).waitFor();
  // Box 500 mm wide; sheets 3 mm thick, 5 mm off the wall; the cup 40 mm wide in the middle: 250 − 8 − 20 = 222 mm.
  await expect.poll(() => distance(page, 'Cathode')).toBeCloseTo(222, 6);
  // Liquid 370 mm deep, 30 mm over a part 46 mm high.
  expect(await distance(page, 'Surface')).toBeCloseTo(30, 6);
  expect(await distance(page, 'Floor')).toBeCloseTo(370 - 30 - (CUP.side + CUP.rim), 6);
  // By numbers: 60 mm towards a sheet is 60 mm nearer to it.
  const card = page.getByRole('region', { name: 'Copy 1' });
  await type(card.getByLabel('Middle across (y)'), '60 mm');
  await expect.poll(() => distance(page, 'Cathode')).toBeCloseTo(162, 6);
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => distance(page, 'Cathode')).toBeCloseTo(222, 6);
  await closeCleanly();
});

test('a copy dragged into the cathode is a short circuit at once, and clear again by its number', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await cupInBox(page);
  await hang(page, 2);
  const card = page.getByRole('region', { name: 'Copy 1' });
  await card.waitFor();
  await page.getByRole('toolbar', { name: 'View of the tank' }).getByRole('button', { name: 'Top' }).click();
  await page.waitForTimeout(400);
  const field = card.getByLabel('Middle along the tank (x)');
  const x1 = Number.parseFloat(await field.inputValue());
  const [first, second] = [await foot(page, 0), await foot(page, 1)];
  // Two copies lie evenly about the middle, so they are 2 |x1| apart.
  const pxPerMm = Math.abs(second.x - first.x) / (2 * Math.abs(x1));
  await page.mouse.move(first.x, first.y);
  await page.mouse.down();
  // Seen from above the far wall is up on the screen; 222 mm away stands its sheet.
  for (const mm of [60, 120, 180, 225]) {
    await page.mouse.move(first.x, first.y - mm * pxPerMm);
    await page.waitForTimeout(120);
  }
  // Still in the hand.
  await expect.poll(() => copy(page, 1).getAttribute('aria-label')).toContain('stop');
  await page.mouse.up();
  await page.getByRole('alert').filter({ hasText: 'touches the cathode' }).waitFor();
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Tank and loads stop/ })
    .waitFor();
  await type(card.getByLabel('Middle across (y)'), '0 mm');
  await expect.poll(() => copy(page, 1).getAttribute('aria-label')).toContain('clear');
  await expect.poll(() => page.getByRole('alert').count()).toBe(0);
  await closeCleanly();
});

test('a copy let go near the bar’s line snaps to it', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await cupInBox(page);
  await hang(page, 2);
  const card = page.getByRole('region', { name: 'Copy 1' });
  await page.getByRole('toolbar', { name: 'View of the tank' }).getByRole('button', { name: 'Top' }).click();
  await page.waitForTimeout(400);
  const x1 = Number.parseFloat(await card.getByLabel('Middle along the tank (x)').inputValue());
  const [first, second] = [await foot(page, 0), await foot(page, 1)];
  const pxPerMm = Math.abs(second.x - first.x) / (2 * Math.abs(x1));
  await page.mouse.move(first.x, first.y);
  await page.mouse.down();
  await page.mouse.move(first.x - 20 * pxPerMm, first.y - 5 * pxPerMm, { steps: 4 });
  await page.mouse.move(first.x - 40 * pxPerMm, first.y - 12 * pxPerMm, { steps: 4 });
  await page.mouse.up();
  const number = async (label: string): Promise<number> =>
    Number.parseFloat(await card.getByLabel(label).inputValue());
  await expect.poll(() => number('Middle along the tank (x)')).toBeLessThan(x1 - 30);
  expect(await number('Middle across (y)')).toBeCloseTo(0, 6);
  await closeCleanly();
});

test('the tank limits the loads, the plan follows, and the sheet says so', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await cupInBox(page);
  expect(await planFigure(page, '^Loads')).toBe(1);
  await goTo(page, 'Part');
  // 40 mm each and 30 between them on 740 mm of bar: eleven a load.
  await type(page.getByLabel('How many of this part'), '21');
  expect(await planFigure(page, '^Loads')).toBeGreaterThan(1); // no supply limits it, only the bar
  await goTo(page, 'Tank and loads');
  const loads = panel(page).getByRole('region', { name: 'Loads' }).getByRole('listitem');
  await expect.poll(() => loads.count()).toBe(await planFigure(page, '^Loads'));
  await loads.first().getByText(/bar/i).waitFor();
  await loads.first().getByRole('button', { name: 'Hang load 1' }).click();
  await expect.poll(() => copy(page, 1).getAttribute('aria-label')).toContain('clear');
  await goTo(page, 'Run sheet');
  const sheet = page.getByRole('article', { name: 'Run sheet' });
  await sheet.getByText(/^Box tank, liquid 370 mm deep/).waitFor();
  await sheet.getByText(/as in the picture, Z up/).waitFor();

  // Another load in its place: the first is kept as it was left, its first copy moved by hand.
  await goTo(page, 'Tank and loads');
  const along = page.getByRole('region', { name: 'Copy 1' }).getByLabel('Middle along the tank (x)');
  const before = Number.parseFloat(await along.inputValue());
  await type(along, `${before - 4} mm`);
  await loads.nth(1).getByRole('button', { name: 'Hang load 2' }).click();
  await loads.nth(1).getByText('Hangs in the tank now').waitFor();
  await loads.first().getByText('Kept as it last hung').waitFor();
  await loads.first().getByRole('button', { name: 'Hang load 1' }).click();
  await expect.poll(async () => Number.parseFloat(await along.inputValue())).toBeCloseTo(before - 4, 6);
  await closeCleanly();
});

test('too many at once says how many fit', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await cupInBox(page);
  await hang(page, 60);
  await panel(page)
    .getByText(/^Only \d+ of 60 of cup fit/)
    .waitFor();
  await closeCleanly();
});

test('a tank kept in the shop’s book is chosen in a new job, not typed again', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await cupInBox(page);
  await openSection(page, 'Vessel and level');
  await type(page.getByLabel('Name of the tank'), 'Blue tub');
  await type(page.getByLabel('Length inside (x)'), '700 mm');
  await openSection(page, 'In the shop’s book');
  await page.getByRole('button', { name: 'Keep this tank in the shop’s book' }).click();
  await panel(page).getByText('kept as it is').waitFor();
  await page.getByRole('button', { name: 'Job ▾' }).click();
  await page.getByRole('menuitem', { name: 'New job' }).click();
  await page.getByRole('button', { name: /^Leave the changes/ }).click();
  await dropFile(page, 'cup.stl', cup);
  await page.getByRole('button', { name: 'Yes, this mm' }).click();
  await goTo(page, 'Tank and loads');
  await choose(page, 'Tank from the shop’s book', 'Blue tub');
  await panel(page).getByText('700 × 500 × 420 mm').waitFor();
  await closeCleanly();
});

test('a supply kept in the book fills both limits', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await goTo(page, 'Current and time');
  await openSection(page, 'Keep this supply');
  await type(page.getByLabel('Name of the supply'), 'Bench 10 A');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.getByRole('button', { name: /Supply from the shop’s book/ }).waitFor();
  await type(page.getByRole('textbox', { name: 'Supply gives at most' }), '4 A');
  await choose(page, 'Supply from the shop’s book', 'Bench 10 A');
  await expect
    .poll(() => page.getByRole('textbox', { name: 'Supply gives at most' }).inputValue())
    .toBe('10 A');
  await closeCleanly();
});

test.each(['light', 'dark'] as const)(
  'axe-core finds nothing serious on a tank in use, %s',
  async (colorScheme) => {
    const { page, closeCleanly } = await bench.openWindow({ width: 1024, height: 768, colorScheme });
    await cupInBox(page);
    await hang(page, 2);
    await page.getByRole('region', { name: 'Copy 1' }).waitFor();
    for (const section of ['Vessel', 'Cathode sheets', 'Bars', 'Clearances', 'In the shop’s book']) {
      await openSection(page, section);
    }
    await page.waitForTimeout(300);
    expect(await axeFindings(page)).toEqual([]);
    await closeCleanly();
  },
);

test('a bar that hangs 150 mm deep keeps its level, and the sheet and the run say how deep', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await dropFile(page, 'tall.stl', boxStl(30, 20, 200));
  await page.getByRole('button', { name: 'Yes, this mm' }).click();
  await type(page.getByLabel(/^Hangs in the bath to this depth/), '150');
  // Four sides of 150 mm and the bottom.
  await expect.poll(() => planFigure(page, 'Area taking current')).toBe(156);
  await page.getByText('Above the level, not in the bath').waitFor();
  await goTo(page, 'Tank and loads');
  await page.getByRole('button', { name: 'Describe a box tank' }).click();
  await hang(page, 1);
  await expect.poll(() => copy(page, 1).getAttribute('aria-label')).toContain('clear');
  const card = page.getByRole('region', { name: 'Copy 1' });
  // Liquid 370 mm deep: the lowest point 150 mm under it.
  await expect.poll(() => distance(page, 'Floor')).toBeCloseTo(220, 6);
  expect(await card.getByRole('row', { name: /^Surface/ }).count()).toBe(0);
  expect(await card.textContent()).toContain('It hangs 150 mm (5.91 in) deep, its mark at the level');
  expect(await card.getByLabel('Lowest point above the floor').count()).toBe(0);

  // Seen from the front it is dragged aside and not up.
  await page.getByRole('button', { name: 'Front' }).last().click();
  const from = await foot(page, 0);
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + 40, from.y - 60, { steps: 4 });
  await page.mouse.up();
  await expect.poll(async () => Math.round((await foot(page, 0)).x - from.x)).toBeGreaterThan(20);
  expect(await distance(page, 'Floor')).toBeCloseTo(220, 6);

  // Another depth takes the copy along.
  await goTo(page, 'Part');
  await type(page.getByLabel(/^Hangs in the bath to this depth/), '100');
  await goTo(page, 'Tank and loads');
  await expect.poll(() => distance(page, 'Floor')).toBeCloseTo(270, 6);

  await goTo(page, 'Run sheet');
  const sheet = page.getByRole('article', { name: 'Run sheet' });
  const words = '100 mm (3.94 in) deep, from its lowest point up: mark the level';
  await expect.poll(() => sheet.textContent()).toContain(`Hang it${words}`);
  expect(await sheet.textContent()).toContain('Coated, each, below the level');
  expect(await sheet.textContent()).toContain(`Hang it ${words}. Wipe it free of oil`);
  expect(await sheet.textContent()).toContain('The liquid stands at the mark 100 mm (3.94 in) up.');
  await goTo(page, 'The run');
  await page.getByText('Mask and hang, 100 mm (3.94 in) deep').waitFor();
  await closeCleanly();
});
