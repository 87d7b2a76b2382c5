import { buildUp, type BuildUp } from '../finish/build-up.ts';
import { etch, type Etch } from '../finish/etch.ts';
import type { Spread, SurfaceEvent } from '../finish/metal-budget.ts';
import type { Result } from '../result.ts';
import type { Job } from './job.ts';

/** The etch as planned; null where none is. */
export function jobEtch(job: Job): Result<Etch> | null {
  const { use, lyeKgPerM3, temperatureK, timeS } = job.finish.etch;
  return use && timeS > 0 ? etch(lyeKgPerM3, temperatureK, timeS) : null;
}

const NOTHING: Spread = { usualM: 0, lowM: 0, highM: 0 };

/** Metal the planned etch takes off each surface; nothing without one. */
export function etchedMetal(job: Job): Spread {
  const planned = jobEtch(job);
  if (!planned?.ok) return NOTHING;
  const { valueSi, lowSi = valueSi, highSi = valueSi } = planned.value.removed;
  return { usualM: valueSi, lowM: lowSi, highM: highSi };
}

/** Build-up of the job's film, by its type of coating or the shop's own ratio. */
export function filmGrowth(job: Job): BuildUp {
  const { coating, growthRatio } = job.finish;
  return buildUp(coating, job.process.thicknessM, growthRatio ?? undefined);
}

/** How far a surface moves out from where it was machined: build-up less what the etch takes; may be negative. */
export function netGrowth(job: Job): BuildUp {
  const film = filmGrowth(job);
  const etched = etchedMetal(job);
  if (etched.highM === 0) return film;
  return {
    usualM: film.usualM - etched.usualM,
    lowM: film.lowM - etched.highM,
    highM: film.highM - etched.lowM,
    source: { standing: 'from memory', text: `${film.source.text}; less the etch planned for this job` },
  };
}

/** One life of a surface: etch if planned, coat. */
export function coatOnce(job: Job): SurfaceEvent[] {
  const etched = etchedMetal(job);
  return [
    ...(etched.highM > 0 ? [{ kind: 'etch' as const, removed: etched }] : []),
    { kind: 'coat', filmM: job.process.thicknessM, growth: filmGrowth(job) },
  ];
}
