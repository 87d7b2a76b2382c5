import type { PartGeometry } from '../mesh/part-geometry.ts';
import { changePart, partById } from './edit-job.ts';
import { withFacetAnswer } from './facet-questions.ts';
import type { Job } from './job.ts';
import type { Repair } from './job-repairs.ts';
import type { Shape } from './job-shape.ts';
import type { PartSurface } from './job-surface.ts';

/** Changes to what the user says about a part's true surface. Unknown parts are a caller's bug. */

function changeSurface(
  job: Job,
  partId: string,
  change: (surface: PartSurface) => Partial<PartSurface>,
): Job {
  return changePart(job, partId, (part) => ({
    ...part,
    surface: { ...part.surface, ...change(part.surface) },
  }));
}

/** The size that the part has in its unit is right, unusual as it is. */
export function sizeIsRight(job: Job, partId: string): Job {
  const { unit } = partById(job, partId);
  return changeSurface(job, partId, () => ({ sizeRightIn: unit }));
}

export function acceptRepair(job: Job, partId: string, repair: Repair): Job {
  return changeSurface(job, partId, ({ repairs }) => ({ repairs: [...repairs, repair] }));
}

export function takeBackRepair(job: Job, partId: string, index: number): Job {
  const { repairs } = partById(job, partId).surface;
  if (!(index in repairs)) throw new RangeError(`index: no repair ${index}, there are ${repairs.length}`);
  return changeSurface(job, partId, () => ({ repairs: repairs.filter((_, i) => i !== index) }));
}

/** `gap` in model units; null leaves the bodies as they are. */
export function setFuse(job: Job, partId: string, gap: number | null): Job {
  return changeSurface(job, partId, () => ({ fuseGap: gap }));
}

export function setVented(job: Job, partId: string, anchor: number, vented: boolean): Job {
  return changeSurface(job, partId, ({ ventedVoids }) => {
    const others = ventedVoids.filter((other) => other !== anchor);
    return { ventedVoids: vented ? [...others, anchor] : others };
  });
}

/** In model units, from the lowest point up; null hangs the part in the bath whole. */
export function setImmersedDepth(job: Job, partId: string, depth: number | null): Job {
  return changeSurface(job, partId, () => ({ immersedDepth: depth }));
}

export function setFacets(job: Job, partId: string, facets: PartSurface['facets']): Job {
  return changeSurface(job, partId, () => ({ facets }));
}

/** About `row` and every face that is asked about together with it. */
export function answerFacets(
  job: Job,
  partId: string,
  geometry: PartGeometry,
  row: number,
  is: 'round' | 'flat',
): Job {
  return changePart(job, partId, (part) => withFacetAnswer(part, geometry, row, is));
}

/** Every answer is forgotten. */
export function askFacetsAgain(job: Job, partId: string): Job {
  return changeSurface(job, partId, () => ({ facetAnswers: [] }));
}

/** `designation` null takes the thread off. */
export function setThread(job: Job, partId: string, triangle: number, designation: string | null): Job {
  return changeSurface(job, partId, ({ threads }) => {
    const others = threads.filter((thread) => thread.triangle !== triangle);
    return { threads: designation === null ? others : [...others, { triangle, designation }] };
  });
}

export function setShape(job: Job, partId: string, shape: Shape): Job {
  return changePart(job, partId, (part) => ({ ...part, source: { kind: 'shape', shape } }));
}

export function setTypedArea(job: Job, partId: string, areaM2: number): Job {
  return changePart(job, partId, (part) => ({ ...part, source: { kind: 'typed', areaM2 } }));
}
