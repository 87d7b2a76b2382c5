import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { readBook } from '../../core/shop/book-file.ts';
import { importLog } from '../../core/run/import-log.ts';
import { bookRun, fillBook } from './fill-book.ts';
import { openBench, type TestBench } from './open-window.ts';
import { goTo } from './page-steps.ts';

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

async function openLogbook(page: Page, runs: number): Promise<void> {
  await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
  await fillBook(page, runs, 60);
  await page.reload();
  await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
  await goTo(page, 'Logbook');
  await page.getByText(`${runs} of ${runs} runs`).waitFor();
}

const rows = (page: Page) => page.getByRole('listbox', { name: 'Runs' }).getByRole('option');

test('search, open, write up, compare, repeat, export', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await openLogbook(page, 12);
  await page.getByLabel(/^Search name/).fill('streaky');
  await page.getByText('2 of 12 runs').waitFor(); // 0 and 7
  await page.getByLabel(/^Search name/).fill('');
  await page.getByRole('button', { name: /Outcome/ }).click();
  await page.getByRole('option', { name: 'failed', exact: true }).click();
  await page.getByText('2 of 12 runs').waitFor(); // 3 and 8
  await page.getByRole('button', { name: /Outcome/ }).click();
  await page.getByRole('option', { name: 'any', exact: true }).click();

  // The list by keyboard: newest first, one down, open.
  await page.getByRole('listbox', { name: 'Runs' }).focus();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  const desk = page.getByRole('region', { name: 'Logbook page' });
  await desk.getByRole('heading', { name: 'Plate 10' }).waitFor();
  await desk.getByRole('img', { name: /Volts and amps over 119 minutes/ }).waitFor();
  // Its readings by the keyboard, each in words: the last is that of the 120th minute, 0.04 m² at 140 A/m².
  const walk = desk.getByRole('slider', { name: 'Readings, one by one' });
  await walk.press('End');
  const said = /^1 h 59 min: \d+\.\d\d V, 5\.60 A/;
  await expect.poll(() => walk.getAttribute('aria-valuetext')).toMatch(said);
  await desk.getByText(said).waitFor();
  await walk.press('ArrowLeft');
  await expect.poll(() => walk.getAttribute('aria-valuetext')).toMatch(/^1 h 58 min: /);
  await walk.press('Escape');
  await expect.poll(() => walk.getAttribute('aria-valuetext')).toBe('none chosen yet');
  await desk.getByRole('button', { name: 'Closer' }).click();
  await desk.getByRole('button', { name: 'Whole run' }).click();

  // Written up: kept, and there after a reload.
  await desk.getByRole('radio', { name: 'usable, with a flaw' }).click();
  await desk.getByLabel(/^Film, eddy-current/).fill('24.1 25.3');
  await page.keyboard.press('Enter');
  await desk.getByRole('button', { name: /^25.3 µm/ }).waitFor();
  await desk.getByLabel('Colour, in words').fill('deep blue');
  await desk.getByLabel('Note').fill('second from the left');
  await page.keyboard.press('Tab');
  await page.getByLabel(/^Search name/).fill('deep left');
  await page.getByText('1 of 12 runs').waitFor(); // both are in the book: neither field undid the other
  await page.reload();
  await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
  await goTo(page, 'Logbook');
  await page.getByLabel(/^Search name/).fill('deep left');
  await page.getByText('1 of 12 runs').waitFor();
  await rows(page).first().click();
  await expect.poll(() => desk.getByLabel('Note').inputValue()).toBe('second from the left');

  // A photo gives the colour by the white paper in it: a part of 20, 20 and 60 % beside paper of 85 %, under a warm lamp.
  const base64 = await page.evaluate(() => {
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [400, 200];
    const context = canvas.getContext('2d')!;
    const srgb = (linear: number): number => Math.round(255 * (1.055 * linear ** (1 / 2.4) - 0.055));
    const light = [0.95, 0.8, 0.6];
    [0.2, 0.85].forEach((part, right) => {
      const share = right ? [part, part, part] : [part, part, 0.6];
      context.fillStyle = `rgb(${share.map((r, i) => srgb(r * light[i]!)).join(',')})`;
      context.fillRect(200 * right, 0, 200, 200);
    });
    return canvas.toDataURL('image/png').split(',')[1]!;
  });
  const buffer = Buffer.from(base64, 'base64');
  await desk
    .getByLabel('Photo', { exact: true })
    .setInputFiles({ name: 'part.png', mimeType: 'image/png', buffer });
  await desk.getByRole('button', { name: /^Read the colour/ }).click();
  // By the keyboard alone: the patches lie on part and paper as the picture opens.
  await desk.getByRole('button', { name: /^Keep L\*/ }).press('Enter');
  const row = desk.getByRole('table').getByRole('row', { name: /^Colour/ });
  await row.getByText(/^deep blue; L\* \d+, a\* \d+, b\* -\d+$/).waitFor();
  // Light of 20, 20 and 60 % is a blue of L* 55.0, a* 19.7, b* −41.4 (IEC 61966-2-1 and CIE 1976, by hand).
  const read = (await row.innerText())
    .match(/L\* (\S+), a\* (\S+), b\* (\S+)/)!
    .slice(1)
    .map(Number);
  [55, 19.7, -41.4].forEach((value, i) => expect(Math.abs(read[i]! - value)).toBeLessThan(3));

  // Its readings as CSV are the readings.
  const [csv] = await Promise.all([
    page.waitForEvent('download'),
    desk.getByRole('button', { name: 'Readings as CSV' }).click(),
  ]);
  const log = importLog(readFileSync(await csv.path(), 'utf8'));
  if (!log.ok) throw new Error(log.error.message);
  expect(log.value.readings.tS.length).toBe(120);
  expect(log.value.readings.currentA.at(-1)).toBeCloseTo(0.04 * 140, 9);

  // Two side by side: what differs is marked.
  await page.getByLabel(/^Search name/).fill('');
  await desk.getByRole('button', { name: 'Compare with another run' }).click();
  await rows(page).filter({ hasText: 'Plate 9' }).click();
  const table = desk.getByRole('table', { name: 'Settings side by side' });
  await table.getByRole('columnheader', { name: 'Plate 9' }).waitFor();
  expect(await table.getByRole('row', { name: /^Density/ }).getAttribute('class')).toContain('differs');
  expect(await table.getByRole('row', { name: /^Ramp/ }).getAttribute('class')).not.toContain('differs');
  await desk.getByRole('img', { name: /Plate 10 and Plate 9/ }).waitFor();
  await desk.getByRole('button', { name: 'End comparing' }).click();

  await desk.getByRole('button', { name: 'Repeat it as a new job' }).click();
  await expect.poll(() => page.getByLabel('Job name').inputValue()).toBe('Plate again');
  // The run was the second load of two: its one piece alone, the job's four an undo away.
  await page
    .getByText('The run you repeat was load 2 of 2: 1 × plate. The job has these pieces alone.')
    .waitFor();
  await goTo(page, 'Part');
  const quantity = page.getByRole('textbox', { name: 'How many of this part' });
  expect(await quantity.inputValue()).toBe('1');
  await page.getByRole('button', { name: 'Undo' }).click();
  await expect.poll(() => quantity.inputValue()).toBe('4');
  await closeCleanly();
});

test('learning is offered with its runs and picture, and goes into the job by the button alone', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await openLogbook(page, 12);
  await page.getByRole('button', { name: 'What these runs teach' }).click();
  const charge = page.getByRole('region', { name: 'Charge constant' });
  await charge.getByText('From 12 runs.').waitFor();
  await charge.getByRole('img', { name: /Charge constant of each of 12 runs/ }).waitFor();
  await goTo(page, 'Current');
  expect(await page.getByRole('textbox', { name: 'Charge constant' }).inputValue()).toContain('3.051'); // 720 A·min/ft²/mil
  await goTo(page, 'Logbook');
  await charge.getByRole('button', { name: 'Use it in this job' }).click();
  await charge.getByText('In use in this job').waitFor();
  await goTo(page, 'Current');
  // Films were made up with 1.9e10 C/m³ = 3.167 A·min/dm²/µm and a spread of ±1 % that is even about it.
  expect(
    Number.parseFloat(await page.getByRole('textbox', { name: 'Charge constant' }).inputValue()),
  ).toBeCloseTo(1.9e10 / 6e9, 2);
  await page.getByRole('button', { name: 'Show working of Power on' }).click();
  await page.getByText('12 runs of this shop (your own runs)').first().waitFor();
  await closeCleanly();
});

test('backed up as one file, restored into an empty book without loss and twice without doubles', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await openLogbook(page, 12);
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Back up the whole book' }).click(),
  ]);
  const buffer = readFileSync(await file.path());
  const book = readBook(new Uint8Array(buffer));
  if (!book.ok) throw new Error(book.error.message);
  expect(book.value.runs).toHaveLength(12);
  expect(book.value.readings.get('book-3')).toEqual(bookRun(3, 60).readings);
  await closeCleanly();

  const other = await bench.openWindow();
  await other.page.getByRole('contentinfo').getByText('cm²').first().waitFor();
  await goTo(other.page, 'Logbook');
  await other.page.getByText('No run is in the book yet').waitFor();
  const restore = async (): Promise<void> => {
    await other.page
      .locator('input[aria-label="Backup file"]')
      .setInputFiles({ name: 'book.zip', mimeType: 'application/zip', buffer });
  };
  await restore();
  await other.page.getByText('12 entries came new, 0 were newer').waitFor();
  await other.page.getByText('12 of 12 runs').waitFor();
  await restore();
  await other.page
    .getByText('0 entries came new, 0 were newer in the backup and replaced older ones, 12 were already here')
    .waitFor();
  await other.page
    .locator('input[aria-label="Backup file"]')
    .setInputFiles({ name: 'x.zip', mimeType: 'application/zip', buffer: Buffer.from('no zip') });
  const refused = other.page.getByText('is not a backup of a shop’s book');
  await refused.waitFor();
  // The next one that is read takes that back.
  await restore();
  await refused.waitFor({ state: 'detached' });
  await other.closeCleanly();
});

test('the book of an earlier version of the database opens with all it held', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
  // As version 1 made it, before a run's details had a place of their own.
  await page.route('**/blank.html', (route) =>
    route.fulfill({ contentType: 'text/html', body: '<title>blank</title>' }),
  );
  await page.goto(`${bench.address}blank.html`);
  await page.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const gone = indexedDB.deleteDatabase('tankside-shop');
        gone.onsuccess = () => {
          const open = indexedDB.open('tankside-shop', 10);
          open.onupgradeneeded = () => {
            for (const name of ['tanks', 'supplies', 'hangers', 'baths', 'dyes', 'dips', 'photos']) {
              open.result.createObjectStore(name, { keyPath: 'id' });
            }
            const runs = open.result.createObjectStore('runs', { keyPath: 'id' });
            for (const index of ['startedAtMs', 'outcome', 'name']) runs.createIndex(index, index);
            open.result.createObjectStore('readings', { keyPath: 'runId' });
          };
          open.onsuccess = () => {
            const write = open.result.transaction('supplies', 'readwrite');
            write.objectStore('supplies').put({
              id: 's1',
              changedAtMs: 1,
              record: { id: 's1', name: 'Old bench supply', currentLimitA: 10, voltageLimitV: 30 },
            });
            write.oncomplete = () => {
              open.result.close();
              resolve();
            };
          };
          open.onerror = () => reject(open.error);
        };
      }),
  );
  await page.goto(bench.address);
  await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
  await goTo(page, 'Logbook');
  await page.getByText('No run is in the book yet').waitFor();
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Back up the whole book' }).click(),
  ]);
  const book = readBook(new Uint8Array(readFileSync(await file.path())));
  if (!book.ok) throw new Error(book.error.message);
  expect(book.value.shelves.supplies.map(({ record }) => (record as { name: string }).name)).toEqual([
    'Old bench supply',
  ]);
  await closeCleanly();
});

test('a window of an older version that holds the book is said, and waited for', async () => {
  const { page, context, closeCleanly } = await bench.openWindow();
  await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
  await context.route('**/blank.html', (route) =>
    route.fulfill({ contentType: 'text/html', body: '<title>blank</title>' }),
  );
  await page.goto(`${bench.address}blank.html`);
  await page.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const gone = indexedDB.deleteDatabase('tankside-shop');
        gone.onsuccess = () => {
          // Held open, deaf to everybody who wants to upgrade it.
          const open = indexedDB.open('tankside-shop', 10);
          open.onupgradeneeded = () => void open.result.createObjectStore('tanks', { keyPath: 'id' });
          open.onsuccess = () => resolve();
          open.onerror = () => reject(open.error);
        };
      }),
  );
  const newer = await context.newPage();
  await newer.goto(bench.address);
  await newer.getByText('older version of the program holds the shop’s book').waitFor();
  await page.close();
  await newer.getByRole('contentinfo').getByText('cm²').first().waitFor();
  await goTo(newer, 'Logbook');
  await newer.getByText('No run is in the book yet').waitFor();
  await closeCleanly();
});
