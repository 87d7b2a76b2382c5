import type { BathHeat } from '../bath/plan-bath-heat.ts';
import type { RunPlan } from '../electrical/plan-run.ts';
import type { TroubleFacts } from '../finish/trouble-facts.ts';
import { alloysTogether } from './alloys-together.ts';
import { troubleFacts } from './finish-plan.ts';
import type { PartHangingPlan } from './hanging-plan.ts';
import type { Job, Part } from './job.ts';

/**
 * What a job knows of itself for one of its loads, all parts of the load together: of each figure the largest, and a thing that one
 * part has counts for all. What is known of no part stays unknown.
 *
 * @param plan null where it is not worked out; all parts count then
 * @param load index of the load, from 0
 * @param hanging how each part hangs, by its id; parts not worked out are absent
 */
export function loadTroubleFacts(
  job: Job,
  plan: RunPlan | null,
  heat: BathHeat | null,
  load: number,
  hanging: Readonly<Record<string, PartHangingPlan | undefined>>,
): TroubleFacts {
  const pieces = plan?.loads[load]?.pieces;
  const inLoad = job.parts.filter((_, index) => pieces === undefined || (pieces[index] ?? 0) > 0);
  const each = (inLoad.length > 0 ? inLoad : [undefined]).map((part: Part | undefined) =>
    troubleFacts(job, plan, heat, part, part ? hanging[part.id] : undefined),
  );
  const all: Record<string, number | boolean | null> = {};
  for (const { alloyNames: _names, ...facts } of each) {
    for (const [name, value] of Object.entries(facts)) all[name] = worse(all[name], value);
  }
  // Only this load's pieces hang together.
  const count = pieces?.reduce((sum, n) => sum + n, 0) ?? null;
  return {
    ...all,
    ...(count === null ? {} : { pieces: count }),
    ...alloysTogether(job, pieces, count ?? each[0]?.pieces ?? null),
  };
}

type Fact = number | boolean | null;

function worse(a: Fact | undefined, b: Fact): Fact {
  if (a === undefined || a === null) return b;
  if (b === null) return a;
  return typeof a === 'boolean' || typeof b === 'boolean' ? Boolean(a) || Boolean(b) : Math.max(a, b);
}
