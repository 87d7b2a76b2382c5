import { usualSteps } from '../run/usual-steps.ts';
import type { RunStep } from '../run/step-clock.ts';
import { jobSeal } from './finish-plan.ts';
import type { Job } from './job.ts';

/** Time in the desmutting bath where one is used (common practice). */
const DESMUT_S = 90;

/** The steps of one load of a job: the usual ones, with etch, desmut, dye and seal as the job has them. */
export function jobSteps(job: Job, rampS: number, holdS: number): RunStep[] {
  const { etch, desmut, dye } = job.finish;
  const seal = jobSeal(job);
  return usualSteps({ rampS, holdS, dyed: dye.use }).flatMap((step): RunStep[] => {
    if (step.kind === 'etch') {
      return etch.use && etch.timeS > 0 ? [{ ...step, plannedS: etch.timeS }] : [];
    }
    if (step.label === 'Rinse after etching') {
      const smut: RunStep[] = desmut
        ? [
            { kind: 'desmut', label: 'Desmut', plannedS: DESMUT_S },
            { kind: 'rinse', label: 'Rinse after desmutting', plannedS: 60 },
          ]
        : [];
      return [...(etch.use && etch.timeS > 0 ? [step] : []), ...smut];
    }
    if (step.kind === 'dye') return [{ ...step, plannedS: dye.timeS ?? step.plannedS }];
    if (step.kind === 'seal') {
      if (seal === null) return [];
      return [{ ...step, plannedS: seal.ok ? seal.value.time.valueSi : step.plannedS }];
    }
    return [step];
  });
}
