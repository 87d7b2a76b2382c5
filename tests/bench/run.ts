import { scoreCorpus, type CorpusScore } from '../core/run/watch-corpus.ts';
import type { BenchSubject } from './harness.ts';

/**
 * How good the contact watch is, on simulated runs in which everything a shop's run can differ in is drawn anew: 1 %
 * noise, a reading every 5 s. Even seeds were looked at while thresholds were chosen; odd ones never.
 */
const RUNS = 2000;

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

export const run: BenchSubject = {
  name: 'run',
  run: () => {
    const tuned = scoreCorpus(seeds(2, RUNS / 2), 'contact');
    const fresh = scoreCorpus(seeds(400_001, RUNS), 'contact');
    const ramp = scoreCorpus(seeds(500_001, RUNS), 'ramp');
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
        what: 'losses in the ramp said within a minute of full current',
        value: (100 * ramp.inTime) / ramp.runs,
        limit: 65,
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
    ];
  },
};
