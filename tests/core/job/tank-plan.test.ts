import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, setQuantity } from '../../../core/job/edit-job.ts';
import { chooseTank } from '../../../core/job/edit-hanging.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import { jobTankSchema } from '../../../core/job/job-tank.ts';
import { NO_PACKING_HELP } from '../../../core/job/pack-request.ts';
import { tankMessages } from '../../../core/job/tank-messages.ts';
import { hangPieces, inTank, planTank, spreadOverBars } from '../../../core/job/tank-plan.ts';
import { swingReachM } from '../../../core/racking/part-swing.ts';
import type { HangingSize } from '../../../core/racking/hanging-size.ts';
import type { TankCheck } from '../../../core/racking/tank-clearance.ts';
import { USUAL_TANK_RULES } from '../../../core/racking/tank.ts';
import { oneSheetTank } from '../../fixtures/one-sheet-tank.ts';

const tank = oneSheetTank('s', 0.1);
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
    const placements = hangPieces(job, plan.value.rooms, { p: size }, pieces);
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

  it('each kind of a mixed load keeps clear with its own swing, and one held by two wires with none along the bar', () => {
    // 10° from 500 mm: one 350 mm high (lowest at 20 mm) reaches 83.4 mm, one 100 mm high (270 mm) 39.9 mm.
    const swingRad = (10 * Math.PI) / 180;
    const mixed = (wires: number[]) => {
      const job = jobWith(1, swingRad);
      const [low] = job.parts;
      const contacts = wires.map((x, n) => ({
        id: `w${n}`,
        at: [x, 0, 50] as [number, number, number],
        triangle: 0,
        patchDiameterM: 3e-3,
        hanger: FIRST_HANGER,
      }));
      const tall = { ...low!, id: 'q', name: 'q.stl', quantity: 1 };
      return { ...job, parts: [{ ...low!, quantity: 5, contacts }, tall] };
    };
    const sizes = { p: { ...size, heightM: 0.1 }, q: { ...size, heightM: 0.35, acrossM: 0.02 } };
    const roomy = { ...USUAL_TANK_RULES, partToFloorM: 0.01 };
    const loadsOf = (wires: number[], pieces: number): number => {
      const job = mixed(wires);
      const [low, tall] = job.parts;
      const now = {
        ...job,
        tank: { ...job.tank, rules: roomy },
        parts: [{ ...low!, quantity: pieces }, tall!],
      };
      const plan = planTank(now, [item(pieces), item(1)], sizes);
      if (!plan.ok) throw new Error(plan.error.message);
      return plan.value.loads.length;
    };
    // The row is 940 mm and 30 mm of gap beyond it (the tall one keeps 83.4 mm to either wall, of which 83.4 are its own
    // half gap: 1000 mm in all). The tall one takes 100 + 166.9, a low one 100 + 79.9: 733 leave four of them, where one
    // swing for all would leave two more of 266.9.
    expect(loadsOf([0], 4)).toBe(1);
    expect(loadsOf([0], 5)).toBe(2);
    // Held, it takes 100 + 30: five are 650.
    expect(loadsOf([-40, 40], 5)).toBe(1);
    // Two wires side by side, or one above the other, hold nothing.
    expect(loadsOf([-5, 5], 5)).toBe(2);
  });

  it('the part that has no room is named, with its own swing', () => {
    const job = jobWith(1, (25 * Math.PI) / 180);
    const [low] = job.parts;
    const two = { ...job, parts: [low!, { ...low!, id: 'q', name: 'long one', quantity: 1 }] };
    // 330 mm · sin 25° = 139 mm is kept to the wall behind the bar instead of 30: 2 · (200 − 139.5) = 121 mm are free.
    const sizes = { p: { ...size, heightM: 0.02 }, q: { ...size, acrossM: 0.13 } };
    const plan = planTank(two, [item(1), item(1)], sizes);
    expect(!plan.ok && plan.error.message).toMatch(
      /^long one does not fit .*139 mm kept to the wall, as far as it swings/,
    );
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
    const view = { plan: none, help: NO_PACKING_HELP, check: null, sizes: {} };
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
  const hits = (to: 'cathode' | 'wall' | 'part'): TankCheck => ({
    clearances: [],
    findings: [],
    swings: [
      {
        placementId: 'a',
        reachM: 0.0329,
        held: null,
        hits: [{ to, toId: to === 'wall' ? '' : 's', awayM: 0.032 }],
      },
    ],
  });
  const said = (to: 'cathode' | 'wall' | 'part') =>
    tankMessages(job, { plan: null, help: NO_PACKING_HELP, check: hits(to), sizes: { p: size } }, 'metric');
  expect(said('cathode').map(({ code, level }) => `${code} ${level}`)).toEqual(['can-swing stop']);
  expect(said('cathode')[0]!.message).toMatch(/32\.9 mm and can hit the cathode, 32\.0 mm away/);
  // A wall and a neighbour are no short circuit: the blow can loosen the part.
  for (const to of ['wall', 'part'] as const) expect(said(to).map(({ level }) => level)).toEqual(['check']);
});
