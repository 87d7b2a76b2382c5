/** The wet sections of a job: kept as they are, absent in older jobs, and what they have to say. */
import { strToU8, zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { planRun, type RunPlan } from '../../../core/electrical/plan-run.ts';
import { packJob, unpackJob } from '../../../core/job/container.ts';
import { bathHeatRequest, hasLead, jobBathLife, jobHeat } from '../../../core/job/bath-plan.ts';
import { bathVessel } from '../../../core/job/bath-vessel.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, changeBath, changeProcess } from '../../../core/job/edit-job.ts';
import {
  changeFinish,
  changeFinishSection,
  changeStrips,
  changeMix,
  putFit,
  removeFit,
  setAlloy,
  setFiller,
} from '../../../core/job/edit-wet.ts';
import { rankCauses } from '../../../core/finish/rank-causes.ts';
import { jobBudget, jobRedo, jobSeal, troubleFacts } from '../../../core/job/finish-plan.ts';
import { coatingDoubt } from '../../../core/job/coating-doubt.ts';
import { alloysMayDiffer } from '../../../core/job/alloys-together.ts';
import { isOpen, jobMessages } from '../../../core/job/job-messages.ts';
import { etchedMetal, filmGrowth, netGrowth } from '../../../core/job/job-growth.ts';
import type { Job } from '../../../core/job/job.ts';
import { tankRulesSchema } from '../../../core/job/job-tank.ts';
import { fileOf } from '../../../core/job/part-source.ts';
import { inReaderUnits } from '../../../core/units/reader-units.ts';
import { valueOf } from '../value-of.ts';

const bytes = new Uint8Array([1, 2, 3]);
const plain = (): Job => addPart(emptyJob('plate'), newPart('p', 'plate.stl', bytes.length, 'mm', true));
const planOf = (job: Job, areaM2 = 0.0242): RunPlan =>
  valueOf(planRun([{ name: 'plate', areaM2, quantity: 1 }], job.process));
const codes = (job: Job): string[] => {
  const plan = planOf(job);
  const wet = { heat: jobHeat(job, plan), fits: {} };
  return jobMessages(job, {}, { ok: true, value: plan }, wet).map(({ code }) => code);
};

const withSupply = (job: Job): Job => ({
  ...job,
  process: { ...job.process, supplyCurrentLimitA: 10 },
});

function everythingSaid(): Job {
  let job = setFiller(setAlloy(plain(), 'p', '6061'), 'p', '5356');
  job = putFit(job, 'p', {
    id: 'f1',
    label: 'seat',
    need: { as: 'code', text: '25H7' },
    faces: [0, 4, 8, 12],
    count: 1,
    machinedTo: { lowM: 0.02502, highM: 0.02503 },
  });
  job = changeBath(job, { volumeM3: 0.015, aluminiumKgPerM3: 3.2, iceKg: 0.5, leadCathodes: true });
  job = changeMix(job, { by: 'parts', partsText: '1:4', onSheet: true, volumeM3: 0.012 });
  job = changeFinishSection(job, 'dye', {
    use: true,
    name: 'Deep red',
    colour: { l: 38, a: 52, b: 24 },
    recipe: { as: 'bottle', makesM3: 0.004 },
    timeS: 420,
  });
  job = changeFinishSection(job, 'seal', { way: 'cold nickel', temperatureK: 300 });
  return changeFinish(job, { coating: 'hard', growthRatio: 0.48, specification: 'ISO 10074' });
}

describe('the job file', () => {
  it('brings bath, fits and finish back as they were', () => {
    const job = everythingSaid();
    const models = new Map([[fileOf(job.parts[0]!)!.entry, bytes]]);
    expect(valueOf(unpackJob(packJob(job, models))).job).toEqual(job);
    expect(removeFit(job, 'p', 'f1').parts[0]!.fits).toEqual([]);
  });

  it('without them opens with the usual values, which say nothing', () => {
    const job = plain();
    const { bath, finish: _finish, ...rest } = job;
    const parts = job.parts.map(({ alloy: _a, filler: _f, fits: _s, ...part }) => part);
    const old = { ...rest, parts, bath: { temperatureK: bath.temperatureK, acidKgPerM3: bath.acidKgPerM3 } };
    const zip = zipSync({ 'job.json': strToU8(JSON.stringify(old)), [fileOf(job.parts[0]!)!.entry]: bytes });
    expect(valueOf(unpackJob(zip)).job).toEqual(job);
    expect(codes(job)).toEqual(['supply-unknown']); // the one thing a usual job can't know
    expect(codes(withSupply(job))).toEqual([]);
  });
});

describe('the bath of a job', () => {
  it('takes volume and areas from the tank unless they are typed, and a cube’s areas where there is neither', () => {
    const job = plain();
    expect(bathVessel(job)).toBeNull();
    expect(bathHeatRequest(job, planOf(job))).toBeNull();
    const typed = bathVessel(changeBath(job, { volumeM3: 0.027 }))!;
    expect(typed.surfaceM2).toBeCloseTo(0.09, 12); // a cube of 0.3 m
    expect(typed.wallM2).toBeCloseTo(0.45, 12);
    const tank: Job['tank'] = {
      shopTankId: null,
      tank: {
        name: 'tub',
        vessel: { shape: 'box', lengthM: 0.4, widthM: 0.3, heightM: 0.35 },
        levelM: 0.3,
        cathodes: [
          {
            id: 'c',
            material: 'lead',
            place: { on: 'wall', wall: 'x-', alongM: 0 },
            widthM: 0.1,
            bottomM: 0.05,
            heightM: 0.2,
            thicknessM: 0.002,
            standoffM: 0,
            backWorks: false,
          },
        ],
        bars: [],
      },
      rules: tankRulesSchema.parse({}),
    };
    const filled = { ...job, tank };
    expect(bathVessel(filled)!.volumeM3).toBeCloseTo(0.036, 12);
    expect(bathVessel(filled)!.surfaceM2).toBeCloseTo(0.12, 12);
    expect(bathVessel(filled)!.wallM2).toBeCloseTo(0.12 + 1.4 * 0.3, 12);
    expect(hasLead(filled)).toBe(true);
    expect(hasLead(job)).toBe(false);
    // 0.4 · 0.3 · 0.35 m = 42 L to the rim: litres typed as gallons do not pass.
    expect(codes(changeBath(filled, { volumeM3: 0.042 }))).not.toContain('bath-over-rim');
    expect(codes(changeBath(filled, { volumeM3: 0.068 }))).toContain('bath-over-rim');
    expect(codes(changeBath(job, { volumeM3: 0.068 }))).not.toContain('bath-over-rim');
  });

  it('warms by the balance of a small bath: I · (V + U) over m · c, less losses', () => {
    const job = changeBath(plain(), { volumeM3: 0.005 });
    const heat = valueOf(jobHeat(job, planOf(job))!);
    const riseK = heat.endTemperature.valueSi - job.bath.temperatureK;
    const closed = heat.heat.valueSi / heat.run.capacityJPerK;
    expect(riseK).toBeGreaterThan(0.5 * closed);
    expect(riseK).toBeLessThan(closed + 1);
    expect(codes(job)).toContain('soft-coating');
    expect(codes(withSupply(changeBath(job, { volumeM3: 0.1 })))).toEqual([]);
  });

  it('knows its life once its aluminium was measured', () => {
    const job = changeBath(plain(), { volumeM3: 0.02 });
    expect(jobBathLife(job, planOf(job))).toBeNull();
    const life = valueOf(jobBathLife(changeBath(job, { aluminiumKgPerM3: 3 }), planOf(job))!);
    // At most what Faraday's law dissolves: Q · M / 3F over the volume.
    const most = (planOf(job).chargeC.valueSi * 26.98e-3) / (3 * 96485) / 0.02;
    expect(life.aluminiumAfter.valueSi).toBeGreaterThan(3);
    expect(life.aluminiumAfter.valueSi).toBeLessThan(3 + most);
  });
});

describe('messages of the wet stages', () => {
  it.each([
    ['film-limit', changeProcess(plain(), { thicknessM: 60e-6 })],
    ['aluminium-high', changeBath(plain(), { aluminiumKgPerM3: 17 })],
    ['not-stirred', changeBath(plain(), { stirred: false })],
    ['alloy-not-for-colour', changeFinishSection(setAlloy(plain(), 'p', '2024'), 'dye', { use: true })],
    ['filler-dark-weld', setFiller(setAlloy(plain(), 'p', '6061'), 'p', '4043')],
    ['dye-hot', changeFinishSection(plain(), 'dye', { use: true, temperatureK: 345 })],
    ['seal-too-cold', changeFinishSection(plain(), 'seal', { temperatureK: 340 })],
    ['too-thin', changeFinish(plain(), { specification: 'ASTM B580 A' })],
    ['too-much-ice', changeBath(plain(), { volumeM3: 0.01, iceKg: 50 })],
  ] as const)('%s', (code, job) => {
    expect(codes(job)).toContain(code);
    expect(codes(plain())).not.toContain(code);
  });

  it('a reader with US instruments gets °F, gallons, pounds and mils first', () => {
    const said = (job: Job, system: 'us' | 'metric'): string => {
      const plan = planOf(job);
      const messages = jobMessages(
        job,
        {},
        { ok: true, value: plan },
        { heat: jobHeat(job, plan), fits: {}, system },
      );
      return messages.map(({ message, remedy }) => inReaderUnits(`${message} ${remedy}`, system)).join(' ');
    };
    const warm = changeProcess(changeBath(plain(), { volumeM3: 0.003, limitK: 294.15 }), {
      thicknessM: 60e-6,
    });
    // 21 °C = 69.8 °F; 60 µm = 2.4 mil.
    expect(said(warm, 'us')).toMatch(
      /above your limit of 69\.8 °F \(21\.0 °C\).* lb \([\d.]+ kg\) of ice.*2\.4 mil/,
    );
    expect(said(warm, 'us')).not.toMatch(/(?<!\([^)]*)°C/);
    expect(said(warm, 'metric')).toMatch(
      /above your limit of 21\.0 °C \(69\.8 °F\).* kg \([\d.]+ lb\) of ice.*60 µm/,
    );
  });

  it('two hours at 6 A/ft² for a mil, as it is usually done (common practice), are no warning', () => {
    // The acid's rate is known to a factor of four only, and 1 mil lies inside what that leaves.
    const job = withSupply(
      changeProcess(plain(), { thicknessM: 25.4e-6, currentDensityAPerM2: 6 / 0.3048 ** 2 }),
    );
    expect(codes(job)).toEqual(['film-near-limit']);
    const plan = planOf(job);
    const wet = { heat: jobHeat(job, plan), fits: {} };
    expect(jobMessages(job, {}, { ok: true, value: plan }, wet).map(({ level }) => level)).toEqual(['note']);
  });
});

describe('alloys and the type of film', () => {
  const two = (a: string | null, b: string | null): Job =>
    setAlloy(setAlloy(addPart(plain(), newPart('q', 'ring.stl', 3, 'mm', true)), 'p', a), 'q', b);
  const dyed = (job: Job, shade: 'bright' | 'black' = 'bright'): Job =>
    changeFinishSection(job, 'dye', { use: true, shade });
  const pieces = [
    { name: 'plate', areaM2: 0.02, quantity: 1 },
    { name: 'ring', areaM2: 0.01, quantity: 1 },
  ];
  const said = (job: Job, loads?: readonly (readonly number[])[]) => {
    const one = valueOf(planRun(pieces, job.process));
    const plan = loads ? { ...one, loads: loads.map((load) => ({ ...one.loads[0]!, pieces: load })) } : one;
    return jobMessages(job, {}, { ok: true, value: plan }, { heat: null, fits: {} });
  };
  const find = (job: Job, code: string, loads?: readonly (readonly number[])[]) =>
    said(job, loads).filter((message) => message.code === code);

  it('two alloys in one dyed load are an open check; in loads of their own, undyed or alike they are none', () => {
    const [warning] = find(dyed(two('2024', '6082')), 'alloys-differ');
    expect(warning).toMatchObject({ level: 'check', stage: 'finish' });
    expect(warning!.message).toContain('2024 and 6082');
    expect(find(two('2024', '6082'), 'alloys-differ')).toEqual([]);
    expect(find(dyed(two('6082', '6082')), 'alloys-differ')).toEqual([]);
    expect(find(dyed(two('6082', null)), 'alloys-differ')).toEqual([]);
    expect(find(dyed(two('2024', '6082')), 'alloys-differ', [[1, 0], [0, 1]])).toEqual([]); // prettier-ignore
  });

  it('asks no more of alloys that the user said to know of, until another one comes in', () => {
    const known = alloysMayDiffer(dyed(two('2024', '6082')));
    const [note] = find(known, 'alloys-differ');
    expect(note!.level).toBe('note');
    expect(isOpen(note!)).toBe(false);
    expect(find(setAlloy(known, 'q', '7075'), 'alloys-differ')[0]!.level).toBe('check');
    // Said of one load, asked of the other.
    const third = addPart(
      addPart(known, newPart('r', 'r.stl', 3, 'mm', true)),
      newPart('s', 's.stl', 3, 'mm', true),
    );
    const all = setAlloy(setAlloy(third, 'r', '6061'), 's', '7075');
    const [asked] = find(all, 'alloys-differ', [[1, 1, 0, 0], [0, 0, 1, 1]]); // prettier-ignore
    expect(asked).toMatchObject({ level: 'check' });
    expect(asked!.message).toMatch(/^Load 2 holds parts of 6061 and 7075/);
  });

  it('trouble names the alloys that are known to differ, not how many pieces there were', () => {
    const because = (job: Job): string => {
      const facts = troubleFacts(job, valueOf(planRun(pieces, job.process)), null, job.parts[0]);
      const ranked = valueOf(rankCauses('differs', facts));
      return ranked.find(({ id }) => id === 'mixed-alloys')!.because.join();
    };
    expect(because(two('2024', '6082'))).toBe('different alloys hung together (2024 and 6082)');
    expect(because(two(null, '6082'))).toBe('several pieces hung together (2 pieces)');
  });

  it('a low yield asks for a load of its own beside another alloy, and is settled by its own charge constant', () => {
    const [among] = find(two('2024', '6082'), 'alloy-low-yield');
    expect(among!.remedy).toMatch(/^Run it as a load of its own/);
    const [alone] = find(two('2024', '2024'), 'alloy-low-yield');
    expect(alone!.remedy).toMatch(/^Measure a test piece and enter your own charge constant/);
    const own = changeProcess(two('2024', '2024'), {
      chargePerVolumeCPerM3: 1.3 * plain().process.chargePerVolumeCPerM3,
    });
    expect(find(own, 'alloy-low-yield')).toEqual([]);
  });

  it('once dyed black, an alloy that takes no colour is open no longer', () => {
    const level = (job: Job) => find(job, 'alloy-not-for-colour')[0]!.level;
    expect(level(dyed(two('2024', '2024')))).toBe('check');
    expect(level(dyed(two('2024', '2024'), 'black'))).toBe('note');
  });

  it('asks which film grows where the bath is as cold as for hard coat, with both build-ups', () => {
    // 40 µm: a third (13.3) as an ordinary film, half (20) as a hard one (growth-ratio.ts).
    const cold = changeProcess(changeBath(plain(), { temperatureK: 273.15 }), { thicknessM: 40e-6 });
    const doubt = (job: Job) =>
      jobMessages(job, {}, null, { heat: null, fits: {} }).find(({ code }) => code === 'coating-type');
    expect(doubt(cold)).toMatchObject({ level: 'check', stage: 'fits' });
    expect(doubt(cold)!.message).toMatch(
      /ordinary film, of which 13\.3 µm .* hard coat, and 20\.0 µm stand out/,
    );
    expect(doubt(changeFinish(cold, { coating: 'hard' }))).toBeUndefined();
    expect(doubt(changeFinish(cold, { growthRatio: 0.45 }))).toBeUndefined();
    expect(doubt(changeBath(cold, { temperatureK: 294.15 }))).toBeUndefined();
    expect(doubt(changeFinish(plain(), { coating: 'hard' }))!.message).toMatch(/bath makes an ordinary film/);
    expect(coatingDoubt(cold, 288.15)).toBeNull(); // between the two, nobody can tell
  });
});

describe('growth and metal', () => {
  it('an etch takes from the build-up what it takes off the metal', () => {
    const job = changeFinishSection(plain(), 'etch', { use: true, timeS: 120 });
    const etched = etchedMetal(job);
    const film = filmGrowth(job);
    expect(etched.usualM).toBeGreaterThan(0);
    expect(netGrowth(job).usualM).toBeCloseTo(film.usualM - etched.usualM, 12);
    expect(netGrowth(job).lowM).toBeLessThan(netGrowth(job).usualM);
    expect(netGrowth(plain())).toEqual(filmGrowth(plain()));
  });

  it('counts one more strip and coat for every redo so far', () => {
    const life = (redosSoFar: number): number => {
      const job = changeStrips(plain(), plain().parts[0]!.id, { soFar: redosSoFar });
      return jobBudget(job, job.parts[0])!.metal.valueSi;
    };
    // Every redo costs the same: film turned from metal, and what the lye takes over it.
    expect(life(2) - life(1)).toBeCloseTo(life(1) - life(0), 12);
    expect(life(1)).toBeGreaterThan(life(0));
  });

  it('calls a redo hopeless when a wall gets too thin', () => {
    const job = changeStrips(plain(), plain().parts[0]!.id, { wallM: 1e-3, leastWallM: 0.999e-3 });
    expect(jobRedo(job, job.parts[0]!, undefined)!.verdict).toBe('hopeless');
    expect(jobRedo(plain(), plain().parts[0]!, undefined)!.verdict).toBe('worth it');
  });

  it('seals hot water by thickness and hands trouble only what is known', () => {
    expect(valueOf(jobSeal(plain())!).time.valueSi).toBeGreaterThan(2 * 60 * 25.4);
    const facts = troubleFacts(everythingSaid(), null, null, everythingSaid().parts[0]);
    expect(facts).toMatchObject({
      siliconFraction: expect.any(Number) as number,
      pieces: null,
      desmutted: null,
    });
    expect(troubleFacts(plain(), null, null, undefined).dyeK).toBeNull();
    // The plan's area and its range: 3 % more is 1.03.
    const ranged = planRun(
      [{ name: 'plate', areaM2: 0.02, areaLowM2: 0.0194, areaHighM2: 0.0206, quantity: 1 }],
      plain().process,
    );
    expect(troubleFacts(plain(), valueOf(ranged), null, undefined).areaSpread).toBeCloseTo(1.03, 12);
    expect(troubleFacts(plain(), null, null, undefined).contactLoad).toBeNull();
    // Of 20 A and 30 V: volts near 16 are the larger share; nothing is said while one limit is not known and the other has room.
    const supplied = (supplyCurrentLimitA: number | null, supplyVoltageLimitV: number | null) =>
      troubleFacts(
        changeProcess(plain(), { supplyCurrentLimitA, supplyVoltageLimitV }),
        planOf(plain()),
        null,
        undefined,
      ).supplyShare;
    expect(supplied(20, 30)!).toBeGreaterThan(0.4);
    expect(supplied(20, 30)!).toBeLessThan(0.7);
    expect(supplied(20, null)).toBeNull();
    expect(supplied(1, null)!).toBeGreaterThan(1);
  });

  it('ranks the causes of a soft film anew with every figure of the job', () => {
    const likeliest = (job: Job) => {
      const plan = planOf(job);
      const heat = jobHeat(job, plan);
      const facts = troubleFacts(job, plan, heat?.ok ? heat.value : null, job.parts[0]);
      return valueOf(rankCauses('soft', facts))[0]!;
    };
    // 5 L under this load end well above 24 °C, 100 L hardly warm up (heat balance of the bath).
    const small = likeliest(changeBath(plain(), { volumeM3: 0.003, temperatureK: 295.15 }));
    expect(small.id).toBe('warm-bath');
    expect(small.because.join()).toMatch(/above 24 °C \(\d/);
    const cool = changeBath(plain(), { volumeM3: 0.1, temperatureK: 292.15 });
    expect(likeliest(cool).id).not.toBe('warm-bath');
    expect(likeliest(changeProcess(cool, { thicknessM: 40e-6 })).id).toBe('too-long');
    expect(likeliest(changeBath(cool, { acidKgPerM3: 260 })).id).toBe('strong-bath');
  });
});
