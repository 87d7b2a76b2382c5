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
  [2, []],
  [19.5, []],
  [20.5, ['sheet-too-thick']],
  [40, ['sheet-too-thick']],
])('a tube of radius 10, %d thick', (thickness, codes) => {
  const tube = turned([[10, 0], [10, 40]], 48); // prettier-ignore
  const findings = said(tube, thickness);
  expect(findings.map(({ code }) => code)).toEqual(codes);
  // All of the wall's two sides; the rims have no side behind them.
  for (const { triangles } of findings) expect(triangles).toHaveLength(4 * 48);
});

test('a tray folded up sharply is right at any thickness that leaves its floor', () => {
  const tray = box(40, 30, 15).filter((_, i, all) => {
    const t = 9 * Math.floor(i / 9);
    return ![2, 5, 8].every((k) => all[t + k] === 15);
  });
  expect(said(tray, 2)).toEqual([]);
  expect(said(tray, 29)).toEqual([]);
  expect(said(tray, 31).map(({ code }) => code)).toContain('sheet-too-thick');
});
