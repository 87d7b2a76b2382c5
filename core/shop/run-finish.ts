import { z } from 'zod';
import { sealTimerS, jobSeal } from '../job/finish-plan.ts';
import { SEAL_CHOICES } from '../job/job-finish.ts';
import type { Job } from '../job/job.ts';
import { stepTimers, type StepKind } from '../run/step-clock.ts';
import type { LoadPlan, RunRecord } from './run-record.ts';
import { dyeStrength } from '../finish/dye-recipe.ts';

const ph = z.number().min(0).max(14).nullable();

/** What a run's colour hangs on, as it was planned when it began. SI; null where nobody said. */
export const runFinishSchema = z.object({
  /** Of the load's parts, each once; empty where no part's is known. */
  alloys: z.array(z.string()),
  dye: z
    .object({
      timeS: z.number().nonnegative().nullable(),
      temperatureK: z.number().positive(),
      ph,
      /** null where the recipe is bottles. */
      dyeKgPerM3: z.number().positive().nullable(),
    })
    .nullable(),
  seal: z
    .object({
      way: z.enum(SEAL_CHOICES),
      temperatureK: z.number().positive(),
      ph,
      timeS: z.number().nonnegative().nullable(),
    })
    .nullable(),
  /** Of the shop's book. */
  shopBathId: z.string().nullable(),
  aluminiumKgPerM3: z.number().nonnegative().nullable(),
});
export type RunFinish = z.infer<typeof runFinishSchema>;

export function runFinishOf(job: Job, counts: LoadPlan['counts']): RunFinish {
  const hung = new Set(counts.map(({ partId }) => partId));
  const parts = hung.size === 0 ? job.parts : job.parts.filter(({ id }) => hung.has(id));
  const { dye, seal } = job.finish;
  const sealed = jobSeal(job);
  return {
    alloys: [...new Set(parts.flatMap(({ alloy }) => alloy ?? []))],
    dye: dye.use
      ? {
          timeS: dye.timeS,
          temperatureK: dye.temperatureK,
          ph: dye.ph,
          dyeKgPerM3: dyeStrength(dye.recipe),
        }
      : null,
    seal:
      seal.way === 'none'
        ? null
        : { ...seal, timeS: sealed?.ok ? sealTimerS(sealed.value.time.valueSi) : null },
    shopBathId: job.bath.shopBathId,
    aluminiumKgPerM3: job.bath.aluminiumKgPerM3,
  };
}

/** How long a step of a run that is over really took, s; null where it has none or was not begun. */
export function stepTookS({ clock, endedAtMs, createdAtMs }: RunRecord, kind: StepKind): number | null {
  const look = clock.lastLook ?? { wallMs: endedAtMs ?? createdAtMs, forwardMs: 0, start: '' };
  const timer = stepTimers(clock, look).find(({ step }) => step.kind === kind);
  return timer && timer.elapsedMs > 0 ? timer.elapsedMs / 1000 : null;
}
