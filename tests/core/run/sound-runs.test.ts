/** Sound runs of the corpus that were once called a lost contact, each for what it stands for. */
import { describe, expect, it } from 'vitest';
import { createContactWatch } from '../../../core/run/contact-watch.ts';
import { readingAt } from '../../../core/run/readings.ts';
import { simulateRun } from '../../../core/run/simulated-run.ts';
import { createTypedWatch } from '../../../core/run/typed-watch.ts';
import { corpusRun } from './watch-corpus.ts';

const alarms = (seed: number, sampleS: number, untilS: number, make = createContactWatch): string[] => {
  const { setup, plan } = corpusRun(seed, 'none');
  const { readings } = simulateRun({ ...setup, sampleS, durationS: untilS });
  const watch = make(plan);
  for (let i = 0; i < readings.tS.length; i++) watch.add(readingAt(readings, i));
  return watch
    .events()
    .filter(({ level }) => level === 'alarm')
    .map(({ kind, atS }) => `${seed} ${kind} at ${atS} s`);
};

describe('a sound run is not called a lost contact', () => {
  it('where the supply’s voltage ends its ramp, a moment earlier or later than the readings show', () => {
    const ends = [6042894, 6032096, 6041880, 6052756, 3006375, 3008825, 3008973].flatMap((seed) =>
      alarms(seed, 5, Math.round(corpusRun(seed, 'none').setup.rampS) + 90),
    );
    expect(ends).toEqual([]);
  });

  it('where a display of a tenth of a volt makes the ramp’s line break by chance', () => {
    const rules = [7318259, 7523438, 9402412, 9404699].flatMap((seed) => alarms(seed, 5, 320));
    expect(rules).toEqual([]);
  });

  it('where a hard coat has brought the current down to a few digits of the display, read every two seconds', () => {
    expect([...alarms(7200937, 2, 3440), ...alarms(7202298, 2, 4210)]).toEqual([]);
  });

  it('by a typed number that was wrong, by a bath that warms, or by volts of which the film has most', () => {
    const seeds = [7101700, 7101916, 7103098, 7103899, 7104338, 7104531, 7107172, 7107624];
    expect(seeds.flatMap((seed) => alarms(seed, 300, 5400, createTypedWatch))).toEqual([]);
  });

  it('by spoiled readings of volts or amps in the ramp', () => {
    expect([...alarms(6018688, 5, 307), ...alarms(3002349, 5, 473)]).toEqual([]);
  });

  it('by the film of a hard coat, whose growth sets in all at once', () => {
    expect([3014139, 3022519].flatMap((seed) => alarms(seed, 5, 1800))).toEqual([]);
  });

  it('by what a hard coat’s film takes from one typed reading to the next', () => {
    const hard = [3700141, 3700273, 3700449].flatMap((seed) => alarms(seed, 300, 3600, createTypedWatch));
    expect(hard).toEqual([]);
  });
});
