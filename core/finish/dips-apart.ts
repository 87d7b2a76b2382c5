import { formatIn, sayQuantity } from '../units/format-quantity.ts';
import { listWords } from '../units/list-words.ts';
import type { UnitSystem } from '../units/unit-table.ts';
import type { Dip } from './colour-book.ts';
import type { UptakeFit } from './fit-uptake.ts';

/** What is to be dyed, beside the dips it is to be judged by; null or empty where nobody said. */
export interface ToBeDyed {
  readonly thicknessM: number;
  /** Of the parts that are to be dyed; with the loads that hold them, from 1, where others do not. */
  readonly alloys: readonly { readonly name: string; readonly loads: readonly number[] }[];
  readonly ph: number | null;
  readonly dyeKgPerM3: number | null;
}

/** Beyond these a dip says little of the job (common practice). */
const FILM_RATIO = 1.2;
const PH_APART = 0.5;
const STRENGTH_RATIO = 1.2;

/**
 * What the curve of these dips can not know of the job: film, alloy, strength and pH that none of the dips had. One sentence
 * each, what to do included in the last; empty where the dips cover the job as far as is known.
 */
export function dipsApart(
  fit: Pick<UptakeFit, 'model'>,
  dips: readonly Pick<Dip, 'timeS' | 'thicknessM' | 'alloy' | 'ph' | 'dyeKgPerM3'>[],
  job: ToBeDyed,
  system: UnitSystem,
): string[] {
  const dyed = dips.filter(({ timeS }) => timeS > 0);
  if (dyed.length === 0) return [];
  const said: string[] = [];
  const films = dyed.map(({ thicknessM }) => thicknessM);
  const [thin, thick] = [Math.min(...films), Math.max(...films)];
  const um = (metres: number): string => sayQuantity('length', metres, system, 'µm', 2);
  if (job.thicknessM > thick * FILM_RATIO || job.thicknessM < thin / FILM_RATIO) {
    said.push(
      `Your dips were on films of ${thin === thick ? um(thin) : `${um(thin)} to ${um(thick)}`}, this job’s is ${um(job.thicknessM)}${fit.model === 'diffusion' ? '' : '; this curve does not tell films apart'}.`,
    );
  }
  const known = [...new Set(dyed.map(({ alloy }) => alloy).filter((alloy) => alloy !== ''))];
  const strange = job.alloys
    .filter(({ name }) => !known.includes(name))
    .map(({ name, loads }) =>
      loads.length === 0 ? name : `${name} (load${loads.length > 1 ? 's' : ''} ${listWords(loads)})`,
    );
  if (strange.length > 0) {
    said.push(
      known.length > 0
        ? `Your dips are on ${known.join(', ')}; ${strange.join(', ')} may take the dye faster, slower or in another tone.`
        : `The alloy of your dips is not noted; ${strange.join(', ')} may take the dye otherwise.`,
    );
  }
  const phs = dyed.flatMap(({ ph }) => ph ?? []);
  if (job.ph !== null && phs.length > 0) {
    const [low, high] = [Math.min(...phs), Math.max(...phs)];
    if (job.ph < low - PH_APART || job.ph > high + PH_APART) {
      said.push(`The dye is at pH ${job.ph}, your dips were at ${low === high ? low : `${low} to ${high}`}.`);
    }
  }
  const strengths = dyed.flatMap(({ dyeKgPerM3 }) => dyeKgPerM3 ?? []);
  if (job.dyeKgPerM3 !== null && strengths.length > 0) {
    const [weak, strong] = [Math.min(...strengths), Math.max(...strengths)];
    const grams = (kgPerM3: number): string =>
      formatIn('massConcentration', kgPerM3, system === 'us' ? 'oz/US gal' : 'g/L', 2).text;
    if (job.dyeKgPerM3 > strong * STRENGTH_RATIO || job.dyeKgPerM3 < weak / STRENGTH_RATIO) {
      said.push(
        `The dye is made up with ${grams(job.dyeKgPerM3)}, your dips were in ${weak === strong ? grams(weak) : `${grams(weak)} to ${grams(strong)}`}.`,
      );
    }
  }
  return said;
}
