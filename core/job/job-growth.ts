import { buildUp, type BuildUp } from '../finish/build-up.ts';
import { etch, type Etch } from '../finish/etch.ts';
import { surfaceBudget, type Spread, type SurfaceEvent } from '../finish/metal-budget.ts';
import { bareInStrip } from '../finish/strip.ts';
import type { Figure } from '../figure/figure.ts';
import type { Result } from '../result.ts';
import { filmShare } from './film-share.ts';
import type { Job, Part } from './job.ts';

/** How far a coated surface ends from where it was machined, and what strips did to one that is not coated. */
export interface FitGrowth extends BuildUp {
  /** Strips before this run’s coat; missing where there are none. */
  readonly strips?: {
    readonly count: number;
    /** What each takes off a surface that stands bare in the lye; null where all such are plugged or masked in it. */
    readonly bare: Spread | null;
  };
}

/** The etch as planned; null where none is. */
export function jobEtch(job: Job): Result<Etch> | null {
  const { use, lyeKgPerM3, temperatureK, timeS } = job.finish.etch;
  return use && timeS > 0 ? etch(lyeKgPerM3, temperatureK, timeS) : null;
}

const NOTHING: Spread = { usualM: 0, lowM: 0, highM: 0 };

function spreadOf({ valueSi, lowSi = valueSi, highSi = valueSi }: Figure): Spread {
  return { usualM: valueSi, lowM: lowSi, highM: highSi };
}

/** Metal the planned etch takes off each surface; nothing without one. */
export function etchedMetal(job: Job): Spread {
  const planned = jobEtch(job);
  return planned?.ok ? spreadOf(planned.value.removed) : NOTHING;
}

/** Strips that a part has behind it when this run coats it, the run’s own included; none where no part is meant. */
export function stripCount(part: Pick<Part, 'strips'> | undefined): number {
  return part ? part.strips.soFar + (part.strips.first ? 1 : 0) : 0;
}

/** Parts whose film this run begins by taking off. */
export function strippedFirst({ parts }: Pick<Job, 'parts'>): Part[] {
  return parts.filter(({ strips }) => strips.first);
}

/** Metal that one strip takes off a surface after its film is gone; null when the lye is not known. */
export function strippedMetal(job: Job): Spread | null {
  const { lyeKgPerM3, temperatureK, overTimeS } = job.finish.strip;
  const over = etch(lyeKgPerM3, temperatureK, overTimeS);
  return over.ok ? spreadOf(over.value.removed) : null;
}

/** Metal that one strip takes off a surface with no film on it; null when the lye is not known. */
export function bareStrippedMetal(job: Job): Spread | null {
  const { lyeKgPerM3, temperatureK, overTimeS } = job.finish.strip;
  const bare = bareInStrip(lyeKgPerM3, temperatureK, overTimeS);
  return bare.ok ? spreadOf(bare.value) : null;
}

/** Build-up of the film on a part, by the job’s type of coating or the shop’s own ratio, and by how much film its alloy makes. */
export function filmGrowth(job: Job, part?: Part): BuildUp {
  const { coating, growthRatio } = job.finish;
  const full = buildUp(coating, job.process.thicknessM, growthRatio ?? undefined);
  const share = part ? filmShare(job, part) : null;
  if (share === null) return full;
  return {
    usualM: full.usualM * share.usual,
    lowM: full.lowM * share.low,
    highM: full.highM * share.high,
    source: {
      standing: full.source.standing === 'your own runs' ? share.source.standing : full.source.standing,
      text: `${full.source.text}; ${share.source.text}`,
    },
  };
}

/** One life of a part’s surface: etch if planned, coat. */
export function coatOnce(job: Job, part?: Part): SurfaceEvent[] {
  const etched = etchedMetal(job);
  const share = part ? filmShare(job, part) : null;
  return [
    ...(etched.highM > 0 ? [{ kind: 'etch' as const, removed: etched }] : []),
    {
      kind: 'coat',
      filmM: job.process.thicknessM,
      growth: filmGrowth(job, part),
      ...(share ? { share } : {}),
    },
  ];
}

/** What a part’s surface has lived through when this job is done, and what one more redo adds; null when the lye is not known. */
export function surfaceLife(job: Job, part?: Part): { past: SurfaceEvent[]; redo: SurfaceEvent[] } | null {
  const over = strippedMetal(job);
  if (over === null) return null;
  const redo: SurfaceEvent[] = [{ kind: 'strip', over }, ...coatOnce(job, part)];
  const past = coatOnce(job, part);
  for (let i = 0; i < stripCount(part); i++) past.push(...redo);
  return { past, redo };
}

/**
 * How far a part’s coated surface ends from where it was machined: build-up, less what etches and strips took; may be negative.
 * Throws RangeError for a strip whose lye is outside what is known, which the job’s schema refuses.
 */
export function netGrowth(job: Job, part?: Part): FitGrowth {
  const film = filmGrowth(job, part);
  const count = stripCount(part);
  const isEtched = etchedMetal(job).highM > 0;
  if (count === 0 && !isEtched) return film;
  const life = surfaceLife(job, part);
  if (life === null) throw new RangeError('netGrowth: job.finish.strip is outside what is known of lye');
  const { valueSi, lowSi = valueSi, highSi = valueSi } = surfaceBudget(life.past).surface;
  const etched = isEtched ? '; less the etch planned for this job' : '';
  const stripped =
    count > 0
      ? `; less the metal that ${count === 1 ? 'one strip' : `${count} strips`} and the films taken off took`
      : '';
  return {
    usualM: valueSi,
    lowM: lowSi,
    highM: highSi,
    source: { standing: 'from memory', text: `${film.source.text}${etched}${stripped}` },
    ...(count > 0
      ? { strips: { count, bare: job.finish.strip.bareCovered ? null : bareStrippedMetal(job) } }
      : {}),
  };
}
