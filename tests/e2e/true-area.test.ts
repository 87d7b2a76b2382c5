/** The true surface in the real page: a repair accepted and undone, bodies fused, a shape drawn, an area typed. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { writeBinaryStl } from '../../main/demo/write-binary-stl.ts';
import { box, cylinder, placed, Soup, tube } from '../fixtures/shapes.ts';
import { openBench, type TestBench } from './open-window.ts';
import { goTo, type } from './page-steps.ts';

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.close());

const stl = (...parts: Float32Array[]): Uint8Array => {
  const soup = parts.reduce((all, part) => all.add(part), new Soup()).positions;
  return writeBinaryStl(
    soup,
    Uint32Array.from({ length: soup.length / 3 }, (_, i) => i),
    'true area',
  );
};

async function drop(page: Page, name: string, bytes: Uint8Array): Promise<void> {
  const transfer = await page.evaluateHandle(
    ({ base64, fileName }) => {
      const data = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      const carried = new DataTransfer();
      carried.items.add(new File([data], fileName));
      return carried;
    },
    { base64: Buffer.from(bytes).toString('base64'), fileName: name },
  );
  await page.dispatchEvent('.app', 'drop', { dataTransfer: transfer });
  await page.getByLabel('Name', { exact: true }).waitFor();
  await expect
    .poll(() => page.getByLabel('Name', { exact: true }).inputValue())
    .toBe(name.replace('.stl', ''));
}

async function coatedCm2(page: Page): Promise<number> {
  const button = page.getByRole('contentinfo').getByRole('button', { name: /^Area taking current/ });
  return Number.parseFloat((await button.locator('.plan-value').textContent()) ?? '');
}
const ready = async (page: Page): Promise<void> => {
  await expect.poll(() => coatedCm2(page), { timeout: 20_000 }).toBeGreaterThan(0);
};

test('a repair is accepted, seen with its areas, undone and done again', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await ready(page);
  // A block 40 × 30 × 20 without one of its sides, and a speck beside it; 52 cm² with the side, 46 without.
  await drop(page, 'torn.stl', stl(box(40, 30, 20), box(3, 3, 3, [80, 0, 0]).subarray(18)));
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(52.45, 2);
  const findings = page.getByRole('region', { name: 'Findings about the mesh' });
  const closeGap = findings.getByRole('button', { name: 'Close the small gap…' });
  await closeGap.click();
  // Looked at first: figures and marks say what it would do, and the job stays as it is.
  const trial = findings.getByRole('group', { name: 'Close the small gap: what it would change' });
  await trial.getByText('52.4500 → 52.5400 cm²').waitFor();
  expect(await trial.textContent()).toContain('0 changed or left out, 2 changed or new');
  expect(await trial.textContent()).toMatch(/Open edges4 → 0/);
  const legend = page.locator('.view-legend');
  await legend.getByText('Changed or new').waitFor();
  await trial.getByRole('radio', { name: 'As it is' }).click();
  await expect.poll(() => legend.textContent()).not.toContain('Changed or new');
  expect(await coatedCm2(page)).toBeCloseTo(52.45, 2);
  await trial.getByRole('button', { name: 'Leave it as it is' }).click();
  await trial.waitFor({ state: 'detached' });
  expect(await coatedCm2(page)).toBeCloseTo(52.45, 2);
  await closeGap.click();
  await trial.getByRole('button', { name: 'Do it' }).click();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(52.54, 2);
  await expect.poll(() => findings.textContent()).toContain('area 52.4500 before, 52.5400 cm² after');
  expect(await findings.textContent()).toContain('2 triangles more');

  await page.getByLabel('Job name').focus();
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(52.45, 2);
  await closeGap.waitFor();
  await page.getByRole('button', { name: /^Redo/ }).click();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(52.54, 2);
  await findings.getByRole('button', { name: /^Take back/ }).click();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(52.45, 2);
  await closeCleanly();
});

test('a sheet drawn without thickness: said, given one, and the back masked alone', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await ready(page);
  // One side of a block: 80 × 50.
  await drop(page, 'sheet.stl', stl(box(80, 50, 1).subarray(0, 18)));
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(40, 2);
  const findings = page.getByRole('region', { name: 'Findings about the mesh' });
  const give = findings.getByRole('button', { name: 'Give it this thickness…' });
  expect(await give.isEnabled()).toBe(false);
  const thickness = findings.getByRole('textbox', { name: 'Thickness of the sheet' });
  // A slip of the hand is asked about before it is done.
  await thickness.fill('12 mm');
  await give.click();
  await findings.getByText('is 15 % of the largest size').waitFor();
  await findings.getByRole('button', { name: 'Leave it as it is' }).click();
  await thickness.fill('2 mm');
  await give.click();
  // Both sides, and the cut edges all round.
  await findings.getByText('40.0000 → 85.2000 cm²').waitFor();
  await findings.getByRole('button', { name: 'Do it' }).click();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(85.2, 2);
  await findings.getByText('The mesh is sound').waitFor();
  await goTo(page, 'Faces');
  await page.getByRole('radio', { name: 'Largest first' }).click();
  const faces = page.getByRole('grid', { name: 'Faces' });
  await faces.getByRole('row').first().click();
  await page.getByRole('button', { name: 'Mask', exact: true }).click();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(45.2, 2);
  await goTo(page, 'Part');
  await findings.getByRole('button', { name: /^Take back: Sheet made 2.00 mm thick/ }).click();
  await give.waitFor();
  await closeCleanly();
});

test('a post welded on a plate: fused on a click, hidden surface told, masks stay', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await ready(page);
  const post = placed(tube(15, 12, 70, 48), { shift: [0, 0, 6] });
  await drop(page, 'post.stl', stl(box(80, 80, 6, [-40, -40, 0]), post));
  // Section 13: raw 271.04 cm², fused 265.95; the mesh's 48 facets are corrected.
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(271, 0);
  await page.getByRole('button', { name: 'Fuse the bodies…' }).first().click();
  await page.getByRole('button', { name: 'Do it' }).click();
  await expect.poll(() => coatedCm2(page), { timeout: 20_000 }).toBeCloseTo(265.95, 0);
  const reach = page.getByRole('region', { name: 'What the acid reaches' });
  expect(await reach.textContent()).toMatch(/2 bodies, 1 contact: fusing took\s*5\.0\d+ cm²/);
  await reach.getByText('Fuse bodies that touch or overlap').click();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(271, 0);
  await closeCleanly();
});

test('a shape is drawn: plate with a hole, another on it; an area is typed and marked', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await ready(page);
  await page.getByRole('button', { name: /^Part/ }).first().click();
  await page.getByRole('button', { name: 'No model: draw a shape' }).click();
  const shape = page.getByRole('region', { name: 'Shape' });
  const [body1, body2] = [1, 2].map((n) => shape.getByRole('region', { name: `Body ${n}` }));
  // 100 × 60 × 6: 2 (60 + 6 + 3.6) cm², shown in closed form and as measured; the untouched demo makes room.
  await shape.getByText('139.2').waitFor();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(139.2, 1);
  await type(body1!.getByLabel('Length'), '50 mm');
  await shape.getByText('73.2').waitFor();
  await shape.getByRole('button', { name: /^Add a hole/ }).click();
  await type(shape.getByRole('group', { name: 'Hole 1.1' }).getByLabel('Diameter'), '10');
  // + π · 10 · 6 − π · 10² / 2 = 0.3142 cm²
  await shape.getByText('73.51').waitFor();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(73.51, 1);
  await shape.getByRole('button', { name: 'Join another body' }).click();
  await shape
    .getByRole('button', { name: /^Kind of body 2|body 2$/ })
    .first()
    .waitFor();
  // The same plate again, on top of the first (6 mm up): two faces of 100 × 60 less the first's 50 × 60 are hidden.
  await type(body2!.getByLabel('Foot at z'), '6 mm');
  const second = 139.2;
  const hidden = 2 * (30 - 0.785);
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(73.51 + second - hidden, 0);
  await page.getByRole('button', { name: 'Type an area' }).click();
  await type(page.getByLabel('Coated area of one piece of the new part'), '25 cm2');
  await page.getByLabel('Area of one piece that is coated').waitFor();
  await expect
    .poll(() => page.getByRole('contentinfo').textContent())
    .toContain('area typed in, not measured');
  // No stage trips over a part without a mesh.
  const stages = page.getByRole('navigation').getByRole('button');
  for (let i = 0; i < (await stages.count()); i++) {
    await stages.nth(i).click();
    await page.waitForTimeout(150);
    await page.getByRole('complementary').first().waitFor();
  }
  await closeCleanly();
});

test('a void counts once it is vented, with a warning; a bolt counts with its thread', async () => {
  const { page, closeCleanly } = await bench.openWindow();
  await ready(page);
  const inner = box(8, 8, 8, [2, 2, 2]);
  for (let t = 0; t < inner.length; t += 9) {
    const second = inner.slice(t + 3, t + 6);
    inner.copyWithin(t + 3, t + 6, t + 9);
    inner.set(second, t + 6);
  }
  await drop(page, 'hollow.stl', stl(box(30, 20, 12), inner));
  // 2 (600 + 240 + 360) mm², and 6 × 64 once acid gets in.
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(24, 2);
  await page.getByText('Void 1 has a vent').click();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(27.84, 2);
  await page.getByText('acid fills and leaves slowly').first().waitFor();
  await page.getByRole('button', { name: 'Remove this part from the job' }).click();

  await drop(page, 'bolt.stl', stl(cylinder(3, 20, 64)));
  const plain = (2 * Math.PI * 3 * 20 + 2 * Math.PI * 9) / 100;
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(plain, 2);
  await page
    .getByRole('navigation')
    .getByRole('button', { name: /^Faces/ })
    .click();
  await page.getByRole('row', { name: /round/ }).first().click();
  const section = page.getByRole('region', { name: 'Round faces and threads' });
  await section.getByRole('button', { name: /^M6x1/ }).click();
  // 1.47 times the plain cylinder at the major diameter: 27.67 mm² a pitch over π · 6 · 1.
  await expect
    .poll(() => coatedCm2(page))
    .toBeCloseTo((2 * Math.PI * 3 * 20 * 1.468 + 2 * Math.PI * 9) / 100, 1);
  await section.getByRole('button', { name: /^Take the thread M6x1 off/ }).click();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(plain, 2);
  await closeCleanly();
});

test('pieces that do not touch are told, become parts with their pieces, and come together again by undo', async () => {
  const { page, closeCleanly } = await bench.openWindow({ width: 1024, height: 768 });
  await ready(page);
  // A block and two rods of 4 × 4 × 40: 22 cm² and 6.72 cm² each.
  const rod = (x: number): Float32Array => box(4, 4, 40, [x, 0, 0]);
  await drop(page, 'load.stl', stl(box(30, 20, 10), rod(60), rod(90)));
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(22 + 2 * 6.72, 1);
  await page
    .getByText('The model has 3 pieces that do not touch each other', { exact: false })
    .first()
    .waitFor();
  await page.getByRole('button', { name: 'Make parts of them' }).click();
  const chooser = page.getByRole('radiogroup', { name: 'Parts of this job' });
  await chooser.getByText('load, piece 1 × 1').waitFor();
  await chooser.getByText('load, piece 2 × 2').click();
  await page.getByText('load.stl, 12 triangles, 6 faces').waitFor();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(22 + 2 * 6.72, 1);
  expect(await page.getByText('do not touch each other').count()).toBe(0);
  await page.keyboard.press('Control+z');
  await chooser.waitFor({ state: 'detached' });
  await page.getByText('load.stl, 36 triangles, 18 faces').waitFor();
  await page.keyboard.press('Control+y');
  await chooser.waitFor();
  await expect.poll(() => coatedCm2(page)).toBeCloseTo(22 + 2 * 6.72, 1);
  await closeCleanly();
});
