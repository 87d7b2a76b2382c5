import { corpusRun, scoreCorpus, type CorpusScore } from '../core/run/watch-corpus.ts';
import { clampedAgain } from './clamped-again.ts';
import type { BenchSubject } from './harness.ts';
import { toldAtBest } from './told-at-best.ts';

/**
 * How good the contact watch is, on simulated runs in which everything a shop's run can differ in is drawn anew: 1 %
 * noise, a reading every 5 s. Even seeds were looked at while thresholds were chosen; odd ones never.
 */
const RUNS = 2000;
const CLAMPED = 500;

const seeds = (first: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => first + 2 * i);

const percentile = (sorted: readonly number[], share: number): string =>
  sorted.length === 0 ? '-' : `${sorted[Math.floor(share * (sorted.length - 1))]!.toFixed(0)} s`;

function lossRow(name: string, score: CorpusScore): string {
  const share = ((100 * score.inTime) / score.runs).toFixed(1);
  const held = score.called > 0 ? ((100 * score.held) / score.called).toFixed(1) : '-';
  return `  ${name.padEnd(34)}  ${String(score.runs).padStart(5)}  ${share.padStart(6)} %  ${percentile(score.delaysS, 0.5).padStart(5)}  ${percentile(score.delaysS, 0.95).padStart(5)}  ${held.padStart(6)} %  ±${(50 * score.meanWidth).toFixed(1)} %`;
}

function soundRow(name: string, score: CorpusScore): string {
  const per = (count: number): string => ((1000 * count) / score.cleanHours).toFixed(2);
  return `  ${name.padEnd(34)}  ${score.cleanHours.toFixed(0).padStart(6)} h  ${String(score.falseAlarms).padStart(4)}  ${per(score.falseAlarms).padStart(6)}  ${per(score.falseChecks).padStart(6)}`;
}

/** Bounds of the share of the planned current that flows when a contact lets go in the ramp. */
const FLOWS = [0, 0.1, 0.2, 0.5, 0.8, 1.2] as const;

function printRamp(seedsUsed: readonly number[], { saidAfterS }: CorpusScore): void {
  const rows = seedsUsed.map((seed, i) => {
    const run = corpusRun(seed, 'ramp');
    const after = saidAfterS[i] ?? Infinity;
    return { ...toldAtBest(run), mode: run.plan.mode, isInTime: after <= 60, isSaid: after < Infinity };
  });
  const percent = (part: readonly unknown[], all: readonly unknown[]): string =>
    `${((100 * part.length) / all.length).toFixed(1).padStart(6)} %`;
  console.log('\nLost in the ramp, planned current flowing   runs  any could  this one   at all');
  for (const mode of ['current', 'voltage'] as const) {
    for (let k = 0; k <= FLOWS.length - 1; k++) {
      const [low, high] = k === 0 ? [0, FLOWS.at(-1)!] : [FLOWS[k - 1]!, FLOWS[k]!];
      const those = rows.filter((row) => row.mode === mode && row.flow >= low && row.flow < high);
      if (those.length === 0) continue;
      const name = k === 0 ? 'all' : `${100 * low} to ${100 * Math.min(1, high)} %`;
      console.log(
        `  ${`${mode} held, ${name}`.padEnd(40)}  ${String(those.length).padStart(4)}  ${percent(
          those.filter(({ told }) => told),
          those,
        )}  ${percent(
          those.filter(({ isInTime }) => isInTime),
          those,
        )}  ${percent(
          those.filter(({ isSaid }) => isSaid),
          those,
        )}`,
      );
    }
  }
}

function printClampedAgain(): void {
  console.log('\nClamped again with the power off             runs  said so  wrong  can’t tell');
  for (const lost of ['contact', 'ramp'] as const) {
    for (const mode of ['current', 'voltage'] as const) {
      for (const isMended of [true, false]) {
        const { runs, right, wrong, unsure } = clampedAgain(seeds(700_001, CLAMPED), lost, mode, isMended);
        const name = `${lost === 'ramp' ? 'in the ramp' : 'while held'}, ${mode}, ${isMended ? 'mended' : 'in vain'}`;
        console.log(
          `  ${name.padEnd(42)}  ${String(runs).padStart(4)}  ${String(right).padStart(7)}  ${String(wrong).padStart(5)}  ${String(unsure).padStart(10)}`,
        );
      }
    }
  }
}

export const run: BenchSubject = {
  name: 'run',
  run: () => {
    const tuned = scoreCorpus(seeds(2, RUNS / 2), 'contact');
    const fresh = scoreCorpus(seeds(400_001, RUNS), 'contact');
    const rampSeeds = seeds(500_001, RUNS);
    const ramp = scoreCorpus(rampSeeds, 'ramp');
    const soundTuned = scoreCorpus(seeds(2, RUNS / 2), 'none');
    const sound = scoreCorpus(seeds(600_001, 2 * RUNS), 'none');
    console.log('\nLoss of 20 to 90 % of the area     runs  in 60 s  median    95 %  range holds  width');
    console.log(lossRow('seeds used for tuning', tuned));
    console.log(lossRow('seeds never tuned on', fresh));
    console.log(lossRow('never tuned on, lost in the ramp', ramp));
    console.log('\nSound runs                            hours  alarms  per 1000 h  checks per 1000 h');
    console.log(soundRow('seeds used for tuning', soundTuned));
    console.log(soundRow('seeds never tuned on', sound));
    console.log(soundRow('before the loss, never tuned on', fresh));
    printRamp(rampSeeds, ramp);
    printClampedAgain();
    const hours = sound.cleanHours + fresh.cleanHours + ramp.cleanHours;
    return [
      {
        what: 'losses said within a minute',
        value: (100 * fresh.inTime) / fresh.runs,
        limit: 99,
        unit: ' %',
        atLeast: true,
      },
      {
        what: 'losses in the ramp said within a minute',
        value: (100 * ramp.inTime) / ramp.runs,
        limit: 95,
        unit: ' %',
        atLeast: true,
      },
      {
        what: 'false alarms in 1000 run-hours',
        value: (1000 * (sound.falseAlarms + fresh.falseAlarms + ramp.falseAlarms)) / hours,
        limit: 1,
        unit: '',
      },
      {
        what: 'ranges of the area left that hold the truth',
        value: (100 * fresh.held) / fresh.called,
        limit: 90,
        unit: ' %',
        atLeast: true,
      },
      {
        what: 'the same of losses in the ramp',
        value: (100 * ramp.held) / ramp.called,
        limit: 90,
        unit: ' %',
        atLeast: true,
      },
    ];
  },
};
