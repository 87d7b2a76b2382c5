import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { labFromSrgb, type Lab } from '../../core/finish/colour.ts';
import { predictColour, type UptakeFit } from '../../core/finish/fit-uptake.ts';
import { openBench, type TestBench } from './open-window.ts';
import { choose, goTo, openSection, panelFigure, type, waitForPlan } from './page-steps.ts';

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

/** A dye that follows first-order uptake exactly, half full in two minutes; colours are what it gives. */
const RATE_PER_S = Math.LN2 / 120;
const TRUTH: UptakeFit = {
  model: 'first order',
  referenceK: 333.15,
  referenceThicknessM: 25.4e-6,
  best: {
    ratePerS: RATE_PER_S,
    lnBare: [Math.log(0.5), Math.log(0.53), Math.log(0.57)],
    lnLoss: [1.2, 2.1, 2.6],
    misfit: 0,
  },
  allowed: [],
  meanDeltaE: 0,
  worstDeltaE: 0,
  longestS: 600,
  shortestS: 60,
  misfits: { diffusion: 0, 'second order': 0, 'first order': 0 },
  notes: [],
};
const colourAt = (minutes: number): Lab =>
  predictColour(TRUTH, TRUTH.best, { temperatureK: 333.15, thicknessM: 25.4e-6 }, minutes * 60);

async function startDye(page: Page): Promise<void> {
  await waitForPlan(page);
  await goTo(page, 'Dye and seal');
  await page.getByText('Dye this job').click();
  await type(page.getByRole('textbox', { name: 'Dye', exact: true }), 'Deep red');
  await openSection(page, 'Colour book');
  await page.getByRole('button', { name: 'Enter “Deep red” in the book' }).click();
  await openSection(page, 'Add a dip of Deep red');
}

async function noteDip(page: Page, minutes: number, lab: Lab): Promise<void> {
  await openSection(page, 'Add a dip of Deep red');
  const form = page.getByRole('group', { name: 'New dip' });
  await type(form.getByRole('textbox', { name: 'Minutes in the dye' }), `${minutes} min`);
  await type(form.getByRole('textbox', { name: 'L* light' }), lab.l.toFixed(1));
  await type(form.getByRole('textbox', { name: 'a* red' }), lab.a.toFixed(1));
  await type(form.getByRole('textbox', { name: 'b* yellow' }), lab.b.toFixed(1));
  await form.getByRole('button', { name: 'Note this dip' }).click();
  await expect.poll(() => form.getByRole('textbox', { name: 'Minutes in the dye' }).inputValue()).toBe('');
}

test('dips typed in answer how long for a colour, and what the dye can’t reach', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await startDye(page);
  for (const minutes of [0, 1, 2, 4, 10]) await noteDip(page, minutes, colourAt(minutes));

  const wanted = colourAt(3);
  const dye = page.getByRole('group', { name: 'Colour wanted' });
  await type(dye.getByRole('textbox', { name: 'L* light' }), wanted.l.toFixed(1));
  await type(dye.getByRole('textbox', { name: 'a* red' }), wanted.a.toFixed(1));
  await type(dye.getByRole('textbox', { name: 'b* yellow' }), wanted.b.toFixed(1));
  const answer = page.getByRole('region', { name: 'How long for this colour' });
  await answer.getByText('This dye has given this colour').waitFor();
  // Colours typed to a tenth of a unit, where the curve moves by about six units a minute: a tenth of a minute is fair.
  expect(await panelFigure(answer, 'Time in the dye')).toBeCloseTo(3, 0);
  expect(Math.abs((await panelFigure(answer, 'Time in the dye')) - 3)).toBeLessThan(0.15);
  await answer.getByText('first order uptake', { exact: false }).waitFor();
  await answer.getByRole('button', { name: 'Use this time' }).click();
  expect(
    Number.parseFloat(await page.getByRole('textbox', { name: 'Time in the dye', exact: true }).inputValue()),
  ).toBeCloseTo(3, 0);

  // A dip that can not be is named, with what the others say, and the dye is not blamed for it.
  await noteDip(page, 10, { l: 90, a: 2, b: 0 });
  await answer
    .getByText(/^The dip of 10 min \(L\* 90, typed\) contradicts \d of your other dips: it/)
    .waitFor();
  await answer.getByText(/Without it the colour takes 3\.\d+ min \(/).waitFor();
  const dips = page.getByRole('region', { name: 'Dips of Deep red' });
  await dips
    .getByRole('article')
    .filter({ hasText: 'L* 90.0' })
    .getByRole('button', { name: /^Remove/ })
    .click();
  await answer.getByText('This dye has given this colour').waitFor();

  // Green out of a red dye.
  await type(dye.getByRole('textbox', { name: 'a* red' }), '-60');
  await answer.getByText(/The closest this dye comes is ΔE/).waitFor();

  // The sheet takes name and time along, and the window the dye's hue.
  await goTo(page, 'Run sheet');
  await page.getByRole('article', { name: 'Run sheet' }).getByText('Dye with Deep red').first().waitFor();
  const accent = await page.evaluate(() => document.documentElement.style.getPropertyValue('--accent'));
  expect(accent).toMatch(/^#[0-9a-f]{6}$/);

  // The book outlives the page.
  await page.reload();
  await waitForPlan(page);
  await goTo(page, 'Dye and seal');
  await openSection(page, 'Colour book');
  await expect
    .poll(() => page.getByRole('region', { name: 'Dips of Deep red' }).getByRole('article').count())
    .toBe(5);
  await closeCleanly();
});

test('a photo with white paper gives the patch’s own colour under a tinted light', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await startDye(page);
  // The photo: left half a colour, right half white paper (0.85), both under a warm light that dims blue.
  const part = [0.42, 0.09, 0.06];
  const light = [0.95, 0.8, 0.62];
  const encode = (linear: number): number =>
    Math.round(255 * (linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055));
  const pixel = (reflectance: readonly number[]): string =>
    `rgb(${reflectance.map((r, i) => encode(r * light[i]!)).join(',')})`;
  const base64 = await page.evaluate(
    async ([left, right]) => {
      const canvas = document.createElement('canvas');
      canvas.width = 400;
      canvas.height = 200;
      const context = canvas.getContext('2d')!;
      context.fillStyle = left!;
      context.fillRect(0, 0, 200, 200);
      context.fillStyle = right!;
      context.fillRect(200, 0, 200, 200);
      return canvas.toDataURL('image/png').split(',')[1]!;
    },
    [pixel(part), pixel([0.85, 0.85, 0.85])],
  );
  await page.getByRole('radio', { name: 'From a photo' }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Photo with white paper…' }).click(),
  ]);
  await chooser.setFiles({ name: 'dip.png', mimeType: 'image/png', buffer: Buffer.from(base64, 'base64') });
  const picture = page.getByRole('img', { name: 'Photo with its two patches' });
  const box = (await picture.boundingBox())!;
  await page.mouse.click(box.x + box.width * 0.25, box.y + box.height * 0.5);
  await page.getByRole('radio', { name: 'White paper' }).click();
  await page.mouse.click(box.x + box.width * 0.75, box.y + box.height * 0.5);

  // Its colour in white light: the reflectances themselves as linear sRGB.
  const encoded = part.map((r) => (r <= 0.0031308 ? 12.92 * r : 1.055 * r ** (1 / 2.4) - 0.055));
  const truth = labFromSrgb(encoded[0]!, encoded[1]!, encoded[2]!);
  const form = page.getByRole('group', { name: 'New dip' });
  const read = async (label: string): Promise<number> =>
    Number(await form.getByRole('textbox', { name: label }).inputValue());
  // Eight-bit steps in a dark channel: up to half a unit.
  await expect.poll(async () => Math.abs((await read('L* light')) - truth.l)).toBeLessThan(0.5);
  expect(Math.abs((await read('a* red')) - truth.a)).toBeLessThan(0.8);
  expect(Math.abs((await read('b* yellow')) - truth.b)).toBeLessThan(1.2);

  await type(form.getByRole('textbox', { name: 'Minutes in the dye' }), '4 min');
  await form.getByRole('button', { name: 'Note this dip' }).click();
  const dips = page.getByRole('region', { name: 'Dips of Deep red' });
  await dips.getByRole('img', { name: /^Photo of Deep red/ }).waitFor();

  // What is no picture is said, and nothing breaks.
  const [again] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('button', { name: 'Another photo…' }).click(),
  ]);
  await again.setFiles({ name: 'note.png', mimeType: 'image/png', buffer: Buffer.from('no picture') });
  await page.getByText('This file is no picture that can be read here.').waitFor();
  await closeCleanly();
});

test('alloy, seal, specification, redo and trouble answer by this job’s own figures', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await goTo(page, 'Dye and seal');

  await openSection(page, 'Seal');
  // 2.5 min/µm in the middle of the range over 25.4 µm (Qualanod, from memory).
  expect(await panelFigure(page, 'Seal: hot water')).toBeCloseTo(63.5, 0);
  await choose(page, 'Way to seal', 'Warm, with nickel acetate');
  await page.getByText('are poisonous and can cause cancer').waitFor();
  await type(page.getByRole('textbox', { name: 'Seal temperature' }), '40 °C');
  await page
    .getByText(/does not seal below/)
    .first()
    .waitFor();

  await openSection(page, 'Alloy');
  await choose(page, 'Welded with', '4043');
  await choose(page, 'Alloy of', '6061');
  await page.getByText('turn dark grey whatever the dye').first().waitFor();

  await openSection(page, 'Acceptance');
  await choose(page, 'Specification to meet', /^ASTM B580 A/);
  await page.getByText('ASTM B580 A asks for at least 50 µm.').waitFor();
  await page.getByRole('region', { name: 'Dye spot test' }).getByRole('radio', { name: '4' }).click();
  await page.getByText('the film is open, so seal it again').waitFor();

  await openSection(page, 'Strip and redo');
  await page.getByText('worth it', { exact: true }).waitFor();
  await type(page.getByRole('textbox', { name: 'Thinnest wall as machined' }), '1 mm');
  await type(page.getByRole('textbox', { name: 'It may get as thin as' }), '0.999 mm');
  await page.getByText('The thinnest wall would get thinner than it may.').waitFor();

  await openSection(page, 'Trouble');
  await choose(page, 'What does it look like', /Dark weld/);
  const causes = page.getByRole('list', { name: 'Likely causes, likeliest first' });
  await causes
    .getByRole('listitem')
    .first()
    .getByText('The weld was made with a filler full of silicon.')
    .waitFor();
  await causes.getByText('In this job: the filler holds much silicon', { exact: false }).waitFor();
  await closeCleanly();
});
