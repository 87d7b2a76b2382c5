import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { unpackJob } from '../../core/job/container.ts';
import { fileOf } from '../../core/job/part-source.ts';
import { boxStl } from './box-stl.ts';
import { dropFile, goTo, planButton, planFigure, type, waitForPlan } from './page-steps.ts';
import { openBench, ROOT, type TestBench } from './open-window.ts';

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

const pagesIn = (pdf: Buffer): number | undefined =>
  pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g)?.length;

const DEMO = join(ROOT, 'assets', 'demo', 'dovetail-plate.stl');

test('the first start shows the demo, planned, without a warning', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  expect(await page.getByLabel('Job name').inputValue()).toBe('Demo: dovetail plate');
  expect(await planFigure(page, 'Open warnings')).toBe(0);
  await page.getByText('already planned').waitFor();
  await closeCleanly();
});

// One sheet of paper printed on both sides: what to prepare on the first page, steps and readings on the second.
test('the sheet of the demo takes two pages, metric or US, on A4 and on Letter', async () => {
  for (const locale of ['en-US', 'en-GB']) {
    const { page, closeCleanly } = await bench.openWindow({ locale });
    await waitForPlan(page);
    await goTo(page, 'Run sheet');
    const sheet = page.getByRole('article', { name: 'Run sheet' });
    await sheet.getByRole('img').waitFor();
    // Until its pins have been looked at, that stands on the sheet.
    await sheet.getByText('Still open when printed').waitFor({ state: 'detached' });
    for (const format of ['A4', 'Letter'])
      expect(pagesIn(await page.pdf({ format })), `${locale} on ${format}`).toBe(2);
    await closeCleanly();
  }
}, 60_000);

test('drop, confirm the unit, mask a face, pin a contact, print, save, reload: all as before', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await dropFile(page, 'box.stl', boxStl(100, 50, 20));
  await expect.poll(() => page.getByLabel('Job name').inputValue(), { timeout: 20_000 }).toBe('box');

  // Unit: a guess is said wherever a figure rests on it, and gone once confirmed.
  await page.getByText('mm is a guess from the size').waitFor();
  await expect
    .poll(() => planButton(page, '^Area taking current').textContent())
    .toContain('unit not confirmed');
  await page.getByRole('button', { name: 'Yes, this mm' }).click();
  await expect
    .poll(() => planButton(page, '^Area taking current').textContent())
    .not.toContain('not confirmed');

  // 2 (100·50 + 100·20 + 50·20) mm² = 160 cm²; at the metric 1.3 A/dm² that is 2.08 A.
  expect(await planFigure(page, '^Area taking current')).toBeCloseTo(160, 6);
  const before = await planFigure(page, '^Current');
  expect(before).toBeCloseTo(1.3 * 1.6, 2);

  // Mask the 100 × 50 face that starts the list: 110 of 160 cm² are left.
  await goTo(page, 'Faces');
  await page.getByRole('grid', { name: 'Faces' }).getByRole('row', { name: /^f1 / }).click();
  await page.getByRole('button', { name: 'Mask', exact: true }).click();
  await expect.poll(() => planFigure(page, '^Area taking current')).toBeCloseTo(110, 6);
  // Printed to three digits, so the ratio is good to half a unit of the third.
  expect((await planFigure(page, '^Current')) / before).toBeCloseTo(110 / 160, 2);

  // Undo and redo by keyboard.
  await page.keyboard.press('Control+z');
  await expect.poll(() => planFigure(page, '^Area taking current')).toBeCloseTo(160, 6);
  await page.keyboard.press('Control+y');
  await expect.poll(() => planFigure(page, '^Area taking current')).toBeCloseTo(110, 6);

  // A pin on face f2; its round patch of 3 mm takes π·1.5² mm² = 0.0707 cm² off.
  await page.getByRole('grid', { name: 'Faces' }).getByRole('row', { name: /^f1 / }).click();
  await page.getByRole('grid', { name: 'Faces' }).getByRole('row', { name: /^f2 / }).click();
  await goTo(page, 'Hanging');
  await page.getByRole('button', { name: 'Pin in the middle of the selected face' }).click();
  await page.getByRole('region', { name: 'Pin 1' }).waitFor();
  await goTo(page, 'Faces');
  const coated = await page.getByRole('row', { name: /^cm²/ }).locator('td').first().textContent();
  expect(Number(coated)).toBeCloseTo(110 - 0.0225 * Math.PI, 1);

  // The sheet names the masked face and the pin, and prints to a PDF of its own.
  await goTo(page, 'Run sheet');
  const sheet = page.getByRole('article', { name: 'Run sheet' });
  await sheet.getByText('f1', { exact: false }).first().waitFor();
  await sheet.getByRole('img').waitFor();
  const pdf = await page.pdf({ format: 'A4' });
  expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
  expect(pagesIn(pdf)).toBe(2);

  // Save, and hold the file against what was done.
  const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
  const saved = unpackJob(new Uint8Array(readFileSync(await download.path())));
  if (!saved.ok) throw new Error(saved.error.message);
  const [part] = saved.value.job.parts;
  expect(part).toMatchObject({ unit: 'mm', unitConfirmed: true, quantity: 1 });
  expect(part!.contacts).toHaveLength(1);
  expect(saved.value.models.get(fileOf(part!)!.entry)).toEqual(new Uint8Array(boxStl(100, 50, 20)));
  await page.getByText('saved as box.tankside').waitFor();

  // Reload: the same figures, the same pin.
  const shown = [
    await planFigure(page, '^Area taking current'),
    await planFigure(page, '^Current'),
    await planFigure(page, '^Power on'),
  ];
  await page.reload();
  await waitForPlan(page);
  expect(await page.getByLabel('Job name').inputValue()).toBe('box');
  expect([
    await planFigure(page, '^Area taking current'),
    await planFigure(page, '^Current'),
    await planFigure(page, '^Power on'),
  ]).toEqual(shown);
  await goTo(page, 'Hanging');
  await page.getByRole('region', { name: 'Pin 1' }).waitFor();
  await closeCleanly();
});

test('every part of a job has its own picture on the sheet, and the view keeps the part it had', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  for (const [name, length] of [
    ['one', 30],
    ['two', 60],
    ['three', 90],
  ] as const) {
    await dropFile(page, `${name}.stl`, boxStl(length, 30, 10));
    await page.getByText(`${name}.stl, 12 triangles`).waitFor();
  }
  await page
    .getByRole('radio', { name: /^two/ })
    .or(page.getByRole('button', { name: /^two/ }))
    .first()
    .click();
  await goTo(page, 'Run sheet');
  const pictures = page.getByRole('article', { name: 'Run sheet' }).getByRole('img');
  await expect.poll(() => pictures.count(), { timeout: 15_000 }).toBe(3);
  const sources = await pictures.evaluateAll((images) => images.map((image) => image.getAttribute('src')));
  expect(new Set(sources).size).toBe(3);
  await goTo(page, 'Part');
  await page.getByText('two.stl, 12 triangles').waitFor();
  await closeCleanly();
});

test('a wrong, a damaged and a foreign file each say so and leave the open job as it was', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  const before = await planFigure(page, '^Area taking current');
  await dropFile(page, 'page.stl', Buffer.from('<!doctype html><html><body>Sign in</body></html>'));
  await page.getByRole('alert').filter({ hasText: 'page.stl' }).waitFor();
  await dropFile(page, 'cut.stl', boxStl(10, 10, 10).subarray(0, 300));
  await page.getByRole('alert').filter({ hasText: 'cut.stl' }).waitFor();
  await dropFile(page, 'other.tankside', Buffer.from('PK not really a zip'));
  await page.getByRole('alert').filter({ hasText: 'other.tankside' }).waitFor();
  expect(await planFigure(page, '^Area taking current')).toBe(before);
  expect(await page.getByLabel('Job name').inputValue()).toBe('Demo: dovetail plate');
  await closeCleanly();
});

test('an impossible entry is explained at its field and the plan keeps the last good value', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  const before = await planFigure(page, '^Power on');
  const field = page.getByLabel('Film thickness');
  await type(field, '2 km');
  await page.getByText('“km” is not a unit that fits here.').waitFor();
  await page.getByText('The plan still uses 25.4 µm.').waitFor();
  await type(field, '-5 µm');
  await page.getByText('That is outside 0.5 µm to 150 µm.').waitFor();
  expect(await planFigure(page, '^Power on')).toBe(before);
  await field.press('Escape');
  expect(await field.inputValue()).toBe('25.4 µm');
  // What is typed counts as a whole: 1, 10 and 100 µm on the way to 1000 µm, which it refuses, change nothing.
  await field.press('ControlOrMeta+a');
  await field.pressSequentially('1000');
  expect(await planFigure(page, '^Power on')).toBe(before);
  await field.press('Enter');
  await page.getByText('The plan still uses 25.4 µm.').waitFor();
  expect(await planFigure(page, '^Power on')).toBe(before);
  await type(field, '0.4 mil');
  await expect.poll(() => planFigure(page, '^Power on')).toBeLessThan(before);
  await type(page.getByLabel('Ramp from zero to full current'), '60 min');
  await page.getByText('The ramp alone would already pass more charge').first().waitFor();
  await closeCleanly();
});

test('a working that was opened stands open when its stage is looked at again', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await goTo(page, 'Current');
  const working = page.getByRole('button', { name: 'Show working of Charge' });
  await working.click();
  const source = page.locator('.working:visible').getByText('Source:');
  await source.waitFor();
  await goTo(page, 'Faces');
  await goTo(page, 'Current');
  await page.getByRole('button', { name: 'Hide working of Charge' }).click();
  await working.waitFor();
  expect(await source.count()).toBe(0);
  await closeCleanly();
});

test('a supply that is too small is told with what it could hold', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await goTo(page, 'Part');
  await type(page.getByLabel('How many of this part'), '7');
  await goTo(page, 'Current and time');
  const table = page.getByRole('table', { name: 'What the supply can hold' });
  await table.waitFor();
  // A piece with the wire of its two hangers takes 3.11 A, so three go in a load of 10 A, and seven in three loads.
  expect(await planFigure(page, '^Loads')).toBe(3);
  await table.getByRole('button', { name: 'Take one load at this density' }).click();
  await expect.poll(() => planFigure(page, '^Loads')).toBe(1);
  expect(await planFigure(page, '^Current')).toBeCloseTo(10, 1);
  await closeCleanly();
});

test('a job opens again from the chooser and from the list of recent jobs', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await page.getByRole('heading', { name: 'Current and time' }).click(); // keys go where the pointer was
  const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Control+s')]);
  const bytes = readFileSync(await download.path());
  await page.getByRole('button', { name: 'Job ▾' }).click();
  await page.getByRole('menuitem', { name: 'New job' }).click();
  await page.getByText('Drop a model here').waitFor();

  // A part that is in no file yet is not dropped without asking.
  await dropFile(page, 'block.stl', boxStl(60, 40, 10));
  await expect.poll(() => page.getByLabel('Job name').inputValue(), { timeout: 20_000 }).toBe('block');
  const newJob = async (): Promise<void> => {
    await page.getByRole('button', { name: 'Job ▾' }).click();
    await page.getByRole('menuitem', { name: 'New job' }).click();
  };
  await newJob();
  const question = page.getByRole('alertdialog');
  await question.getByRole('button', { name: 'Stay with this job' }).click();
  expect(await page.getByLabel('Job name').inputValue()).toBe('block');
  await newJob();
  const saving = page.waitForEvent('download');
  await question.getByRole('button', { name: /^Save, then/ }).click();
  expect((await saving).suggestedFilename()).toBe('block.tankside');
  await page.getByText('Drop a model here').waitFor();
  await page.getByRole('button', { name: 'Job ▾' }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('menuitem', { name: 'Open a job' }).click(),
  ]);
  await chooser.setFiles({ name: 'kept.tankside', mimeType: 'application/zip', buffer: bytes });
  await waitForPlan(page);
  await page.getByRole('button', { name: 'Job ▾' }).click();
  await page.getByRole('menuitem', { name: /^kept\.tankside/ }).click();
  await waitForPlan(page);
  await closeCleanly();
});

test('where the browser can write to a chosen file, saving again writes there and a full disk is said', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  // The browser's private file system stands in for the chosen file: the same handle, the same writing.
  await page.evaluate(() => {
    Object.assign(window, {
      showSaveFilePicker: async ({ suggestedName }: { suggestedName: string }) => {
        const folder = await navigator.storage.getDirectory();
        return folder.getFileHandle(suggestedName, { create: true });
      },
    });
  });
  const sizeOnDisk = () =>
    page.evaluate(async () => {
      const folder = await navigator.storage.getDirectory();
      const handle = await folder.getFileHandle('Demo- dovetail plate.tankside');
      return (await handle.getFile()).size;
    });
  await page.keyboard.press('Control+s');
  await page.getByText('saved as Demo- dovetail plate.tankside').waitFor();
  const first = await sizeOnDisk();
  expect(first).toBeGreaterThan(1000);
  await goTo(page, 'Part');
  await page.getByLabel('Note on this job').fill('second save '.repeat(500));
  await page.getByText('not saved').waitFor();
  await page.keyboard.press('Control+s');
  await page.getByText('saved as').waitFor();
  expect(await sizeOnDisk()).toBeGreaterThan(first);

  await page.evaluate(() => {
    FileSystemFileHandle.prototype.createWritable = () =>
      Promise.reject(new DOMException('no space', 'QuotaExceededError'));
  });
  await page.getByLabel('Note on this job').fill('third save');
  await page.keyboard.press('Control+s');
  await page.getByText('The disk is full; the old file was left as it was.').waitFor();
  await page.getByText('not saved').waitFor();
  await closeCleanly();
});

test('clicking on the part selects the face under the pointer', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await waitForPlan(page);
  await page.getByRole('button', { name: 'Job ▾' }).click();
  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    page.getByRole('menuitem', { name: 'Open a model' }).click(),
  ]);
  await chooser.setFiles(DEMO);
  await expect
    .poll(() => page.getByLabel('Job name').inputValue(), { timeout: 20_000 })
    .toBe('dovetail-plate');
  await goTo(page, 'Faces');
  await page.getByText('No face selected').waitFor();
  await page.waitForTimeout(1500); // the tree for clicks is built in the worker
  const view = (await page.locator('.viewport').boundingBox())!;
  await page.mouse.click(view.x + view.width / 2, view.y + view.height / 2);
  await page.getByRole('heading', { name: /^Face f\d+/ }).waitFor();
  await page.keyboard.press('m');
  const masked = page.getByRole('row', { name: /^cm²/ }).locator('td').nth(1);
  await expect.poll(async () => Number(await masked.textContent())).toBeGreaterThan(0);
  await closeCleanly();
});
