/** A bath that starts too warm, is too cold or too warm for the published voltages, or is a hard coat's. */
import { describe, expect, it } from 'vitest';
import { heatVoltage } from '../../../core/bath/heat-voltage.ts';
import { expectedVoltage } from '../../../core/bath/expected-voltage.ts';
import { planRun, type RunPlan } from '../../../core/electrical/plan-run.ts';
import { jobFilmLimit, jobHeat } from '../../../core/job/bath-plan.ts';
import { bathLimitK, bathStartK } from '../../../core/job/bath-start.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart, changeBath, changeProcess } from '../../../core/job/edit-job.ts';
import { jobMessages } from '../../../core/job/job-messages.ts';
import { jobSchema, type Job } from '../../../core/job/job.ts';
import { makeRunSheet } from '../../../core/job/run-sheet.ts';
import { valueOf } from '../value-of.ts';

const K = 273.15;
const plain = (): Job => {
  const job = addPart(emptyJob('plate'), newPart('p', 'plate.stl', 3, 'mm', true));
  return { ...job, process: { ...job.process, supplyCurrentLimitA: 20, supplyVoltageLimitV: 30 } };
};
const planOf = (job: Job): RunPlan =>
  valueOf(planRun([{ name: 'plate', areaM2: 0.0242, quantity: 1 }], job.process));
const heatOf = (job: Job) => valueOf(jobHeat(job, planOf(job))!);
const messagesOf = (job: Job) =>
  jobMessages(job, {}, { ok: true, value: planOf(job) }, { heat: jobHeat(job, planOf(job)), fits: {} });
const codes = (job: Job): string[] => messagesOf(job).map(({ code }) => code);
const sheetOf = (job: Job): string =>
  makeRunSheet(job, planOf(job), { heat: jobHeat(job, planOf(job)), fits: {} }, 'metric')
    .steps.map(({ detail }) => detail)
    .join(' ');

describe('a bath that starts above its limit', () => {
  const warm = changeBath(plain(), { volumeM3: 0.06, temperatureK: 26 + K, limitK: 24 + K });

  it('asks for the ice that brings it down: 60 L by 2 K, 1.1 kg by hand, and what the run adds', () => {
    // By hand: 60 L · 1.11 kg/L · 3.6 kJ/(kg·K) · 2 K = 480 kJ; / (333.55 + 4.18 · 24) kJ/kg = 1.1 kg.
    const { coolDown, iceNeeded } = heatOf(warm);
    expect(coolDown!.iceKg).toBeCloseTo(1.1, 1);
    expect(iceNeeded.valueSi).toBeGreaterThanOrEqual(coolDown!.iceKg);
    expect(iceNeeded.lowSi!).toBeGreaterThan(1);
  });

  it('put in, that ice brings it to the limit exactly, and no more is asked for than the run adds', () => {
    const { coolDown, iceNeeded } = heatOf(warm);
    const iced = changeBath(warm, { iceKg: coolDown!.iceKg });
    // As rounded in the message, to two digits.
    expect(codes(changeBath(warm, { iceKg: 1.1 }))).not.toContain('bath-starts-over-limit');
    expect(bathStartK(iced)).toBeCloseTo(24 + K, 6);
    expect(heatOf(iced).startTemperature.valueSi).toBeCloseTo(24 + K, 6);
    expect(heatOf(iced).coolDown).toBeNull();
    expect(heatOf(iced).iceNeeded.label).toBe('More ice to hold the limit');
    // But for the volts, which are a little higher in the colder bath.
    expect(coolDown!.iceKg + heatOf(iced).iceNeeded.valueSi).toBeCloseTo(iceNeeded.valueSi, 1);
  });

  it('is one open warning, on the sheet too, with the chiller’s time where there is one', () => {
    const open = messagesOf(warm).filter(({ stage, level }) => stage === 'bath' && level !== 'note');
    expect(open.map(({ code }) => code)).toEqual(['bath-starts-over-limit']);
    expect(open[0]!.remedy).toMatch(
      /^Cool it to 24\.0 °C \(75\.2 °F\) or less before the power goes on: about 1\.1 kg/,
    );
    expect(sheetOf(warm)).toMatch(
      /at 26 °C\. That is too warm: cool it to 24 °C or less before the power goes on/,
    );
    const chilled = messagesOf(changeBath(warm, { chillerW: 500, chillerSetK: 20 + K }));
    // 484 kJ / 500 W = 16 min, upwards to tens.
    expect(chilled.find(({ code }) => code === 'bath-starts-over-limit')!.remedy).toMatch(
      /or about 20 min by the chiller alone/,
    );
    expect(codes(changeBath(warm, { temperatureK: 21 + K }))).not.toContain('bath-starts-over-limit');
  });
});

describe('the voltage that heat is reckoned with', () => {
  it.each([-3, 2, 5, 8, 12, 28, 35])('is there at %d °C, with a range', (celsius) => {
    const job = changeBath(plain(), { volumeM3: 0.06, temperatureK: celsius + K });
    const heat = heatOf(job);
    expect(heat.heatPower.lowSi!).toBeLessThan(heat.heatPower.valueSi);
    expect(heat.heatPower.highSi!).toBeGreaterThan(heat.heatPower.valueSi);
    expect(heat.heatPower.source.text).toMatch(/no published voltage holds here/);
  });

  it('is the published one where there is one, and goes on from its end without a jump', () => {
    const at = (celsius: number, density = 150) => ({
      currentDensityAPerM2: density,
      temperatureK: celsius + K,
      acidKgPerM3: 180,
    });
    const of = (celsius: number, density = 150) =>
      valueOf(heatVoltage(at(celsius, density), 15e-6, [], null));
    const book = valueOf(expectedVoltage(at(20), 15e-6));
    expect(of(20)).toMatchObject({ taken: null, endV: book.end.valueSi });
    expect(of(26.01).valueV).toBeCloseTo(of(25.99).valueV, 1);
    expect(of(13.99).valueV).toBeCloseTo(of(14.01).valueV, 1);
    expect(of(28).valueV).toBeLessThan(of(26).valueV);
    expect(of(2).valueV).toBeGreaterThan(of(14).valueV);
    // The nearest published value lies within the widened range.
    expect(of(2).lowV).toBeLessThan(of(14).valueV);
    expect(of(2).highV - of(2).lowV).toBeGreaterThan(of(14).highV - of(14).lowV);
    // Colder than hard coat's table, at its density.
    expect(of(7, 350).lowV).toBeLessThanOrEqual(30);
    // A supply gives no more than it has.
    const held = valueOf(heatVoltage(at(2), 15e-6, [], 18));
    expect(held.valueV).toBeLessThanOrEqual(18);
    expect(held.highV).toBe(18);
    expect(held.taken).toMatch(/up to what the supply can give/);
  });

  it('follows the ice and the chiller that the warning asks for', () => {
    const hot = changeBath(plain(), { volumeM3: 0.06, temperatureK: 28 + K });
    expect(codes(hot)).toContain('bath-starts-over-limit');
    const iced = changeBath(hot, { iceKg: heatOf(hot).coolDown!.iceKg + 0.5 });
    expect(codes(iced)).not.toContain('bath-starts-over-limit');
    expect(heatOf(iced).heatPower.source.text).not.toMatch(/no published voltage/);
  });
});

describe('a hard coat’s bath', () => {
  const hard = changeProcess(changeBath(plain(), { volumeM3: 0.06, temperatureK: K }), {
    thicknessM: 50e-6,
    currentDensityAPerM2: 350,
    supplyVoltageLimitV: 90,
  });

  it('stops at 5 °C where nobody typed a limit, and an ordinary bath at 24 °C', () => {
    expect(bathLimitK(hard)).toBeCloseTo(5 + K, 9);
    expect(bathLimitK(plain())).toBeCloseTo(24 + K, 9);
    expect(sheetOf(hard)).toMatch(/top and cool at 5 °C/);
    const heat = heatOf(changeBath(hard, { volumeM3: 0.03 }));
    expect(heat.endTemperature.valueSi).toBeGreaterThan(5 + K);
    expect(heat.iceNeeded.valueSi).toBeGreaterThan(0);
    expect(heat.runsInARow.valueSi).toBe(0);
    expect(codes(changeBath(hard, { volumeM3: 0.03 }))).toContain('bath-over-limit');
  });

  it('gets its own limit in an older job too, which had 24 °C whatever its bath was', () => {
    const read = (limitK: number) => jobSchema.parse({ ...hard, bath: { ...hard.bath, limitK } });
    expect(bathLimitK(read(297.15))).toBeCloseTo(5 + K, 9);
    expect(bathLimitK(read(280))).toBe(280);
    expect(bathLimitK(jobSchema.parse({ ...plain(), bath: { limitK: 297.15 } }))).toBeCloseTo(24 + K, 9);
  });

  it('is told from an ordinary one: no plan for a cold bath where there is one, no 24 °C', () => {
    expect(codes(hard)).not.toContain('thick-needs-cold-bath');
    expect(codes(changeBath(hard, { temperatureK: 20 + K }))).toContain('thick-needs-cold-bath');
    expect(codes(changeBath(hard, { limitK: 24 + K }))).toContain('limit-of-another-bath');
    expect(codes(changeBath(hard, { limitK: 6 + K }))).not.toContain('limit-of-another-bath');
  });

  it('takes water from damp air, and no acid limit that could be planned', () => {
    const { evaporated } = heatOf(hard);
    expect(evaporated.label).toBe('Water condensed into the bath');
    expect(evaporated.valueSi).toBeGreaterThan(0);
    expect(valueOf(jobFilmLimit(hard)!).thickness.lowSi!).toBeGreaterThan(150e-6);
  });
});
