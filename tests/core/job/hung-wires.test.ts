import { describe, expect, test } from 'vitest';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart } from '../../../core/job/edit-job.ts';
import { chooseTank, setPlacements } from '../../../core/job/edit-hanging.ts';
import { firstTank } from '../../../core/job/first-tank.ts';
import { planHanging } from '../../../core/job/hanging-plan.ts';
import { hangerText } from '../../../core/job/hanging-sheet.ts';
import { hungPart, hungParts } from '../../../core/job/hung-wires.ts';
import { FIRST_HANGER, type ContactHanger } from '../../../core/job/job-hanging.ts';
import type { Job, Part } from '../../../core/job/job.ts';
import { hangerAreaM2 } from '../../../core/job/load-items.ts';
import type { HangingSize } from '../../../core/racking/hanging-size.ts';

/** 100 mm high, its model's zero at the lowest point. */
const size: HangingSize = { alongM: 0.05, acrossM: 0.02, heightM: 0.1, middleM: [0, 0, 0.05] };

function hung(hanger: Partial<ContactHanger> = {}, atMm = 80): { job: Job; part: Part } {
  const part: Part = {
    ...newPart('p', 'p.stl', 1, 'mm', true),
    contacts: [
      {
        id: 'c',
        at: [0, 0, atMm],
        triangle: 0,
        patchDiameterM: 0.003,
        hanger: { ...FIRST_HANGER, material: 'Al 5356', ...hanger },
      },
    ],
  };
  return { part, job: chooseTank(addPart(emptyJob('job'), part), firstTank('box')) };
}
const wireOf = ({ job, part }: ReturnType<typeof hung>, known: HangingSize | undefined = size) =>
  hungPart(job, part, known).contacts[0]!.hanger;

describe('wires as long as the tank makes them', () => {
  // The first box tank: liquid 370 mm, bar 450 mm, 30 mm of liquid over the part. Its top at 340, so the pin at 320 mm.
  test('from the bar to the level, and from the level to the contact, by hand', () => {
    const wire = wireOf(hung());
    expect(wire.dryLengthM).toBeCloseTo(0.08, 12);
    expect(wire.wetLengthM).toBeCloseTo(0.05, 12);
    expect(hangerText(wire, 'metric')).toContain('80.0 mm dry, 50.0 mm in the bath');
  });

  test('a copy that hangs 40 mm lower has 40 mm more in the bath; of several the deepest counts', () => {
    const { job, part } = hung();
    const at = (id: string, z: number) => ({
      id,
      partId: 'p',
      pose: { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [0, 0, z] as const },
    });
    const lower = setPlacements(job, [at('a', 0.24), at('b', 0.2)]);
    expect(wireOf({ job: lower, part }).wetLengthM).toBeCloseTo(0.09, 12);
    expect(wireOf({ job: lower, part }).dryLengthM).toBeCloseTo(0.08, 12);
    // Lifted out: the contact at 400 mm is 50 mm under the bar and above the level.
    const out = wireOf({ job: setPlacements(job, [at('a', 0.32)]), part });
    expect(out.wetLengthM).toBe(0);
    expect(out.dryLengthM).toBeCloseTo(0.05, 12);
  });

  test('the current, the drop and the aluminium below the level follow', () => {
    const { job, part } = hung();
    const made = hungPart(job, part, size);
    const d = FIRST_HANGER.diameterM;
    // π·d·l and one free end.
    expect(hangerAreaM2(made)).toBeCloseTo(Math.PI * d * 0.05 + (Math.PI * d * d) / 4, 12);
    const ground = { open: null, moments: null, centre: [0, 0, 50], size: 110, traps: null } as const;
    const [plan] = planHanging(job, made, ground, 0.02, 'metric').contacts;
    const [typed] = planHanging(job, part, ground, 0.02, 'metric').contacts;
    const currentA = job.process.currentDensityAPerM2 * (0.02 + hangerAreaM2(made));
    expect(plan!.currentA).toBeCloseTo(currentA, 10);
    // 130 mm of wire in place of the 300 mm that nobody has typed; the dry part's heat changes the rest a little.
    const share = plan!.check.dropV.valueSi / plan!.currentA / (typed!.check.dropV.valueSi / typed!.currentA);
    expect(share).toBeCloseTo(130 / 300, 2);
  });

  test('typed lengths stay where the user wants them, and without tank, bar or model', () => {
    const typed = hung({ lengthsFrom: 'typed', dryLengthM: 0.2, wetLengthM: 0.1 });
    expect(wireOf(typed)).toBe(typed.part.contacts[0]!.hanger);
    const { job, part } = hung({ dryLengthM: 0.2 });
    expect(hungPart({ ...job, tank: null }, part, size)).toBe(part);
    expect(hungPart(job, part, undefined)).toBe(part);
    const tank = { ...job.tank!, tank: { ...job.tank!.tank, bars: [] } };
    expect(hungPart({ ...job, tank }, part, size)).toBe(part);
    expect(hungParts(job, () => undefined)).toEqual([part]);
  });
});
