import { noiseNow } from './trace-signal.ts';
import { newest, type WatchTrace } from './watch-trace.ts';

/** Jumps of the signal both ways within two minutes are a loose contact. */
export interface LooseJumps {
  /** Looks at the newest sample; when the first of the jumps was, once there are enough. */
  readonly find: (trace: WatchTrace) => number | undefined;
  readonly restart: () => void;
}

const WITHIN_S = 120;
const SMALLEST_JUMP = 0.07;

export function createLooseJumps(): LooseJumps {
  let jumps: { readonly tS: number; readonly up: boolean }[] = [];
  return {
    find: (trace) => {
      const now = newest(trace);
      const { whiteSd, wanderSd } = noiseNow(trace);
      const limit = Math.max(SMALLEST_JUMP, 6 * Math.SQRT2 * Math.hypot(whiteSd, 0.4 * wanderSd));
      const change = now.x - trace.samples.at(-2)!.x;
      if (Math.abs(change) > limit) jumps.push({ tS: now.tS, up: change > 0 });
      jumps = jumps.filter((jump) => now.tS - jump.tS <= WITHIN_S);
      const up = jumps.filter((jump) => jump.up).length;
      if (jumps.length < 5 || up < 2 || jumps.length - up < 2) return undefined;
      const sinceS = jumps[0]!.tS;
      jumps = [];
      return sinceS;
    },
    restart: () => {
      jumps = [];
    },
  };
}
