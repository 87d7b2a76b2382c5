/** Fits of a job as its film, etch, strips and alloy make them: 20H7 is +21, 0 µm, 20h6 is 0, −13 µm (ISO 286-2). */
import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { coverageFlags } from '../../../core/faces/coverage-flags.ts';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { unpackJob } from '../../../core/job/container.ts';
import { DEFAULT_SPLIT_ANGLE_RAD } from '../../../core/faces/split-faces.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, changeProcess } from '../../../core/job/edit-job.ts';
import { changeFinishSection, changeStrips, putFit, setAlloy } from '../../../core/job/edit-wet.ts';
import { fitGround } from '../../../core/job/fit-ground.ts';
import { planFits } from '../../../core/job/fit-plan.ts';
import type { PartFit } from '../../../core/job/job-fits.ts';
import { bareStrippedMetal, netGrowth } from '../../../core/job/job-growth.ts';
import { jobBudget, jobStrip, troubleFacts } from '../../../core/job/finish-plan.ts';
import type { PartStrips } from '../../../core/job/job-finish.ts';
import { migrateJob } from '../../../core/job/migrate-job.ts';
import type { Job } from '../../../core/job/job.ts';
import { fileOf } from '../../../core/job/part-source.ts';
import { makeRunSheet } from '../../../core/job/run-sheet.ts';
import { wetMessages } from '../../../core/job/wet-messages.ts';
import { analysePart } from '../../../core/mesh/analyse-part.ts';
import { sourceRunsOfFaces } from '../../../core/mesh/mesh-triangles.ts';
import { tube } from '../../fixtures/shapes.ts';
import { valueOf } from '../value-of.ts';

const UM = 1e-6;
/** A ring with a bore of 20. */
const geometry = analysePart(tube(20, 10, 30, 96), [], { splitAngleRad: DEFAULT_SPLIT_ANGLE_RAD });
const ring = newPart('p', 'ring.stl', 3, 'mm', true);
const ground = fitGround(ring, geometry);
const hole = ground.rounds.find(({ shape }) => shape === 'hole')!;
const boreRuns = sourceRunsOfFaces(
  geometry,
  hole.faceIds.map((id) => Number(id.slice(1)) - 1),
);

const seat = (change: Partial<PartFit> = {}): PartFit => ({
  id: 'f',
  label: 'seat',
  need: { as: 'code', text: '20H7' },
  faces: boreRuns,
  count: 1,
  machinedTo: null,
  ...change,
});
const jobWith = (fit: PartFit, filmUm = 25, isMasked = false): Job => {
  const part = isMasked ? { ...ring, coverage: { mask: boreRuns, contact: [], show: [] } } : ring;
  const job = putFit(addPart(emptyJob('ring'), part), 'p', fit);
  return changeProcess(job, { thicknessM: filmUm * UM });
};
const plansOf = (job: Job) =>
  Object.fromEntries(
    job.parts.map((part) => {
      const flags = coverageFlags(geometry.triangleCount, part.coverage);
      return [part.id, planFits(part, ground, flags, netGrowth(job, part))];
    }),
  );
const itemOf = (job: Job) => plansOf(job).p!.items[0]!;
const warned = (job: Job, code: string) =>
  wetMessages(job, { heat: null, fits: plansOf(job) }).filter((message) => message.code === code);
const onSheet = (job: Job): string[] => {
  const plan = valueOf(planRun([{ name: 'ring', areaM2: 0.01, quantity: 1 }], job.process));
  return [...(makeRunSheet(job, plan, { heat: null, fits: plansOf(job) }).masks[0]?.machine ?? [])];
};

/** Of 25 µm 7.5 to 10 stand out on each side: 20.000 + 0.020 to 20.021 + 0.015 mm. */
const TICKED = { lowM: 20.02e-3, highM: 20.036e-3 };
const etched = (job: Job): Job => changeFinishSection(job, 'etch', { use: true, timeS: 60 });

describe('a size that was ticked as machined', () => {
  it('is the one of the moment it was ticked, and fits the plan of that moment', () => {
    const job = jobWith(seat({ machinedTo: TICKED }));
    const { verdict, window, ends } = itemOf(job);
    expect(window!.machineTo!.lowM).toBeCloseTo(TICKED.lowM, 9);
    expect(window!.machineTo!.highM).toBeCloseTo(TICKED.highM, 9);
    expect(verdict).toBe('machined');
    expect(ends!.lowM).toBeCloseTo(20e-3, 9);
    expect(ends!.highM).toBeCloseTo(20.021e-3, 9);
    expect(onSheet(job)).toEqual(['seat: machined to 20.0200-20.0360 mm before coating']);
    expect(warned(job, 'machined-size-off')).toEqual([]);
  });

  it('stays, and is warned of with both sizes, where another film no longer ends it in tolerance', () => {
    const job = jobWith(seat({ machinedTo: TICKED }), 10);
    const item = itemOf(job);
    // 3 to 4 µm a side: 20.020 − 0.008 to 20.036 − 0.006; 20.0080 to 20.0270 would be the size for it.
    expect(item.verdict).toBe('machined off');
    expect(item.ends!.lowM).toBeCloseTo(20.012e-3, 9);
    expect(item.ends!.highM).toBeCloseTo(20.03e-3, 9);
    const [warning] = warned(job, 'machined-size-off');
    expect(warning).toMatchObject({ level: 'check', stage: 'fits', partId: 'p' });
    expect(warning!.message).toContain('machined to 20.0200-20.0360 mm');
    // Above its card, which says all of this, it is one short sentence.
    expect(warning!.brief).toMatch(/^seat \(.*\): machined to another size than this plan needs\. Its card/);
    expect(warning!.brief).not.toMatch(/\d mm/);
    expect(warning!.remedy).toContain('machined to 20.0080-20.0270 mm now');
    expect(onSheet(job)).toEqual([
      'seat: machined to 20.0200-20.0360 mm before coating, but this plan needs 20.0080-20.0270 mm',
    ]);
    // A film of 1 µm would be coated as it is; what was made for 25 is not.
    expect(itemOf(jobWith(seat(), 1)).verdict).toBe('coat as it is');
    expect(itemOf(jobWith(seat({ machinedTo: TICKED }), 1)).verdict).toBe('machined off');
  });

  it('is warned of when an etch comes in, and not for less than a micrometer shows', () => {
    expect(itemOf(etched(jobWith(seat({ machinedTo: TICKED })))).verdict).toBe('machined off');
    // 0.01 µm of film more: 0.008 µm at the low limit, which is written to 0.1 µm.
    expect(itemOf(jobWith(seat({ machinedTo: TICKED }), 25.01)).verdict).toBe('machined');
  });

  it('can not be kept oversize under a mask', () => {
    const job = jobWith(seat({ machinedTo: TICKED }), 25, true);
    expect(itemOf(job).verdict).toBe('machined off');
    expect(itemOf(job).text).toContain('masked it stays there');
    expect(onSheet(job)).toEqual([
      'seat: machined to 20.0200-20.0360 mm before coating, but it is masked and has to be 20.0000-20.0210 mm',
    ]);
    expect(itemOf(jobWith(seat(), 25, true)).verdict).toBe('keeps');
  });

  it('of a job of version 1, which kept no size, is asked for again', () => {
    const job = jobWith(seat());
    const { machinedTo: _machinedTo, ...fit } = seat();
    const old = (machined: boolean) => ({
      ...job,
      version: 1,
      parts: [{ ...job.parts[0]!, fits: [{ ...fit, machined }] }],
    });
    const opened = (machined: boolean): Job =>
      valueOf(
        unpackJob(
          zipSync({
            'job.json': strToU8(JSON.stringify(old(machined))),
            [fileOf(job.parts[0]!)!.entry]: new Uint8Array([1, 2, 3]),
          }),
        ),
      ).job;
    expect(opened(false)).toEqual(job);
    const asked = opened(true);
    expect(asked.parts[0]!.fits[0]!.machinedTo).toBe('not kept');
    expect(itemOf(asked).verdict).toBe('tick again');
    expect(warned(asked, 'machined-size-unknown')[0]!.remedy).toContain('20.0200-20.0360 mm');
    expect(onSheet(asked)).toEqual(['seat: ticked as machined before coating, size not kept: measure it']);
  });
});

describe('a part that was stripped', () => {
  /** Lye of 24 g/L at 50 °C, 3 min over, as a beginner may leave it. */
  const STRIP = { lyeKgPerM3: 24, temperatureK: 323.15, overTimeS: 180 };
  const redone = (
    job: Job,
    lye: Partial<typeof STRIP> = {},
    strips: Partial<PartStrips> = { soFar: 1 },
  ): Job => changeFinishSection(changeStrips(job, 'p', strips), 'strip', { ...STRIP, ...lye });
  const grown = (job: Job) => netGrowth(job, job.parts[0]);

  it('has lost its first film and the metal under it in its fits too', () => {
    const job = redone(jobWith(seat()));
    const growth = grown(job);
    expect(growth.usualM).toBeCloseTo(jobBudget(job, job.parts[0])!.surface.valueSi, 15);
    // Two films less the film on it: 25/3 − 2/3 · 25 = −8.33 µm, less what the lye took in 3 min
    // (17 µm/min · (24/110.9)^0.7 · e^(−46 kJ/mol / R · (1/323 K − 1/353 K)) = 1.36 µm/min).
    expect(growth.usualM / UM).toBeCloseTo(-8.33 - 3 * 1.36, 1);
    expect(itemOf(job).change!.valueSi / UM).toBeCloseTo(-2 * (growth.usualM / UM), 6);
  });

  it('no longer passes for machined to size, and nobody is told to machine it now', () => {
    const job = redone(jobWith(seat({ machinedTo: TICKED })));
    expect(itemOf(job).verdict).toBe('machined off');
    const [warning] = warned(job, 'machined-size-off');
    expect(warning!.remedy).toContain('Measure it stripped');
    expect(warning!.remedy).not.toContain('do that and say so');
    const [lost] = warned(redone(jobWith(seat())), 'fit-lost');
    expect(lost!.remedy).toMatch(/before its first coat/);
    expect(lost!.remedy).not.toContain('Mask it, or machine it');
  });

  it('counts the strip that this run begins with as one more', () => {
    const before = grown(redone(jobWith(seat()), {}, { first: true }));
    expect(before.usualM).toBeCloseTo(grown(redone(jobWith(seat()))).usualM, 15);
    expect(grown(redone(jobWith(seat()), {}, { soFar: 0 })).strips).toBeUndefined();
  });

  it('leaves a new part beside it as it is: fits, redo and what the strip is for', () => {
    const both = redone(
      addPart(jobWith(seat()), newPart('q', 'new.stl', 3, 'mm', true)),
      {},
      { first: true },
    );
    const [old, fresh] = both.parts;
    expect(netGrowth(both, fresh)).toEqual(netGrowth(jobWith(seat())));
    expect(netGrowth(both, old).strips?.count).toBe(1);
    expect(jobBudget(both, fresh)!.metal.valueSi).toBeLessThan(jobBudget(both, old)!.metal.valueSi);
    expect([old, fresh].map((part) => troubleFacts(both, null, null, part).redone)).toEqual([true, false]);
    // Half of the area in the lye makes half of the gas: 2 Al + 2 OH⁻ + 6 H₂O → 2 Al(OH)₄⁻ + 3 H₂, by the metal alone.
    const plan = valueOf(
      planRun(
        [0.01, 0.01].map((areaM2, i) => ({ name: `${i}`, areaM2, quantity: 1 })),
        both.process,
      ),
    );
    const gas = (job: Job) => valueOf(jobStrip(job, plan, { p: 0.01, q: 0.01 })).hydrogen.valueSi;
    const neither = changeStrips(both, 'p', { first: false });
    expect(gas(both) / gas(neither)).toBeCloseTo(0.5, 9);
  });

  it('of a job of version 2, which counted strips for all parts, is each part of it', () => {
    const job = addPart(jobWith(seat()), newPart('q', 'new.stl', 3, 'mm', true));
    const said = { soFar: 2, first: true, wallM: 2e-3, leastWallM: null };
    const { soFar: redosSoFar, ...rest } = said;
    const old = {
      ...job,
      version: 2,
      parts: job.parts.map(({ strips: _strips, ...part }) => part),
      finish: { ...job.finish, strip: { ...job.finish.strip, ...STRIP, redosSoFar, ...rest } },
    };
    const opened = valueOf(migrateJob(JSON.parse(JSON.stringify(old))));
    expect(opened.parts.map(({ strips }) => strips)).toEqual([said, said]);
    expect(opened.finish.strip).toEqual({ ...job.finish.strip, ...STRIP });
    // A job that never said anything of strips.
    const { finish: _finish, ...silent } = old;
    expect(valueOf(migrateJob(silent)).parts[0]!.strips).toEqual(job.parts[0]!.strips);
  });

  it('a masked bore lies in the lye from the first minute, unless it is plugged there too', () => {
    const cold = { lyeKgPerM3: 24, temperatureK: 293.15, overTimeS: 60 };
    const loss = bareStrippedMetal(redone(jobWith(seat()), cold))!;
    // 0.236 µm/min (17 · (24/110.9)^0.7 · e^(−46000/8.314 · (1/293.15 − 1/353.15))), 2 to 15 min and one more, half to 1.8 times.
    expect(loss.usualM / UM).toBeCloseTo(0.236 * 6, 1);
    expect(loss.lowM / UM).toBeCloseTo(0.5 * 0.236 * 3, 1);
    expect(loss.highM / UM).toBeCloseTo(1.8 * 0.236 * 16, 1);
    const masked = redone(jobWith(seat(), 25, true), cold);
    expect(itemOf(masked).verdict).toBe('bare in lye');
    // Twice as much on the diameter: a bore gets larger.
    expect(itemOf(masked).ends!.highM - 20.021e-3).toBeCloseTo(2 * loss.highM, 12);
    expect(warned(masked, 'bare-in-strip')[0]!.remedy).toMatch(/^Plug or mask it again/);
    const plugged = changeFinishSection(masked, 'strip', { bareCovered: true });
    expect(itemOf(plugged).verdict).toBe('keeps');
    expect(warned(plugged, 'bare-in-strip')).toEqual([]);
    expect(itemOf(jobWith(seat(), 25, true)).verdict).toBe('keeps');
  });
});

describe('the film that an alloy makes', () => {
  const shaft = seat({ need: { as: 'code', text: '20h6' }, faces: [] });

  it('widens what its surface grows by: 2024 makes 60 to 90 % (alloys.ts, from memory)', () => {
    const job = setAlloy(jobWith(shaft), 'p', '2024');
    const growth = netGrowth(job, job.parts[0]);
    expect(growth.lowM / UM).toBeCloseTo(0.6 * 0.3 * 25, 9);
    expect(growth.highM / UM).toBeCloseTo(0.9 * 0.4 * 25, 9);
    expect(growth.usualM / UM).toBeCloseTo((0.75 * 25) / 3, 9);
    const { ends, window } = itemOf(job);
    expect(ends!.lowM).toBeCloseTo(20e-3 - 13 * UM + 2 * growth.lowM, 12);
    expect(ends!.highM).toBeCloseTo(20e-3 + 2 * growth.highM, 12);
    // From 4.5 to 9 µm a side: 9 of the 13 µm are lost to not knowing.
    expect(window!.machineTo!.highM - window!.machineTo!.lowM).toBeCloseTo(4 * UM, 9);
    const plain = setAlloy(jobWith(shaft), 'p', '6082');
    expect(netGrowth(plain, plain.parts[0])).toEqual(netGrowth(jobWith(shaft)));
  });

  it('is for its own part alone', () => {
    const both = addPart(jobWith(shaft), newPart('q', 'plate.stl', 3, 'mm', true));
    const job = setAlloy(setAlloy(both, 'p', '2024'), 'q', '6082');
    expect(netGrowth(job, job.parts[1])).toEqual(netGrowth(jobWith(shaft)));
    expect(netGrowth(job, job.parts[0]).highM).toBeLessThan(netGrowth(job, job.parts[1]).highM);
  });

  it('is held by a charge constant of the shop’s own where the job is of this alloy alone', () => {
    const own = (job: Job): Job =>
      changeProcess(job, { chargePerVolumeCPerM3: job.process.chargePerVolumeCPerM3 * 1.3 });
    const alone = own(setAlloy(jobWith(shaft), 'p', '2024'));
    expect(netGrowth(alone, alone.parts[0])).toEqual(netGrowth(jobWith(shaft)));
    const mixed = addPart(alone, newPart('q', 'plate.stl', 3, 'mm', true));
    expect(netGrowth(mixed, mixed.parts[0]).highM).toBeLessThan(netGrowth(jobWith(shaft)).highM);
  });
});
