import { describe, expect, test } from 'vitest';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart } from '../../../core/job/edit-job.ts';
import { chooseTank, setPlacements } from '../../../core/job/edit-hanging.ts';
import { firstTank } from '../../../core/job/first-tank.ts';
import { hangingMessages } from '../../../core/job/hanging-messages.ts';
import { planHanging } from '../../../core/job/hanging-plan.ts';
import { hangerText, hangingLines } from '../../../core/job/hanging-sheet.ts';
import { depthSentences, withDepth } from '../../../core/job/hung-depth.ts';
import { copiesAtLevel, hungPart } from '../../../core/job/hung-wires.ts';
import { FIRST_HANGER, type ContactHanger } from '../../../core/job/job-hanging.ts';
import { jobSteps } from '../../../core/job/job-steps.ts';
import type { Job, Part } from '../../../core/job/job.ts';
import { hangerAreaM2 } from '../../../core/job/load-items.ts';
import { hangPieces, planTank, type PackingJob } from '../../../core/job/tank-plan.ts';
import { usualTank } from '../../../core/job/usual-tank.ts';
import type { HangingSize } from '../../../core/racking/hanging-size.ts';

/** A bar of 30 × 20 × 200 mm, its model's zero at the lowest point, 150 mm of it in the bath. */
const box: HangingSize = { alongM: 0.03, acrossM: 0.02, heightM: 0.2, middleM: [0, 0, 0.1] };
const DEPTH_MM = 150;

function tall(atMm: number, hanger: Partial<ContactHanger> = {}, depthMm: number | null = DEPTH_MM): Part {
  const part = newPart('p', 'tall', 1, 'mm', true);
  return {
    ...part,
    surface: { ...part.surface, immersedDepth: depthMm },
    contacts: [
      {
        id: 'c',
        at: [0, 0, atMm],
        triangle: 0,
        patchDiameterM: 0.003,
        hanger: { ...FIRST_HANGER, material: 'Al 5356', hookLengthM: 0.01, ...hanger },
      },
    ],
  };
}
const jobOf = (part: Part): Job & PackingJob =>
  chooseTank(addPart(emptyJob('job'), part), firstTank('box')) as Job & PackingJob;
const hangs = (part: Part, job: Job = jobOf(part)): Part => hungPart(job, part, withDepth(box, part));
const wireOf = (part: Part, job?: Job): ContactHanger => hangs(part, job).contacts[0]!.hanger;

// The first box tank: liquid 370 mm, bar 450 mm. The lowest point of the bar 150 mm deep hangs at 220 mm.
describe('wires of a part that hangs partly in the bath, by hand', () => {
  test('a pin above the level has no wire in the bath, and no hook', () => {
    // 190 mm up the part is 410 mm over the floor: 40 mm above the level, 40 mm under the bar.
    const wire = wireOf(tall(190));
    expect(wire.wetLengthM).toBe(0);
    expect(wire.hookLengthM).toBe(0);
    expect(wire.dryLengthM).toBeCloseTo(0.04, 12);
    expect(hangerAreaM2(hangs(tall(190)))).toBe(0);
    expect(hangerText(wire, 'metric')).toContain('40.0 mm dry, none in the bath');
  });

  test('a pin below the level has as much as it is deep', () => {
    const wire = wireOf(tall(100));
    expect(wire.wetLengthM).toBeCloseTo(0.05, 12);
    expect(wire.dryLengthM).toBeCloseTo(0.08, 12);
    // 50 mm and 10 mm of hook of 2 mm wire, and its end.
    expect(hangerAreaM2(hangs(tall(100)))).toBeCloseTo(Math.PI * 2e-3 * 0.06 + Math.PI * 1e-6, 12);
  });

  test('without a tank, and typed, a pin above the level has none in the bath either', () => {
    const typed = { lengthsFrom: 'typed', dryLengthM: 0.2, wetLengthM: 0.1 } as const;
    for (const job of [{ ...jobOf(tall(190)), tank: null }, jobOf(tall(190, typed))]) {
      expect(wireOf(tall(190, typed), job)).toMatchObject({ wetLengthM: 0, hookLengthM: 0, dryLengthM: 0.2 });
    }
    expect(wireOf(tall(100, typed))).toMatchObject({ wetLengthM: 0.1, hookLengthM: 0.01 });
  });

  test('a contact in the air is judged by the air, and warms no bath', () => {
    const plan = (part: Part) =>
      planHanging(
        { ...jobOf(part), bath: { ...jobOf(part).bath, airK: 293.15, temperatureK: 293.15 } },
        hangs(part),
        { open: null, moments: null, centre: [0, 0, 100], size: 200, traps: null },
        0.5,
        'metric',
      ).contacts[0]!;
    const dry = plan(tall(190, { diameterM: 0.0012 }));
    const wet = plan(tall(100, { diameterM: 0.0012 }));
    expect(dry.inBath).toBe(false);
    expect(wet.inBath).toBe(true);
    const codes = (one: typeof dry) => one.check.findings.map(({ code }) => code);
    expect(codes(wet)).toContain('warm-in-bath');
    expect(codes(dry)).not.toContain('warm-in-bath');
    expect(dry.check.wetAreaM2.valueSi).toBe(0);
  });

  test('a hollow that no acid runs into is told', () => {
    const part = tall(190);
    const ground = { open: null, moments: null, centre: [0, 0, 100] as const, size: 200, traps: null };
    const codes = (shutCount: number) =>
      hangingMessages(
        part,
        planHanging(jobOf(part), hangs(part), { ...ground, shutCount }, 0.0156, 'metric'),
        'metric',
      ).map(({ code }) => code);
    expect(codes(1)).toContain('hollow-shut');
    expect(codes(0)).not.toContain('hollow-shut');
  });

  test('a depth that the part does not stand out of is none', () => {
    const part = tall(190, {}, 250);
    expect(withDepth(box, part)).toBe(box);
    expect(hangs(part).surface.immersedDepth).toBeNull();
    expect(wireOf(part).wetLengthM).toBeGreaterThan(0);
    expect(withDepth(box, tall(190, {}, 200)).depthM).toBeUndefined();
  });
});

describe('its place in the tank', () => {
  const sizes = { p: withDepth(box, tall(190)) };
  const items = [{ name: 'tall', areaM2: 0.0156, quantity: 1 }];

  test('its level is the liquid’s, and nothing is kept over it', () => {
    const job = jobOf(tall(190));
    const plan = planTank(job, items, sizes);
    if (!plan.ok) throw new Error(plan.error.message);
    const [copy] = hangPieces(job, plan.value.rooms, sizes, plan.value.hanging.loads[0]!.pieces);
    expect(copy!.pose.offsetM[2]).toBeCloseTo(0.37 - 0.15, 12);
  });

  test('it is packed by its wetted height: 150 mm and 50 over the floor just fit 200 mm of liquid', () => {
    const job = jobOf(tall(190));
    const at = (levelM: number) =>
      planTank({ ...job, tank: { ...job.tank, tank: { ...job.tank.tank, levelM } } }, items, sizes);
    expect(at(0.2).ok).toBe(true);
    const shallow = at(0.19);
    if (shallow.ok) throw new Error('190 mm hold 150 mm and 50 mm');
    expect(shallow.error.code).toBe('no-room');
    expect(shallow.error.message).toContain(
      'it hangs 150 mm deep, and 140 mm are free (50.0 mm kept over the floor)',
    );
    expect(shallow.error.remedy).toContain('Hang it less deep');
    // Wholly under, it needs 200 mm, 50 mm under it and 30 mm over it.
    const whole = planTank(
      { ...job, tank: { ...job.tank, tank: { ...job.tank.tank, levelM: 0.25 } } },
      items,
      { p: box },
    );
    expect(whole.ok).toBe(false);
  });

  test('a copy left at another height is taken at the level; other parts stay where they are', () => {
    const job = setPlacements(jobOf(tall(190)), [
      { id: 'a', partId: 'p', pose: { rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1], offsetM: [0.1, 0, 0.14] } },
    ]);
    expect(copiesAtLevel(job, sizes)[0]!.pose.offsetM).toEqual([0.1, 0, 0.37 - 0.15]);
    expect(copiesAtLevel(job, { p: box })).toBe(job.placements);
    expect(wireOf(tall(190), job).dryLengthM).toBeCloseTo(0.04, 12);
  });

  test('a usual tank is as deep as it hangs, its bar above it', () => {
    const { tank } = usualTank(sizes.p);
    expect(tank.levelM).toBeCloseTo(0.2, 12);
    const bar = tank.bars.find(({ role }) => role === 'work')!;
    expect(bar.heightM).toBeGreaterThan(0.2 + 0.05);
  });
});

describe('whoever hangs it is told how deep', () => {
  test('on the sheet, in the reader’s units first', () => {
    const lines = (system: 'metric' | 'us') => hangingLines(tall(190), undefined, system);
    expect(lines('metric')[0]).toBe('150 mm (5.91 in) deep, from its lowest point up: mark the level');
    expect(lines('us')[0]).toBe('5.91 in (150 mm) deep, from its lowest point up: mark the level');
    expect(lines('metric')[1]).toBe('as in the picture, Z up');
    expect(hangingLines(tall(190, {}, null), undefined, 'metric')).toEqual([]);
  });

  test('in the steps, where it is hung and where the power goes on', () => {
    const plan = { rampS: 300, holdS: 3600, currentA: 2.02, forAllLoads: false } as const;
    const steps = (part: Part, rampS = 300) => {
      const made = jobSteps({ ...jobOf(part), parts: [hangs(part)] }, { ...plan, rampS }, null, 'metric');
      return (kind: string): string => made.find((step) => step.kind === kind)!.detail;
    };
    expect(steps(tall(190))('hang')).toContain(
      'Hang it 150 mm (5.91 in) deep, from its lowest point up: mark the level.',
    );
    expect(steps(tall(190))('ramp')).toContain('The liquid stands at the mark 150 mm (5.91 in) up.');
    expect(steps(tall(190), 0)('hold')).toContain('The liquid stands at the mark 150 mm (5.91 in) up.');
    for (const part of [tall(190, {}, null), tall(190, {}, 250)]) {
      expect(steps(part)('hang')).not.toContain('deep');
      expect(steps(part)('ramp')).not.toContain('mark');
    }
  });

  test('in the name of the step, which the board shows from afar', () => {
    const titles = (parts: Part[]) =>
      jobSteps(
        { ...jobOf(parts[0]!), parts },
        { rampS: 0, holdS: 60, currentA: 1, forAllLoads: false },
        null,
        'us',
      )
        .filter(({ kind }) => kind === 'hang')
        .map(({ title }) => title);
    expect(titles([tall(190)])).toEqual(['Mask and hang, 5.91 in (150 mm) deep']);
    expect(titles([tall(190, {}, null)])).toEqual(['Mask and hang']);
    expect(titles([tall(190, {}, null), tall(190)])).toEqual(['Mask and hang, each to its mark']);
  });

  test('of several parts each by name', () => {
    const parts = [
      tall(190),
      { ...tall(190, {}, null), name: 'plate' },
      { ...tall(190, {}, 40), name: 'rod' },
    ];
    expect(depthSentences(parts, 'us')).toBe(
      'Hang tall 5.91 in (150 mm) deep, from its lowest point up: mark the level. Hang rod 1.57 in (40.0 mm) deep, from its lowest point up: mark the level.',
    );
  });
});
