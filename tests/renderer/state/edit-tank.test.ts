import { describe, expect, it } from 'vitest';
import type { TankCheck } from '../../../core/racking/tank-clearance.ts';
import { snapToBars, turnedPlacement } from '../../../renderer/state/edit-tank.ts';
import { firstTank } from '../../../core/job/first-tank.ts';
import { levelOfCopy, liveCheck, middleOfCopy } from '../../../renderer/state/tank-view-data.ts';
import { tankSchema } from '../../../core/job/job-tank.ts';

const placement = (id: string, x = 0, y = 0) => ({
  id,
  partId: 'p',
  pose: { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [x, y, 0.1] as [number, number, number] },
});

describe('moving copies', () => {
  it('snaps under a bar when near it, and only then', () => {
    const { tank } = firstTank('box');
    expect(snapToBars(tank, [0.1, 0.015, 0.2])).toEqual([0.1, 0, 0.2]);
    expect(snapToBars(tank, [0.1, -0.03, 0.2])).toEqual([0.1, -0.03, 0.2]);
    const across = { ...tank, bars: [{ ...tank.bars[0]!, along: 'y' as const, acrossM: 0.2 }] };
    expect(snapToBars(across, [0.19, 0.1, 0.2])).toEqual([0.2, 0.1, 0.2]);
    const minus = { ...tank, bars: [{ ...tank.bars[0]!, role: 'cathode' as const }] };
    expect(snapToBars(minus, [0.1, 0.015, 0.2])).toEqual([0.1, 0.015, 0.2]);
  });

  it('turns about the middle of its box, which stays where it is; four quarters are none', () => {
    const middleM = [0.03, 0.01, 0.02] as const;
    let copy: ReturnType<typeof turnedPlacement> = placement('a', 0.2, -0.1);
    const middle = middleOfCopy(copy, middleM);
    for (let quarter = 1; quarter <= 4; quarter++) {
      copy = turnedPlacement(copy, middle, Math.PI / 2);
      middleOfCopy(copy, middleM).forEach((value, k) => expect(value).toBeCloseTo(middle[k]!, 12));
    }
    copy.pose.rotation.forEach((value, k) => expect(value).toBeCloseTo(placement('a').pose.rotation[k]!, 12));
    const once = turnedPlacement(placement('a'), [0, 0, 0], Math.PI / 2);
    // x of the part comes to lie along y of the tank.
    expect(once.pose.rotation[3]).toBeCloseTo(1, 12);
  });
});

describe('what is said while dragging', () => {
  const check = (level: 'check' | 'stop', ids: string[]): TankCheck => ({
    clearances: [],
    swings: [],
    findings: [{ code: 'near-part', level, message: ids.join(), remedy: '', placementIds: ids }],
  });

  it('takes the dragged copy’s own findings in place of its old ones and keeps the others’', () => {
    const settled: TankCheck = {
      clearances: [],
      swings: [],
      findings: [...check('check', ['a', 'b']).findings, ...check('check', ['c']).findings],
    };
    const live = liveCheck(settled, check('stop', ['a']), 'a');
    expect(levelOfCopy(live.findings, 'a')).toBe('stop');
    expect(levelOfCopy(live.findings, 'b')).toBe('ok');
    expect(levelOfCopy(live.findings, 'c')).toBe('check');
    expect(liveCheck(settled, null, 'a')).toBe(settled);
  });
});

it('the first tanks pass the schema of the book', () => {
  for (const shape of ['box', 'round'] as const) {
    const { tank } = firstTank(shape);
    expect(tankSchema.parse(tank)).toEqual(tank);
  }
  const { tank } = firstTank('box');
  expect(tankSchema.safeParse({ ...tank, vessel: firstTank('round').tank.vessel }).success).toBe(false);
  expect(tankSchema.safeParse({ ...tank, levelM: 1 }).success).toBe(false);
});
