import { dyeStrength } from '../finish/dye-recipe.ts';
import type { ToBeDyed } from '../finish/dips-apart.ts';
import type { Load } from '../electrical/pack-loads.ts';
import type { Job } from './job.ts';

/**
 * What a job has to be dyed, beside the shop's dips: its parts in their loads, since each load is dyed by itself.
 * @param loads as planned; none where there is no plan, and all parts count as together
 */
export function toBeDyed(
  { parts, process, finish }: Job,
  loads: readonly Pick<Load, 'pieces'>[] = [],
): ToBeDyed {
  const { recipe, ph } = finish.dye;
  const known = new Map<string, number[]>();
  parts.forEach(({ alloy }, part) => {
    if (alloy === null) return;
    const holding = loads.flatMap(({ pieces }, load) => ((pieces[part] ?? 0) > 0 ? [load + 1] : []));
    known.set(
      alloy,
      [...new Set([...(known.get(alloy) ?? []), ...holding])].sort((a, b) => a - b),
    );
  });
  return {
    thicknessM: process.thicknessM,
    alloys: [...known].map(([name, holding]) => ({
      name,
      // Of all of them there is nothing to tell.
      loads: holding.length < loads.length ? holding : [],
    })),
    ph,
    dyeKgPerM3: dyeStrength(recipe),
  };
}
