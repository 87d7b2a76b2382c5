import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, setQuantity } from '../../../core/job/edit-job.ts';
import { chooseTank } from '../../../core/job/edit-hanging.ts';
import { jobTankSchema } from '../../../core/job/job-tank.ts';
import { tankMessages } from '../../../core/job/tank-messages.ts';
import { hangPieces, inTank, planTank, spreadOverBars, swingReachM } from '../../../core/job/tank-plan.ts';
import type { HangingSize } from '../../../core/racking/hanging-size.ts';
import { USUAL_TANK_RULES, type Tank } from '../../../core/racking/tank.ts';

const sheet = {
  id: 's',
  material: 'lead',
  place: { on: 'wall', wall: 'y-', alongM: 0 },
  widthM: 0.9,
  bottomM: 0,
  heightM: 0.4,
  thicknessM: 0.002,
  standoffM: 0.003,
  backWorks: false,
} as const;
const tank: Tank = {
  name: 'tank',
  vessel: { shape: 'box', lengthM: 1, widthM: 0.6, heightM: 0.45 },
  levelM: 0.4,
  cathodes: [sheet],
  bars: [{ id: 'bar', along: 'x', acrossM: 0.1, fromM: -0.5, toM: 0.5, heightM: 0.5, role: 'work' }],
};
const size: HangingSize = { alongM: 0.1, acrossM: 0.05, heightM: 0.2, middleM: [0, 0, 0] };

function jobWith(quantity: number, swingRad = 0) {
  const part = newPart('p', 'p.stl', 1, 'mm', true);
  const job = chooseTank(
    setQuantity(addPart(emptyJob('job'), part), 'p', quantity),
    jobTankSchema.parse({ tank, rules: USUAL_TANK_RULES }),
  );
  if (!inTank(job)) throw new Error('no tank');
  return { ...job, hanging: { ...job.hanging, swingRad } };
}
const item = (quantity: number) => ({ name: 'p', areaM2: 0.02, quantity });

describe('loads in the tank', () => {
  // Bar from wall to wall: 1 m less 2 × 30 mm; n · 100 + (n − 1) · 30 ≤ 940 holds for n = 7 (880), not 8 (1010).
  it('seven of 100 mm on 940 mm with 30 mm between them', () => {
    const job = jobWith(14);
    const plan = planTank(job, [item(14)], { p: size });
    if (!plan.ok) throw new Error(plan.error.message);
    expect(plan.value.loads.map(({ pieces }) => pieces[0])).toEqual([7, 7]);
    const run = planRun([item(14)], job.process, { loads: plan.value.loads });
    if (!run.ok) throw new Error(run.error.message);
    expect(run.value.loads).toHaveLength(2);
    expect(run.value.loadCurrentA.valueSi).toBeCloseTo(7 * 0.02 * job.process.currentDensityAPerM2, 10);
    expect(run.value.loadCount.formula).toMatch(/tank/);
    const pieces = plan.value.hanging.loads[0]!.pieces;
    const placements = hangPieces(job, plan.value.rooms, { p: size }, pieces, 0.03);
    expect(placements).toHaveLength(7);
    // Tops 30 mm below the level of 400.
    for (const { pose } of placements) expect(pose.offsetM[2] + 0.1).toBeCloseTo(0.37, 12);
  });

  it('two that swing against each other get that room: 5° over 330 mm is 28.8 mm to each side', () => {
    // The bar is at 500 mm, the lowest point at 370 − 200 = 170 mm.
    expect(swingReachM(tank, 0.17, (5 * Math.PI) / 180)).toBeCloseTo(
      0.33 * Math.sin((5 * Math.PI) / 180),
      12,
    );
    // The clearances are at rest; swinging, nothing may touch: the 30 mm between two become 57.5, those to the wall stay.
    // n · 100 + (n − 1) · 57.5 ≤ 940: six (887.6), not seven (1045).
    const loadsOf = (quantity: number): (number | undefined)[] => {
      const plan = planTank(jobWith(quantity, (5 * Math.PI) / 180), [item(quantity)], { p: size });
      if (!plan.ok) throw new Error(plan.error.message);
      return plan.value.loads.map(({ pieces }) => pieces[0]);
    };
    expect(loadsOf(6)).toEqual([6]);
    expect(loadsOf(7)).toEqual([4, 3]);
  });

  it('the cathode serves so much: 0.36 m² at 1 : 5 are 1.8 m²', () => {
    const job = jobWith(2);
    const packed = planTank(job, [{ ...item(2), areaM2: 1 }], { p: size });
    expect(packed.ok && packed.value.loads).toHaveLength(2);
    expect(packed.ok && packed.value.hanging.loads[0]!.limitedBy).not.toBe('supply');
  });

  it('a part without a size, a tank without a sheet are said', () => {
    const none = planTank(jobWith(1), [item(1)], {});
    expect(!none.ok && none.error.code).toBe('size-unknown');
    const view = { plan: none, turn: null, check: null, sizes: {} };
    expect(tankMessages(jobWith(1), view, 'metric').map(({ level }) => level)).toEqual(['note']);
    const job = jobWith(1);
    const dry = planTank({ ...job, tank: { ...job.tank, tank: { ...tank, cathodes: [] } } }, [item(1)], {
      p: size,
    });
    expect(!dry.ok && dry.error.code).toBe('no-cathode');
  });
});

describe('copies on bars', () => {
  const rooms = [0.5, 0.3].map((lengthM, i) => ({
    id: `b${i}`,
    along: 'x' as const,
    startM: 0,
    atM: 0,
    lengthM,
    acrossM: 0.3,
    heightM: 0.3,
  }));
  const hung = (alongM: number) => ({ ...item(1), currentA: 1, alongM, acrossM: 0.1, heightM: 0.1 });

  it('never beyond a bar, and every copy hung or the refusal says how many (fast-check)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 12 }),
        fc.double({ min: 0.02, max: 0.4, noNaN: true }),
        (count, alongM) => {
          const spread = spreadOverBars(rooms, [hung(alongM)], [count], 0.02);
          const most = (length: number): number => Math.floor((length + 0.02 + 1e-9) / (alongM + 0.02));
          const capacity = most(0.5) + most(0.3);
          expect(spread.ok).toBe(count <= capacity);
          if (!spread.ok) expect(spread.error.message).toContain(`Only ${capacity} of ${count}`);
          else spread.value.forEach(([n], bar) => expect(n!).toBeLessThanOrEqual(most(rooms[bar]!.lengthM)));
        },
      ),
    );
  });
});

it('a copy that hangs clear but swings into the sheet stops the plan', () => {
  const job = {
    ...jobWith(1, 0.1),
    placements: [
      {
        id: 'a',
        partId: 'p',
        pose: { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [0, 0, 0.27] as [number, number, number] },
      },
    ],
  };
  const clearance = (valueSi: number, to: 'cathode' | 'wall' | 'part' = 'cathode', toId = 's') => ({
    clearances: [
      {
        placementId: 'a',
        to,
        toId,
        distanceM: {
          label: '',
          kind: 'length' as const,
          valueSi,
          formula: '',
          inputs: [],
          source: { standing: 'definition' as const, text: '' },
        },
        onPart: [0, 0, 0] as const,
        onOther: [0, 0, 0] as const,
      },
    ],
    findings: [],
  });
  const codes = (gap: number): string[] =>
    tankMessages(job, { plan: null, turn: null, check: clearance(gap), sizes: { p: size } }, 'metric').map(
      ({ code }) => code,
    );
  // Lowest point 170 mm, bar at 500: 330 · sin 0.1 = 32.9 mm.
  expect(codes(0.032)).toEqual(['can-swing']);
  expect(codes(0.034)).toEqual([]);
  // A wall is no short circuit: the blow can loosen the part.
  const wall = tankMessages(
    job,
    { plan: null, turn: null, check: clearance(0.032, 'wall', ''), sizes: { p: size } },
    'metric',
  );
  expect(wall.map(({ code, level }) => `${code} ${level}`)).toEqual(['can-swing check']);
  // Two copies that swing against each other meet at twice that.
  const two = { ...job, placements: [...job.placements, { ...job.placements[0]!, id: 'b' }] };
  const between = (gap: number): string[] =>
    tankMessages(
      two,
      { plan: null, turn: null, check: clearance(gap, 'part', 'b'), sizes: { p: size } },
      'metric',
    ).map(({ level }) => level);
  expect(between(0.065)).toEqual(['check']);
  expect(between(0.067)).toEqual([]);
});
