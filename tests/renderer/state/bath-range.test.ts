/**
 * Whatever numbers a bath may be given, nothing that follows from them throws, and no figure is anything but a number:
 * what can not be worked out is refused in words. The ranges are read from the job's own schema, so that a field that is
 * added is tried as well.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { heatCourse } from '../../../core/bath/heat-course.ts';
import { hydrogenAir } from '../../../core/bath/hydrogen.ts';
import { mistAdvice } from '../../../core/bath/mist.ts';
import { neutralise } from '../../../core/bath/neutralise.ts';
import type { Figure } from '../../../core/figure/figure.ts';
import { printFigure } from '../../../core/figure/print-figure.ts';
import { jobBathLife, jobFilmLimit } from '../../../core/job/bath-plan.ts';
import { bathVessel } from '../../../core/job/bath-vessel.ts';
import { setHangers } from '../../../core/job/edit-hanging.ts';
import { changeBath, changeProcess, putContact } from '../../../core/job/edit-job.ts';
import { bathConductivity } from '../../../core/job/field-setting.ts';
import { bathSchema, type Bath } from '../../../core/job/job-bath.ts';
import { FIRST_HANGER } from '../../../core/job/job-hanging.ts';
import { jobVoltage } from '../../../core/job/job-voltage.ts';
import { loadPlan } from '../../../core/job/load-plan.ts';
import { makeRunSheet } from '../../../core/job/run-sheet.ts';
import { editJob, jobOf } from '../../../renderer/state/app-store.ts';
import { deriveFrom } from '../../../renderer/state/derived.ts';
import { hangingKey } from '../../../renderer/state/follow-hanging.ts';
import { createHangingStore, NOTHING_KNOWN } from '../../../renderer/state/hanging-store.ts';
import { tube } from '../../fixtures/shapes.ts';
import { storeWithPart } from './stand-ins/store-with-part.ts';

interface NumberRange {
  readonly name: keyof Bath;
  readonly low: number;
  readonly high: number;
  readonly mayBeOpen: boolean;
}

/** Every number of the bath with the range its schema allows. */
function numberRanges(): NumberRange[] {
  type Plain = {
    type?: string;
    minimum?: number;
    maximum?: number;
    exclusiveMinimum?: number;
    anyOf?: Plain[];
  };
  const { properties } = z.toJSONSchema(bathSchema, { io: 'input' }) as { properties: Record<string, Plain> };
  return Object.entries(properties).flatMap(([name, property]) => {
    const number = [property, ...(property.anyOf ?? [])].find(({ type }) => type === 'number');
    if (!number) return [];
    const low = number.minimum ?? (number.exclusiveMinimum === undefined ? undefined : 1e-6);
    const high = number.maximum;
    if (low === undefined || high === undefined) throw new Error(`bath.${name} has no bounds`);
    return [{ name: name as keyof Bath, low, high, mayBeOpen: property.anyOf !== undefined }];
  });
}

/** The ends, and between them what is evenly spread and what is spread over powers of ten. */
const within = ({ low, high }: NumberRange): fc.Arbitrary<number> =>
  fc.oneof(
    fc.constantFrom(low, high),
    fc.double({ min: low, max: high, noNaN: true }),
    fc
      .double({ min: Math.log(Math.max(low, high * 1e-9)), max: Math.log(high), noNaN: true })
      .map((ln) => Math.min(high, Math.max(low, Math.exp(ln)))),
  );

const anyBath: fc.Arbitrary<Partial<Bath>> = fc
  .record({
    ...Object.fromEntries(
      numberRanges().map((range) => [
        range.name,
        range.mayBeOpen ? fc.option(within(range), { nil: null }) : within(range),
      ]),
    ),
    stirred: fc.boolean(),
    iceInBottles: fc.boolean(),
    leadCathodes: fc.boolean(),
  })
  .map((bath) => bath as Partial<Bath>);

/** The same bath with all but a few of its numbers left as they are: most of what a user does. */
const aFewChanged: fc.Arbitrary<Partial<Bath>> = fc
  .tuple(
    anyBath,
    fc.subarray(
      numberRanges().map(({ name }) => name),
      { minLength: 1, maxLength: 3 },
    ),
  )
  .map(([bath, names]) => Object.fromEntries(names.map((name) => [name, bath[name]])));

const isFigure = (value: object): value is Figure =>
  'formula' in value && 'inputs' in value && 'kind' in value;

/** Prints every figure, and fails on every number that is none. */
function look(value: unknown, path: string, seen = new Set<object>()): void {
  if (typeof value === 'number' && Number.isNaN(value)) throw new Error(`${path} is NaN`);
  if (typeof value === 'string' && /NaN|Infinity|undefined/.test(value)) throw new Error(`${path}: ${value}`);
  if (typeof value !== 'object' || value === null || seen.has(value)) return;
  seen.add(value);
  if (isFigure(value)) {
    for (const number of [value.valueSi, value.lowSi ?? 0, value.highSi ?? 0]) {
      if (!Number.isFinite(number)) throw new Error(`${path} (${value.label}) is ${number}`);
    }
    const { lowSi = value.valueSi, highSi = value.valueSi, valueSi } = value;
    const slack = 1e-9 * Math.max(Math.abs(lowSi), Math.abs(highSi));
    if (valueSi < lowSi - slack || valueSi > highSi + slack) {
      throw new Error(`${path} (${value.label}): ${valueSi} is not within ${lowSi} to ${highSi}`);
    }
    for (const system of ['metric', 'us'] as const) look(printFigure(value, system), `${path} printed`);
  }
  for (const [key, inner] of Object.entries(value)) look(inner, `${path}.${key}`, seen);
}

/** A ring on two wires; what the worker would have found out of it is put in by hand. */
function bench() {
  const store = storeWithPart('ring', tube(20, 12.5, 30, 24));
  const hanging = createHangingStore();
  const { geometry } = store.getState().meshes.p!;
  editJob(store, 'pins', (job) => {
    let next = job;
    for (const [i, x] of [-16, 16].entries()) {
      const at: [number, number, number] = [x, 0, 30];
      next = putContact(next, 'p', {
        id: `c${i}`,
        at,
        triangle: 0,
        patchDiameterM: 3e-3,
        hanger: FIRST_HANGER,
      });
    }
    return setHangers(next, 'p', { material: 'Al 1100', diameterM: 0.8e-3 });
  });
  hanging.setState({
    parts: {
      p: {
        ...NOTHING_KNOWN,
        key: hangingKey(geometry, jobOf(store.getState()).parts[0]!),
        facts: { open: null, moments: { volume: 22973, centre: [0, 0, 15] }, centre: [0, 0, 15] },
      },
    },
  });
  return { store, derived: deriveFrom(store, hanging) };
}

/** All that the stages, the sheet and the run take from a job with this bath. */
function everythingOf({ store, derived }: ReturnType<typeof bench>) {
  const state = derived.getState();
  const job = jobOf(store.getState());
  const { bath } = job;
  const { plan, wet, messages, hanging, tank } = state;
  if (!plan?.ok) throw new Error('the plan itself does not rest on the bath');
  const heat = wet.heat?.ok ? wet.heat.value : null;
  const vessel = bathVessel(job);
  return {
    hanging,
    messages,
    tank,
    heat,
    course: heat ? heatCourse(heat.run, heat.paths) : null,
    voltage: jobVoltage(job),
    limit: jobFilmLimit(job),
    life: jobBathLife(job, plan.value),
    conductivity: bathConductivity(job),
    air: hydrogenAir(plan.value.loadCurrentA.valueSi, bath.airK),
    mist: vessel ? mistAdvice(vessel.surfaceM2) : null,
    spent: neutralise(1e-3, bath.acidKgPerM3, bath.aluminiumKgPerM3 ?? 0, bath.airK),
    load: loadPlan(job, plan.value, 0),
    sheets: (['metric', 'us'] as const).map((system) => makeRunSheet(job, plan.value, wet, system)),
  };
}

describe('every bath that can be typed', () => {
  it('finds the ranges', () => {
    const ranges = numberRanges();
    expect(ranges.map(({ name }) => name)).toContain('temperatureK');
    expect(ranges.length).toBeGreaterThanOrEqual(15);
  });

  it('30 °F, below the freezing point of water, is worked out like any other', () => {
    const { store, derived } = bench();
    editJob(store, 'cold', (job) => changeBath(job, { temperatureK: 272.04, volumeM3: 0.02 }));
    const plan = derived.getState().hanging.p!;
    expect(plan.contacts).toHaveLength(2);
    expect(plan.contacts[0]!.check.capacityWetA.valueSi).toBeGreaterThan(0);
  });

  it('never throws and never gives a figure that is no number', { timeout: 120_000 }, () => {
    const all = bench();
    const readings = fc.option(
      fc.record({
        voltageV: fc.double({ min: 0.1, max: 90, noNaN: true }),
        densityAPerM2: fc.constantFrom(10, 50, 64.58, 150, 300, 480),
      }),
      { nil: undefined },
    );
    const densities = fc.constantFrom(10, 64.58, 129.17, 200, 390, 480);
    fc.assert(
      fc.property(fc.oneof(anyBath, aFewChanged), densities, readings, (bath, currentDensityAPerM2, read) => {
        editJob(all.store, 'bath', (job) =>
          changeProcess(changeBath(job, { ...bathSchema.parse({}), ...bath }), {
            currentDensityAPerM2,
            rampS: 30,
            ownVoltage: read && {
              ...read,
              voltageSdV: 0.5,
              slopeVM2PerA: 0.04,
              slopeSdVM2PerA: 0.01,
              count: 2,
            },
          }),
        );
        look(everythingOf(all), 'job');
      }),
      { numRuns: 150, seed: 20 },
    );
  });
});
