import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { launchProfile } from './launch-browser.ts';
import { openBench, type TestBench } from './open-window.ts';
import { boxStl } from './box-stl.ts';
import { dropFile, goTo, type } from './page-steps.ts';

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

/** Says yes where warnings are still open. */
async function startRun(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Start this run' }).click();
  const allTheSame = page.getByRole('button', { name: 'Start all the same' });
  await allTheSame
    .or(page.getByLabel(/^V\s+A/))
    .first()
    .waitFor();
  if (await allTheSame.isVisible()) await allTheSame.click();
}

async function toRunStage(page: Page): Promise<void> {
  await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
  const hints = page.getByRole('button', { name: 'Got it' });
  if ((await hints.count()) > 0) await hints.click();
  await goTo(page, 'The run');
}

/** Begins and goes on to the ramp. */
async function toRamp(page: Page): Promise<void> {
  await page.getByRole('button', { name: /^Begin/ }).click();
  for (;;) {
    const next = page.getByRole('button', { name: /^Next: / });
    const label = await next.textContent();
    await next.click();
    if (label?.includes('ramp to')) return;
  }
}

/** What the book holds of the only run, read past the program's own code. */
async function storedRun(page: Page): Promise<{
  record: {
    outcome: string;
    origin: string;
    events: { kind: string; atS: number; areaLeft: [number, number] }[];
    clock: { marks: { kind: string; text?: string }[] };
    facts: { chargeC: number; durationS: number; gapS: number; readings: number } | null;
    film: { valueM: number } | null;
    log: { kind: string; text: string }[];
    plan: { areaM2: number; currentDensityAPerM2: number; rampS: number };
  };
  readingsBytes: number;
  fresh: number;
}> {
  return page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const open = indexedDB.open('tankside-shop');
        open.onerror = () => reject(open.error);
        open.onsuccess = () => {
          const database = open.result;
          const look = database.transaction(['runDetails', 'readings', 'freshReadings']);
          const detail = look.objectStore('runDetails').getAll();
          const packed = look.objectStore('readings').getAll();
          const fresh = look.objectStore('freshReadings').count();
          look.oncomplete = () => {
            database.close();
            resolve({
              record: detail.result[0].record,
              readingsBytes: packed.result[0]?.bytes.length ?? 0,
              fresh: fresh.result,
            });
          };
        };
      }),
  );
}

test('typed readings: a number and Enter, film and end at once, found again after a reload, kept as a record', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await toRunStage(page);
  await startRun(page);
  await page.getByLabel(/^V\s+A/).waitFor();
  expect(await page.getByLabel(/^V\s+A/).isDisabled()).toBe(true);
  await toRamp(page);
  await expect.poll(() => page.evaluate(() => document.activeElement?.id)).toBe('typed-reading');
  await page.waitForTimeout(400); // so that the zero at power on is a moment of its own
  await page.keyboard.type('5.2 1.1 20');
  await page.keyboard.press('Enter');
  await page.keyboard.type('6.1');
  await page.getByText('6.1 V, 1.1 A as before').waitFor();
  await page.keyboard.press('Enter');
  await page.getByText(/readings?; last/).waitFor();
  await page.getByRole('button', { name: 'Note…' }).click();
  await page.keyboard.type('stirrer was off');
  await page.keyboard.press('Enter');
  await page.getByText('stirrer was off').waitFor();

  await page.reload();
  // The window that had the run opens on it.
  await page.getByText('is still going on').waitFor();
  await page.getByText('stirrer was off').waitFor();
  await page.getByRole('heading', { name: /^Power on, ramp to/ }).waitFor();
  await expect.poll(() => page.getByLabel('Run board').getByText('6.10').count()).toBe(1);
  // The board over the whole window hides no notice.
  await page.getByRole('button', { name: 'Fill the window' }).click();
  await page.getByLabel('Run board').getByText('is still going on').waitFor();
  await page.keyboard.press('Escape');
  await page.getByText('is still going on').waitFor();

  await page.getByRole('button', { name: 'End the run early…' }).click();
  // The question opens in sight, and names what flows: ending the run switches nothing off.
  const end = page.getByRole('group', { name: 'End the run?' });
  await end.getByText(/ago, 1\.10 A flowed: switch the supply off first/).waitFor();
  await page.getByRole('button', { name: 'I looked: it is off. End the run' }).click();
  await page.getByText('is in the logbook').waitFor();
  await expect.poll(async () => (await storedRun(page)).record.outcome).toBe('unjudged');
  const { record, fresh, readingsBytes } = await storedRun(page);
  expect(record.origin).toBe('typed');
  expect(record.clock.marks.filter(({ kind }) => kind === 'note').map(({ text }) => text)).toEqual([
    'stirrer was off',
  ]);
  // Zero at power on and the two typed; packed, nothing left over.
  expect(record.facts!.readings).toBe(3);
  expect(fresh).toBe(0);
  expect(readingsBytes).toBeGreaterThan(10);

  // Taken out of the book, it takes its model along: no other run was made with it.
  const models = (): Promise<number> =>
    page.evaluate(
      () =>
        new Promise((resolve) => {
          const open = indexedDB.open('tankside-shop');
          open.onsuccess = () => {
            const count = open.result.transaction('models').objectStore('models').count();
            count.onsuccess = () => {
              open.result.close();
              resolve(count.result);
            };
          };
        }),
    );
  expect(await models()).toBe(1);
  await goTo(page, 'Logbook');
  await page.getByRole('listbox', { name: 'Runs' }).getByRole('option').first().click();
  await page.getByRole('button', { name: 'Remove…' }).click();
  await page.getByRole('button', { name: 'Remove it' }).click();
  await page.getByText('0 of 0 runs').waitFor();
  expect(await models()).toBe(0);
  await closeCleanly();
});

test('ended under current: the call comes back after a reload, a closed window and a killed browser, until the supply is said to be off', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'tankside-profile-'));
  const open = async (): Promise<[BrowserContext, Page]> => {
    const context = await launchProfile(folder);
    const page = context.pages()[0] ?? (await context.newPage());
    page.on('dialog', (dialog) => void dialog.accept());
    await page.goto(bench.address);
    return [context, page];
  };
  const call = (page: Page) =>
    page.getByRole('alert').getByText('The run was ended under current, 1.10 A at the last reading.');
  let [context, page] = await open();
  try {
    await toRunStage(page);
    await startRun(page);
    await toRamp(page);
    await page.keyboard.type('5.2 1.1 20');
    await page.keyboard.press('Enter');
    await page.getByText(/readings?; last/).waitFor();
    await page.getByRole('button', { name: 'End the run early…' }).click();
    await page.getByRole('button', { name: 'End it all the same' }).click();
    await call(page).waitFor();

    await page.reload();
    await call(page).waitFor();
    await page.getByText('but the supply was left on').waitFor();
    // Nothing new begins under it, at no stage is it out of sight.
    expect(await page.getByRole('button', { name: 'Start this run' }).count()).toBe(0);
    await goTo(page, 'Bath');
    await call(page).waitFor();

    const before = page;
    page = await context.newPage();
    await before.close();
    await page.goto(bench.address);
    await call(page).waitFor();

    const crashed = context.waitForEvent('close');
    const devtools = await context.newCDPSession(page);
    void devtools.send('Browser.crash').catch(() => {});
    await crashed;
    [context, page] = await open();
    await call(page).waitFor();
    await page.getByRole('button', { name: 'I looked: the supply is off' }).click();
    await call(page).waitFor({ state: 'detached' });
    await page.getByText('is in the logbook').waitFor();
    await expect.poll(async () => (await storedRun(page)).record.outcome).toBe('unjudged');

    await page.reload();
    await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
    await goTo(page, 'The run');
    await page.getByRole('button', { name: 'Start this run' }).waitFor();
    expect(await call(page).count()).toBe(0);
  } finally {
    await context.close();
    rmSync(folder, { recursive: true, force: true });
  }
}, 60_000);

test('a simulated two-hour run at speed: contact lost at minute 30, page loaded again twice, the right record', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await page.getByRole('contentinfo').getByText('cm²').first().waitFor();
  // About two hours: 50 µm at the planned density.
  await goTo(page, 'Current');
  await page.getByLabel('Film thickness').fill('50 µm');
  await toRunStage(page);
  await page.getByRole('button', { name: /^Practise/ }).click();
  await page.getByRole('button', { name: /What goes wrong/ }).click();
  await page.getByRole('option', { name: 'A contact lets go', exact: true }).click();
  await page.getByLabel('When, after power on').fill('30 min');
  await page.getByLabel('Share of the area').fill('40 %');
  await page.getByRole('radio', { name: '600 ×' }).click();
  await page.getByRole('button', { name: 'Start practising' }).click();
  await toRamp(page);
  const ribbon = page.getByText('Practise: simulated supply, no real run');
  await ribbon.waitFor();
  const readings = async (): Promise<number> =>
    Number.parseInt((await page.getByText(/readings?; last/).textContent()) ?? '0', 10);

  await expect.poll(readings, { timeout: 20_000 }).toBeGreaterThan(70); // past the ramp of five minutes
  // Its time over, the ramp has become the hold by itself.
  await page.getByText('The ramp’s time is over').waitFor();
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^The run\s*Hold/ })
    .waitFor();
  const before = await readings();
  await page.reload();
  await page.getByText('is still going on').waitFor();
  await toRunStage(page);
  await ribbon.waitFor();
  expect(await readings()).toBeGreaterThanOrEqual(before);

  // The alarm stands over every stage until somebody silences it.
  await goTo(page, 'Faces');
  const alarm = page.locator('.alarm-banner[role=alert]').filter({ hasText: 'has lost contact' });
  await alarm.waitFor({ timeout: 30_000 });
  await alarm.getByText('stripped and done again').waitFor();
  await alarm.getByText('simulated').waitFor();
  await alarm.getByRole('button', { name: 'Go to the run' }).click();
  // Slowly from here, so that a busy machine does not see the end of the hold in the same moment.
  await page.getByRole('radio', { name: '10 ×' }).click();
  await alarm.getByRole('button', { name: 'Silence' }).click();
  await alarm.waitFor({ state: 'detached' });
  // Quiet, it stands on until somebody says that it is dealt with.
  const stands = page.locator('.alarm-banner').filter({ hasText: 'has lost contact' });
  await stands.waitFor();

  await page.reload();
  await page.getByText('is still going on').waitFor();
  await toRunStage(page);
  // Silenced stays silenced; what was said stays in sight.
  await page.getByText(/after power on: It looks as if/).waitFor();
  await stands.getByRole('button', { name: 'It is dealt with' }).click();
  await stands.waitFor({ state: 'detached' });
  await page.getByRole('radio', { name: '600 ×' }).click();
  await expect.poll(readings, { timeout: 30_000 }).toBeGreaterThan(1440); // two hours, one each 5 s

  // The film of what kept contact is done, and that rings: power off before hands go in.
  const done = page.locator('.alarm-banner').filter({ hasText: 'Hold done' });
  await done.getByText('switch the supply off, then hands in').waitFor({ timeout: 30_000 });
  const board = page.getByLabel('Run board');
  await page.getByRole('button', { name: /^Next: Power off/ }).click();
  // That Next was pressed says nothing of the switch: it is read on, and rings.
  await page.getByRole('radio', { name: '10 ×' }).click();
  await board.getByText('POWER IS STILL ON: hands out.').waitFor();
  await page.locator('.alarm-banner[role=alert]').getByText('Current still flows').waitFor();
  await page.getByRole('button', { name: 'Switch the supply off' }).click();
  await board.getByText('POWER OFF at the supply first, then hands in.').waitFor();
  await page.locator('.alarm-banner').getByText('Current still flows').waitFor({ state: 'detached' });
  for (;;) {
    const next = page.getByRole('button', { name: /^(Next: |Done)/ });
    const label = await next.textContent();
    await next.click();
    if (label?.startsWith('Done')) break;
  }
  await page.getByText('is in the logbook').waitFor();
  await expect.poll(async () => (await storedRun(page)).record.outcome).toBe('unjudged');
  const { record } = await storedRun(page);
  expect(record.origin).toBe('simulated');
  const lost = record.events.filter(({ kind }) => kind === 'contact-lost');
  expect(lost).toHaveLength(1);
  expect(lost[0]!.atS).toBeGreaterThan(1800);
  expect(lost[0]!.atS).toBeLessThanOrEqual(1860);
  expect(lost[0]!.areaLeft[0]).toBeLessThanOrEqual(0.6);
  expect(lost[0]!.areaLeft[1]).toBeGreaterThanOrEqual(0.6);
  const { facts, plan } = record;
  // No gap from the two reloads: every five seconds a reading from zero to the end, and some of a supply that is off.
  expect(facts!.gapS).toBe(0);
  expect(facts!.readings).toBeGreaterThanOrEqual(facts!.durationS / 5 + 1);
  // Constant current: planned amps all the time but for half the ramp. 1 % noise a reading means well below 0.2 % of the sum.
  const planned = plan.areaM2 * plan.currentDensityAPerM2 * (facts!.durationS - plan.rampS / 2);
  expect(Math.abs(facts!.chargeC / planned - 1)).toBeLessThan(0.002);
  await closeCleanly();
});

test('two windows: one keeps the run, the other follows it live and takes over', async () => {
  const { page, context, closeCleanly } = await bench.openWindow();
  await toRunStage(page);
  await startRun(page);
  await toRamp(page);
  await page.keyboard.type('5 1 20');
  await page.keyboard.press('Enter');
  const second = await context.newPage();
  await second.goto(bench.address);
  // Before it is opened there, each stage says that a run goes on and leads to it.
  const strip = second.getByRole('region', { name: 'Run in progress' });
  await strip.getByText('A run goes on in another window').waitFor();
  await second.getByRole('contentinfo').getByText('cm²').first().waitFor();
  const hints = second.getByRole('button', { name: 'Got it' });
  if ((await hints.count()) > 0) await hints.click();
  // A second run is asked about before it starts.
  await goTo(second, 'The run');
  await second.getByRole('button', { name: 'Start this run' }).click();
  const asked = second.getByRole('group', { name: 'Another tank?' });
  await asked.getByText(/^A run is on since .* Is this one for another tank\?/).waitFor();
  await asked.getByRole('button', { name: 'Start nothing' }).click();
  await second.getByRole('button', { name: 'Start this run' }).waitFor();
  await goTo(second, 'Part');
  await strip.getByRole('button', { name: 'Follow it here' }).click();
  await second.getByText('Another window keeps this run').waitFor();
  await page.bringToFront();
  await page.getByLabel(/^V\s+A/).fill('7.77');
  await page.keyboard.press('Enter');
  await second.getByLabel('Run board').getByText('7.77').waitFor();
  // The foot is the run's, whatever job is open here.
  await second.getByRole('contentinfo', { name: 'The plan of this run' }).waitFor();
  await page.close();
  await second.getByText('this one keeps it now').waitFor();
  await second.getByRole('button', { name: /^Next: Hold/ }).waitFor();
  await closeCleanly();
});

/** A serial port with a supply at it, played inside the page: what the page writes is kept, what it reads is up to the test. */
function playSerial(): void {
  type Control = {
    heard: string[];
    mode: 'well' | 'silent' | 'noise' | 'split';
    unplug(): void;
    plug(): void;
  };
  let out = false;
  let controller: ReadableStreamDefaultController<Uint8Array> | null = null;
  const control: Control = {
    heard: [],
    mode: 'well',
    unplug() {
      out = true;
      port.readable = null;
      controller?.error(new DOMException('The device has been lost.', 'NetworkError'));
    },
    plug() {
      out = false;
    },
  };
  const say = (text: string): void => controller?.enqueue(new TextEncoder().encode(text));
  const answer = (query: string): void => {
    control.heard.push(query);
    if (control.mode === 'silent') return;
    const text =
      query === '*IDN?'
        ? 'PLAYED,PS-2,0,1'
        : query === 'MEAS:VOLT?'
          ? '15.25'
          : query === 'MEAS:CURR?'
            ? '4.10'
            : '0,"No error"';
    if (control.mode === 'noise') return say('#@!x\n');
    if (control.mode === 'split') {
      [...`${text}\r\n`].forEach((letter, i) => setTimeout(() => say(letter), 5 * i));
      return;
    }
    say(`${text}\r\n`);
  };
  const port = {
    readable: null as ReadableStream<Uint8Array> | null,
    writable: null as WritableStream<Uint8Array> | null,
    async open() {
      if (out) throw new DOMException('Failed to open serial port.', 'NetworkError');
      port.readable = new ReadableStream<Uint8Array>({
        start(made) {
          controller = made;
        },
      });
      port.writable = new WritableStream<Uint8Array>({
        write(bytes) {
          for (const line of new TextDecoder().decode(bytes).split('\n')) if (line !== '') answer(line);
        },
      });
    },
    async close() {
      port.readable = null;
      port.writable = null;
    },
    getInfo: () => ({ usbVendorId: 1, usbProductId: 2 }),
  };
  Object.defineProperty(navigator, 'serial', {
    configurable: true,
    value: { requestPort: async () => port, getPorts: async () => [port] },
  });
  (window as unknown as { playedSupply: Control }).playedSupply = control;
}

test('live from a supply: read only, split lines, silence, noise and an unplugged cable said at once', async () => {
  const { page, context, closeCleanly } = await bench.openWindow();
  await context.addInitScript(playSerial);
  await page.reload();
  await toRunStage(page);
  await startRun(page);
  await toRamp(page);
  await page.getByRole('button', { name: 'Add a supply' }).click();
  await type(page.getByLabel('Ask every, seconds'), '0.5');
  await page.getByRole('button', { name: /^Read Supply 1/ }).click();
  const board = page.getByLabel('Run board');
  await board.getByText('15.25').waitFor();
  await board.getByText('4.10').waitFor();
  await page.getByText('PLAYED,PS-2,0,1').waitFor();
  const played = <T>(
    act: (supply: { mode: string; heard: string[]; unplug(): void; plug(): void }) => T,
  ): Promise<T> => page.evaluate(`(${String(act)})(window.playedSupply)`);

  await played((supply) => void (supply.mode = 'split'));
  await page.waitForTimeout(1500);
  await board.getByText('15.25').waitFor();
  expect(await page.getByRole('alert').count()).toBe(0);

  const lineOut = page.locator('.alarm-banner[role=alert]').filter({ hasText: 'No readings' });
  await played((supply) => void (supply.mode = 'silent'));
  await lineOut.getByText('does not answer').waitFor({ timeout: 8000 });
  // Never a frozen number: nothing stands there that the supply does not say now.
  expect(await board.getByText('15.25').count()).toBe(0);
  await played((supply) => void (supply.mode = 'well'));
  await lineOut.waitFor({ state: 'detached', timeout: 8000 });
  await board.getByText('15.25').waitFor();

  await played((supply) => void (supply.mode = 'noise'));
  await lineOut.getByText('can’t be read').waitFor({ timeout: 8000 });
  await played((supply) => void (supply.mode = 'well'));
  await lineOut.waitFor({ state: 'detached', timeout: 8000 });

  await played((supply) => supply.unplug());
  await lineOut.getByText('cable to the supply is out').waitFor({ timeout: 4000 });
  await page.waitForTimeout(1200);
  await played((supply) => supply.plug());
  await lineOut.waitFor({ state: 'detached', timeout: 8000 });

  const heard = await played((supply) => [...new Set(supply.heard)].sort());
  expect(heard).toEqual(['*IDN?', 'MEAS:CURR?', 'MEAS:VOLT?', 'SYST:ERR?']);
  const { record } = await storedRun(page);
  expect(record.origin).toBe('supply');
  expect(record.log.filter(({ kind }) => kind === 'gap')).toHaveLength(3);
  expect(record.log.filter(({ kind }) => kind === 'back')).toHaveLength(3);
  await closeCleanly();
});

test('a logger’s file with columns in another order is put into the run once they are chosen', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await toRunStage(page);
  await startRun(page);
  await toRamp(page);
  await page.getByRole('button', { name: /^Readings from a logger/ }).click();
  // Headings that say nothing: time in minutes, milliamps before volts, decimal commas.
  const lines = Array.from(
    { length: 61 },
    (_, i) => `${i};${Math.round(4000 * Math.min(1, i / 5))};${15 + (i % 2)},25`,
  );
  const file = { name: 'log.csv', mimeType: 'text/csv', buffer: Buffer.from(`p;q;r\n${lines.join('\n')}\n`) };
  await page.getByLabel('Log file').setInputFiles(file);
  const choose = async (button: RegExp, option: string): Promise<void> => {
    await page.getByRole('button', { name: button }).click();
    await page.getByRole('option', { name: option, exact: true }).click();
  };
  await choose(/Time is in$/, 'minutes');
  await choose(/ Volts$/, '3: r');
  await choose(/ Amps$/, '2: q');
  await page.getByRole('button', { name: /Unit$/ }).last().click();
  await page.getByRole('option', { name: 'mA', exact: true }).click();
  await page.getByText('61 readings from 0.0 to 60.0 min').waitFor();
  await page.getByRole('button', { name: 'Take these 61 readings' }).click();
  await page.getByText('61 readings from log.csv').waitFor();
  // 4 A but for a ramp of five minutes: 4 · (60 − 2.5) min = 3.833 A·h.
  const charge = page.getByRole('region', { name: 'Film and charge' });
  await charge.getByText('3.833 A·h', { exact: true }).waitFor();
  // The log reaches an hour ahead of the run: a reading typed now is refused and said, not dropped.
  await page.getByLabel(/^V\s+A/).fill('15 4');
  await page.keyboard.press('Enter');
  await page.getByText('already reaches beyond this moment').waitFor();
  await closeCleanly();
});

test('a logger’s file in min:s: asked for where it may be hours, set right by a choice, and hours no run has are said', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await toRunStage(page);
  await startRun(page);
  await toRamp(page);
  await page.getByRole('button', { name: /^Readings from a logger/ }).click();
  const put = async (heading: string): Promise<void> => {
    const rows = ['0:00,0,0', '0:20,15,4', '0:40,15.2,4', '1:00,15.4,4'];
    const buffer = Buffer.from(`${heading},volt,amp\n${rows.join('\n')}\n`);
    await page
      .getByLabel('Log file')
      .setInputFiles({ name: `${heading.length}.csv`, mimeType: 'text/csv', buffer });
  };
  // A minute by the second, or an hour by the minute: not taken before somebody says which.
  await put('t');
  await page.getByText('nothing in the log tells which').waitFor();
  expect(await page.getByRole('button', { name: /^Take these/ }).count()).toBe(0);
  const form = page.getByRole('button', { name: /Time is in$/ });
  expect(await form.textContent()).toContain('Choose here');
  await form.click();
  await page.getByRole('option', { name: 'min:s or h:min:s, counted from the start' }).click();
  await page.getByText('4 readings from 0.0 to 1.0 min').waitFor();
  await form.click();
  await page.getByRole('option', { name: 'h:min or h:min:s, a clock’s too' }).click();
  await page.getByText('4 readings from 0.0 to 60.0 min').waitFor();
  // The sheet's own heading says it.
  await put('Min:s');
  await page.getByText('4 readings from 0.0 to 1.0 min').waitFor();
  // Said to be hours all the same, twenty of them: found out before it is taken.
  const hours = Array.from({ length: 5 }, (_, i) => `${5 * i}:00,15,4`).join('\n');
  const buffer = Buffer.from(`time (hh:mm),volt,amp\n${hours}\n`);
  await page.getByLabel('Log file').setInputFiles({ name: 'h.csv', mimeType: 'text/csv', buffer });
  await page.getByText('5 h lie between two readings').waitFor();
  await page.getByText(/times that of the wanted film/).waitFor();
  await closeCleanly();
});

test('no run begins on a unit that is a guess; open warnings are listed before one does', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await toRunStage(page);
  const start = page.getByRole('button', { name: 'Start this run' });
  // A second part of which nobody has said the unit, nor where it hangs.
  await dropFile(page, 'ring.stl', boxStl(30, 20, 10));
  const yes = page.getByRole('button', { name: 'Yes, this mm' });
  await yes.waitFor();
  await goTo(page, 'The run');
  expect(await start.isDisabled()).toBe(true);
  await goTo(page, 'Part');
  await yes.click();
  await goTo(page, 'The run');
  await start.click();
  const question = page.getByText(/still open\. Start all the same\?/);
  await question.waitFor();
  await page.getByRole('button', { name: /Look at (it|them) first/ }).click();
  await expect.poll(() => question.count()).toBe(0);
  await goTo(page, 'The run');
  await start.click();
  await page.getByRole('button', { name: 'Start all the same' }).click();
  await page.getByLabel(/^V\s+A/).waitFor();
  await closeCleanly();
});

test('a slip at the hold: asked before it ends, and a way back after a step', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await toRunStage(page);
  await startRun(page);
  await toRamp(page);
  const board = page.getByLabel('Run board');
  await board.getByText('Hands out of the tank BEFORE the power goes on.').waitFor();
  await page.getByRole('button', { name: /^Next: Hold/ }).click();
  await board.getByText(/^POWER IS ON: hands out/).waitFor();
  const heading = (name: RegExp) => board.getByRole('heading', { name });
  await page.getByRole('button', { name: /^Next: Power off/ }).click();
  const asked = page.getByRole('group', { name: 'End the hold?' });
  await asked.getByText(/The hold is not done: \d+:\d\d left/).waitFor();
  await asked.getByRole('button', { name: 'Go on with the hold' }).click();
  await heading(/^Hold/).waitFor();
  await page.getByRole('button', { name: /^Next: Power off/ }).click();
  await asked.getByRole('button', { name: 'End the hold now' }).click();
  await heading(/^Power off/).waitFor();
  // Nobody reads: nothing shows the supply off until somebody has looked.
  await board.getByText('POWER MAY BE ON: switch the supply off first').waitFor();
  await board.getByRole('button', { name: 'I looked: the supply is off' }).click();
  await board.getByText('POWER OFF at the supply first, then hands in.').waitFor();
  await page.getByRole('button', { name: /Back to: Hold/ }).click();
  await heading(/^Hold/).waitFor();
  // A run that is over still asks what nobody has seen yet.
  await page.getByRole('button', { name: 'End the run early…' }).click();
  await page.getByRole('button', { name: 'End it all the same' }).click();
  await board.getByText('The run is over').waitFor();
  await board.getByText('POWER MAY BE ON: switch the supply off first').waitFor();
  await board.getByRole('button', { name: 'I looked: the supply is off' }).click();
  await expect.poll(() => board.getByText(/^POWER MAY BE ON/).count()).toBe(0);
  await closeCleanly();
});

test('a number that can not be is asked about, with what was perhaps meant, and nothing is lost', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await toRunStage(page);
  await startRun(page);
  await toRamp(page);
  const field = page.getByLabel(/^V\s+A/);
  const form = page.getByRole('region', { name: 'Readings' });
  // The demo's supply gives 30 V, its plan is 3.11 A at about 15 V.
  await field.fill('145 3.2 20');
  await field.press('Enter');
  await form.getByText('145 V is more than the supply gives (30.0 V).').waitFor();
  expect(await field.inputValue()).toBe('145 3.2 20');
  await form.getByRole('button', { name: 'Change it' }).click();
  await field.fill('3.2 14.5 20');
  await field.press('Enter');
  await form.getByText('volts and amps look exchanged').waitFor();
  await form.getByRole('button', { name: 'No, take 14.5 V, 3.2 A' }).click();
  await page.getByLabel('Run board').getByText('14.50').waitFor();
  await field.fill('14.6 3.2 68');
  await field.press('Enter');
  await form.getByText(/68.0 °C is far from the plan’s 20.0 °C; is the thermometer in °F/).waitFor();
  await form.getByRole('button', { name: 'Yes, take it as it is' }).click();
  await page.getByLabel('Run board').getByText('68.0').waitFor();
  // Put right, an earlier one is asked about as a new one is, and may be put right again.
  await form.getByRole('button', { name: 'Put one right…' }).click();
  const right = form.getByRole('group', { name: 'Put a reading right' });
  await right.getByLabel(/^The reading at/).fill('999 3.2');
  await page.keyboard.press('Enter');
  await right.getByText('999 V is more than the supply gives (30.0 V).').waitFor();
  await right.getByRole('button', { name: 'Change it' }).click();
  await right.getByLabel(/^The reading at/).fill('14.7 3.2');
  await right.getByRole('button', { name: 'Put it right' }).click();
  await page.getByText(/^Put right: the reading at .*, 14.6 V and 3.2 A, was 14.7 V and 3.2 A\.$/).waitFor();
  await page.getByLabel('Run board').getByText('14.70').waitFor();
  await closeCleanly();
});

test('hands at the simulated supply: a short calls for power off, the load is moved clear, and the volts come back', async () => {
  const { page, context, closeCleanly } = await bench.openWindow();
  await toRunStage(page);
  await page.getByRole('button', { name: /^Practise/ }).click();
  await page.getByRole('button', { name: /What goes wrong/ }).click();
  await page.getByRole('option', { name: 'The load touches the cathode', exact: true }).click();
  await page.getByLabel('When, after power on').fill('10 min');
  await page.getByRole('radio', { name: '60 ×' }).click();
  await page.getByRole('button', { name: 'Start practising' }).click();
  await toRamp(page);
  // Another window, at another stage, with nothing of the run in it.
  const second = await context.newPage();
  await second.goto(bench.address);
  await second.getByRole('region', { name: 'Run in progress' }).waitFor();
  await page.bringToFront();
  await page.getByRole('radio', { name: '600 ×' }).click();
  const banner = page.locator('.alarm-banner').filter({ hasText: 'touches the cathode' });
  await banner.waitFor({ timeout: 30_000 });
  await page.getByRole('radio', { name: '60 ×' }).click();
  const there = second.locator('.alarm-banner').filter({ hasText: 'touches the cathode' });
  await there.getByText('in another window').waitFor();
  await there.getByRole('button', { name: 'Silence in this window' }).click();
  await there.getByRole('button', { name: 'Silence in this window' }).waitFor({ state: 'detached' });
  await banner.getByRole('button', { name: 'Silence' }).click();
  await there.getByRole('button', { name: 'Follow it here' }).waitFor();
  await second.close();
  const hands = page.getByRole('region', { name: 'Your hands' });
  const volts = async (): Promise<number> =>
    Number.parseFloat((await page.locator('.board-figure .board-value').first().textContent()) ?? '');
  await expect.poll(volts).toBeLessThan(3);
  await hands.getByRole('button', { name: 'Clamp the load again' }).click();
  await hands.getByText('Switch the supply off first').waitFor();
  await hands.getByRole('button', { name: 'Switch the supply off' }).click();
  await hands.getByRole('button', { name: 'Clamp the load again' }).click();
  await hands.getByRole('button', { name: 'Switch the supply on' }).click();
  await expect.poll(volts, { timeout: 20_000 }).toBeGreaterThan(8);
  await closeCleanly();
});
