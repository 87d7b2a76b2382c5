/** Whatever numbers etch, dye, seal and strip may be given, what follows from them is a number or refused in words. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planRun } from '../../../core/electrical/plan-run.ts';
import { printFigure } from '../../../core/figure/print-figure.ts';
import type { Figure } from '../../../core/figure/figure.ts';
import { emptyJob, newPart } from '../../../core/job/default-job.ts';
import { addPart } from '../../../core/job/edit-job.ts';
import { jobBudget, jobDyePot, jobRedo, jobSeal, jobStrip } from '../../../core/job/finish-plan.ts';
import { netGrowth } from '../../../core/job/job-growth.ts';
import { finishSchema, SEAL_CHOICES, type Finish } from '../../../core/job/job-finish.ts';
import { makeRunSheet } from '../../../core/job/run-sheet.ts';
import { wetMessages } from '../../../core/job/wet-messages.ts';
import { ALLOYS } from '../../../core/reference/alloys.ts';
import { valueOf } from '../value-of.ts';

const between = (low: number, high: number) =>
  fc.oneof(fc.constantFrom(low, high), fc.double({ min: low, max: high, noNaN: true }));
const orOpen = (low: number, high: number) => fc.option(between(low, high), { nil: null });

/** Ends as core/job/job-finish.ts has them; the schema takes every finish that is made here. */
const anyFinish = fc.record({
  coating: fc.constantFrom('ordinary' as const, 'hard' as const),
  growthRatio: orOpen(0, 1),
  etch: fc.record({
    use: fc.boolean(),
    lyeKgPerM3: between(10, 150),
    temperatureK: between(283.15, 358.15),
    timeS: between(0, 3600),
  }),
  dye: fc.record({
    use: fc.boolean(),
    recipe: fc.oneof(
      between(1e-3, 200).map((dyeKgPerM3) => ({ as: 'concentration' as const, dyeKgPerM3 })),
      between(1e-5, 10).map((makesM3) => ({ as: 'bottle' as const, makesM3 })),
    ),
    potM3: orOpen(1e-6, 10),
    temperatureK: between(283.15, 368.15),
    ph: orOpen(0, 14),
    timeS: orOpen(0, 36_000),
  }),
  seal: fc.record({
    way: fc.constantFrom(...SEAL_CHOICES),
    temperatureK: between(283.15, 393.15),
    ph: orOpen(0, 14),
  }),
  strip: fc.record({
    volumeM3: between(1e-6, 10),
    lyeKgPerM3: between(10, 150),
    temperatureK: between(283.15, 358.15),
    overTimeS: between(0, 3600),
  }),
});

const anyStrips = fc.record({
  soFar: fc.integer({ min: 0, max: 20 }),
  first: fc.boolean(),
  wallM: orOpen(1e-5, 1),
  leastWallM: orOpen(1e-5, 1),
});

const isFigure = (value: object): value is Figure =>
  'formula' in value && 'inputs' in value && 'kind' in value;

/** Prints every figure in both unit systems, and fails on every number and text that is none. */
function look(value: unknown, path: string): void {
  if (typeof value === 'number' && Number.isNaN(value)) throw new Error(`${path} is NaN`);
  if (typeof value === 'string' && /NaN|Infinity|undefined/.test(value)) throw new Error(`${path}: ${value}`);
  if (typeof value !== 'object' || value === null) return;
  if (isFigure(value)) {
    for (const number of [value.valueSi, value.lowSi ?? 0, value.highSi ?? 0]) {
      if (!Number.isFinite(number)) throw new Error(`${path} (${value.label}) is ${number}`);
    }
    for (const system of ['metric', 'us'] as const) look(printFigure(value, system), `${path} printed`);
  }
  for (const [key, inner] of Object.entries(value)) look(inner, `${path}.${key}`);
}

describe('every finish that can be typed', () => {
  it('never throws and never gives a figure that is no number', { timeout: 60_000 }, () => {
    const alloys = fc.constantFrom(null, ...ALLOYS.map(({ name }) => name));
    const plain = addPart(emptyJob('plate'), newPart('p', 'plate.stl', 3, 'mm', true));
    const plan = valueOf(planRun([{ name: 'plate', areaM2: 0.0242, quantity: 1 }], plain.process));
    fc.assert(
      fc.property(
        anyFinish,
        alloys,
        between(1e-7, 149e-6),
        anyStrips,
        (finish, alloy, thicknessM, strips) => {
          const job = {
            ...plain,
            process: { ...plain.process, thicknessM },
            parts: [{ ...plain.parts[0]!, alloy, strips }],
            finish: finishSchema.parse(finish) as Finish,
          };
          const wet = { heat: null, fits: {} };
          look(
            {
              seal: jobSeal(job),
              pot: jobDyePot(job),
              strip: jobStrip(job, plan, { p: 0.0242 }),
              budget: jobBudget(job, job.parts[0]),
              redo: jobRedo(job, job.parts[0]!, undefined),
              growth: netGrowth(job, job.parts[0]),
              messages: wetMessages(job, wet),
              sheets: (['metric', 'us'] as const).map((system) => makeRunSheet(job, plan, wet, system)),
            },
            'finish',
          );
        },
      ),
      { numRuns: 300, seed: 12 },
    );
    expect(plan.loads).toHaveLength(1);
  });
});
