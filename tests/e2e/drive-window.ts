import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { writeBinaryStl } from '../../main/demo/write-binary-stl.ts';

/** A closed box a × b × c as 12 triangles. Faces f1 … f6; the top and bottom are a × b. */
export function boxStl(a: number, b: number, c: number): Buffer {
  const corner = [0, 1, 2, 3, 4, 5, 6, 7].flatMap((i) => [i & 1 ? a : 0, i & 2 ? b : 0, i & 4 ? c : 0]);
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const triangles = quads.flatMap(([p, q, r, s]) => [p!, q!, r!, p!, r!, s!]);
  return Buffer.from(writeBinaryStl(new Float32Array(corner), new Uint32Array(triangles), 'box'));
}

export async function drop(page: Page, name: string, bytes: Buffer): Promise<void> {
  const transfer = await page.evaluateHandle(
    ({ base64, fileName }) => {
      const data = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      const carried = new DataTransfer();
      carried.items.add(new File([data], fileName));
      return carried;
    },
    { base64: bytes.toString('base64'), fileName: name },
  );
  await page.dispatchEvent('.app', 'drop', { dataTransfer: transfer });
}

export const goTo = (page: Page, stage: string): Promise<void> =>
  page
    .getByRole('navigation')
    .getByRole('button', { name: new RegExp(`^${stage}`) })
    .click();
export const planFigure = (page: Page, label: string): Locator =>
  page.getByRole('contentinfo').getByRole('button', { name: new RegExp(label) });
export async function figure(page: Page, label: string): Promise<number> {
  const text = (await planFigure(page, label).locator('.plan-value').textContent()) ?? '';
  return Number.parseFloat(text);
}
export const waitForPlan = (page: Page): Promise<void> =>
  expect.poll(() => figure(page, '^Current'), { timeout: 20_000 }).toBeGreaterThan(0);
