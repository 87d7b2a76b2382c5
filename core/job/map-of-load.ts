import type { Load } from '../electrical/pack-loads.ts';
import { capital } from '../units/first-letter.ts';
import { hungLoad } from './hung-load.ts';
import type { Job } from './job.ts';
import { loadsWords } from './load-currents.ts';
import { holds } from './load-hanging.ts';

/** What of a job a part's thickness map is of. */
export interface MapOfLoad {
  /** "load 1", "one piece alone"; empty where it is of all there is. */
  readonly of: string;
  /** What it is not of; null where nothing is missing, or where what was assumed for the map says it. */
  readonly missing: { readonly message: string; readonly remedy: string } | null;
}

/**
 * A map is worked out of what hangs in the tank. Other loads come out otherwise, so what it is of is named.
 * @param loads as planned, pieces by part in the job's order
 */
export function mapOfLoad(
  job: Pick<Job, 'parts' | 'placements'>,
  partId: string,
  loads: readonly Pick<Load, 'pieces'>[],
): MapOfLoad {
  const index = job.parts.findIndex(({ id }) => id === partId);
  const part = job.parts[index];
  if (!part) throw new RangeError(`mapOfLoad: no part "${partId}"`);
  const isAll = loads.length === 1 && job.parts.length === 1 && part.quantity === 1;
  if (job.placements.every((placement) => placement.partId !== partId)) {
    return { of: isAll ? '' : 'one piece alone', missing: null };
  }
  const { of, notHung } = hungLoad(job, loads);
  if (notHung === '') return { of, missing: null };
  const told = (message: string, hang: string): MapOfLoad => ({
    of,
    missing: { message, remedy: `Hang ${hang} at the tank stage, then work out the map again.` },
  });
  if (loads.length === 1) {
    return told(
      `This map is of what hangs in the tank, ${of}. Of the same load ${notHung} is not hung yet, and beside it the film spreads otherwise.`,
      'the whole load',
    );
  }
  const hangs = loads.map(({ pieces }) => holds(job, job.placements, pieces));
  if (!hangs.includes(true)) {
    return told(
      `This map is of what hangs in the tank, ${of}. In each of them the film spreads otherwise.`,
      'a load',
    );
  }
  // Loads without this part need no map of it.
  const others = loads.flatMap(({ pieces }, load) =>
    !hangs[load] && (pieces[index] ?? 0) > 0 ? [load + 1] : [],
  );
  if (others.length === 0) return { of, missing: null };
  const [hang, it] = others.length > 1 ? ['hang', 'them'] : ['hangs', 'it'];
  return told(
    `This map is of ${of}, as it hangs in the tank. ${capital(loadsWords(others))} with “${part.name}” ${hang} otherwise, and the film spreads otherwise in ${it}.`,
    others.length > 1 ? 'another load' : loadsWords(others),
  );
}
