import { choleskyInPlace, solveInto } from '../../core/run/cholesky.ts';
import { QUIET, simulateRun, type SimulatedSetup } from '../../core/run/simulated-run.ts';
import type { Readings } from '../../core/run/readings.ts';
import type { CorpusRun } from '../core/run/watch-corpus.ts';

/**
 * What any watcher at all could tell of a loss within a minute: one that knows everything a simulated run is made of (the cell, the
 * supply, the bath, the law of the noise), when the loss would come, how fast and how large it would be, and is asked only whether it
 * did. By the lemma of Neyman and Pearson (1933) nothing tells it better than the likelihood ratio of the readings, which for Gaussian
 * noise of covariance C is a matched filter: (y − y₀)ᵀ C⁻¹ s / √(sᵀ C⁻¹ s), y₀ the readings without noise and loss, s what the loss
 * adds. It is called above 4.15 deviations, once in 60 000 minutes of sound running, as often as the contact watch may be wrong.
 */
export interface ToldAtBest {
  readonly told: boolean;
  /** Of the planned current, what flows when it happens. */
  readonly flow: number;
}

const CALLED_AT = 4.15;
const WITHIN_S = 60;
/** How fast the stirring's ripple loses its phase, 1/s: a walk of 0.05 rad a second. */
const RIPPLE_LOSES_PER_S = 0.05 ** 2 / 2;
/** Change of U by this share shows how readings follow wander and ripple. */
const U_SHARE = 0.01;

export function toldAtBest({ setup, fault, plan }: CorpusRun): ToldAtBest {
  if (!fault) throw new RangeError('toldAtBest: the run has no loss');
  const lost = { ...setup, durationS: fault.atS + WITHIN_S };
  const sound = { ...lost, faults: [] };
  const { cell, noise } = setup;
  const riseV = cell.slopeVM2PerA * cell.referenceDensityAPerM2;
  const more = {
    ...cell,
    slopeVM2PerA: cell.slopeVM2PerA * (1 + U_SHARE),
    referenceVoltageV: cell.referenceVoltageV + U_SHARE * riseV,
  };
  const without = quiet(sound);
  const expected = column(without);
  const added = column(quiet(lost)).map((value, i) => value - expected[i]!);
  const followsU = column(quiet({ ...sound, cell: more })).map(
    (value, i) => (value - expected[i]!) / U_SHARE,
  );
  const seen = column(simulateRun(lost).readings);
  const n = expected.length;
  const half = n / 2;
  const timeS = (i: number): number => without.tS[1 + (i % half)]!;
  const coloured = noise.relative ** 2 * noise.colouredShare;
  const white = noise.relative ** 2 - coloured;
  const covariance = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      const apartS = Math.abs(timeS(i) - timeS(j));
      const process =
        noise.wander ** 2 * Math.exp(-apartS / noise.wanderS) +
        (noise.ripple ** 2 / 2) *
          Math.cos((2 * Math.PI * apartS) / noise.ripplePeriodS) *
          Math.exp(-RIPPLE_LOSES_PER_S * apartS);
      let sum = followsU[i]! * followsU[j]! * process;
      const sameMeter = i < half === j < half;
      if (sameMeter) sum += coloured * expected[i]! * expected[j]! * Math.exp(-apartS / noise.colourS);
      if (i === j) {
        const digit = i < half ? noise.voltageStepV : noise.currentStepA;
        sum += white * expected[i]! ** 2 + digit ** 2 / 12;
      }
      covariance[i * n + j] = sum;
    }
  }
  const weighed = solveInto(choleskyInPlace(covariance, n), n, Float64Array.from(added));
  let strength = 0;
  let answer = 0;
  for (let i = 0; i < n; i++) {
    strength += weighed[i]! * added[i]!;
    answer += weighed[i]! * (seen[i]! - expected[i]!);
  }
  const plannedA = plan.areaM2 * plan.currentDensityAPerM2;
  const flow = without.currentA[Math.floor(fault.atS / setup.sampleS)]! / plannedA;
  return { told: answer / Math.sqrt(strength) > CALLED_AT, flow };
}

const quiet = (setup: SimulatedSetup): Readings => simulateRun({ ...setup, noise: QUIET }).readings;

/** All voltages, then all currents; the first reading, before anything flows, left out. */
const column = ({ voltageV, currentA }: Readings): Float64Array =>
  Float64Array.from([...voltageV.subarray(1), ...currentA.subarray(1)]);
