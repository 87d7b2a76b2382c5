import { expect, test } from 'vitest';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { partSurfaceSchema } from '../../../core/job/job-surface.ts';
import { preparePart } from '../../../core/job/prepare-part.ts';
import { box, turned } from '../../fixtures/shapes.ts';

const cutPolygon = (): never => {
  throw new Error('no gap is filled here');
};

/** Findings of a surface that was given a thickness. */
const said = (positions: Float32Array, thickness: number) => {
  const surface = { ...partSurfaceSchema.parse({}), repairs: [{ kind: 'thicken' as const, thickness }] };
  const wishes = { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD, surface };
  return preparePart({ positions, bodies: [] }, wishes, { cutPolygon }).geometry.findings;
};

// Of a tube drawn along the middle of its wall half the thickness goes inwards: there is room for twice the radius.
test.each([
  [2, [], 0],
  [19.5, ['sheet-too-thick'], 0],
  [20.5, ['sheet-too-thick'], 4 * 48],
  [40, ['sheet-too-thick'], 4 * 48],
])('a tube of radius 10, %d thick', (thickness, codes, over) => {
  const tube = turned([[10, 0], [10, 40]], 48); // prettier-ignore
  const findings = said(tube, thickness);
  expect(findings.map(({ code }) => code)).toEqual(codes);
  // All of the wall's two sides; the rims have no side behind them.
  for (const { triangles } of findings) expect(triangles).toHaveLength(over);
});

test('a bracket 40 long is asked about above a tenth of that, though its bend has room', () => {
  // Floor and one wall.
  const bracket = box(40, 30, 40).filter((_, i) => [0, 1, 10, 11].includes(Math.floor(i / 9)));
  expect(said(bracket, 3.9)).toEqual([]);
  expect(said(bracket, 4.1).map(({ message }) => message)).toEqual([
    expect.stringContaining('is 10 % of the largest size'),
  ]);
  expect(said(bracket, 50)[0]!.message).toContain('is 130 % of the largest size');
});

test('a tray folded up sharply is right at any thickness that leaves its floor', () => {
  const tray = box(40, 30, 15).filter((_, i, all) => {
    const t = 9 * Math.floor(i / 9);
    return ![2, 5, 8].every((k) => all[t + k] === 15);
  });
  expect(said(tray, 2)).toEqual([]);
  const turnsOver = (thickness: number): boolean =>
    said(tray, thickness).some(({ message }) => message.includes('turns over'));
  expect(turnsOver(29)).toBe(false);
  expect(turnsOver(31)).toBe(true);
});
