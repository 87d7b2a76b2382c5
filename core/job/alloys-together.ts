import type { RunPlan } from '../electrical/plan-run.ts';
import { listWords } from '../units/list-words.ts';
import { alloyByName } from '../reference/alloys.ts';
import type { JobMessage } from './job-messages.ts';
import type { Job } from './job.ts';

/** Different alloys known among the parts of one load, in the order of the job. */
function alloysOfLoad(job: Job, pieces: readonly number[] | undefined): string[] {
  const inLoad = job.parts.filter((_, index) => pieces === undefined || (pieces[index] ?? 0) > 0);
  return [
    ...new Set(inLoad.flatMap(({ alloy }) => (alloy === null ? [] : (alloyByName(alloy)?.name ?? [])))),
  ];
}

/** What the pieces that hang together say of their alloys, for the causes of a fault. */
interface AlloysTogether {
  /** How many different ones; null while not every part's is known and no two differ. */
  readonly alloys: number | null;
  readonly alloyNames: string | null;
  /** Pieces that hang together without alloys known to differ; null where they do. */
  readonly unsortedPieces: number | null;
}

/** @param pieces of each part in the load; missing where no load is known, all parts count then */
export function alloysTogether(
  job: Job,
  pieces: readonly number[] | undefined,
  count: number | null,
): AlloysTogether {
  const names = alloysOfLoad(job, pieces);
  const known = job.parts.every(({ alloy }, index) => alloy !== null || pieces?.[index] === 0);
  if (names.length > 1) return { alloys: names.length, alloyNames: listWords(names), unsortedPieces: null };
  return {
    alloys: known && names.length === 1 ? 1 : null,
    alloyNames: names.length === 1 ? names[0]! : null,
    unsortedPieces: count,
  };
}

/** Alloys that differ in one load that is dyed: asked of each load, but not of alloys that the user said to know of. */
export function mixedAlloyMessages(job: Job, plan: RunPlan): JobMessage[] {
  if (!job.finish.dye.use) return [];
  const mixed = plan.loads.flatMap(({ pieces }, index) => {
    const alloys = alloysOfLoad(job, pieces);
    return alloys.length > 1 ? [{ index, alloys }] : [];
  });
  const said = new Set(job.finish.alloysKnownToDiffer);
  const asked = mixed.find(({ alloys }) => alloys.some((name) => !said.has(name)));
  const shown = asked ?? mixed[0];
  if (!shown) return [];
  const names = listWords(shown.alloys);
  return [
    {
      level: asked ? 'check' : 'note',
      code: 'alloys-differ',
      stage: 'finish',
      message: `${plan.loads.length > 1 ? `Load ${shown.index + 1} holds` : 'One load holds'} parts of ${names}: film and colour will differ between them, in the same bath and the same minutes of dye.`,
      remedy: asked
        ? 'Run each alloy as a job of its own, and dye each to its own test piece.'
        : 'You said that you know. Dye a test piece of each.',
    },
  ];
}

/** The job with its user knowing that its alloys differ: a further alloy is asked about again. */
export function alloysMayDiffer(job: Job): Job {
  return { ...job, finish: { ...job.finish, alloysKnownToDiffer: alloysOfLoad(job, undefined) } };
}
