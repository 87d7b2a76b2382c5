import { expect, it } from 'vitest';
import { createContactWatch } from '../../../core/run/contact-watch.ts';
import { readingAt } from '../../../core/run/readings.ts';
import { simulateRun } from '../../../core/run/simulated-run.ts';
import type { WatchEvent } from '../../../core/run/watch-event.ts';
import { corpusRun } from './watch-corpus.ts';

/**
 * Hard coats of the corpus at a held current, read every 5 s, whose readings stop for two to eight minutes. The corpus draws everything
 * a shop's run can differ in, a film whose growth sets in late among it.
 */
const isHard = (seed: number): boolean => {
  const { plan } = corpusRun(seed, 'none');
  return plan.mode === 'current' && plan.currentDensityAPerM2 > 230;
};
const SEEDS = Array.from({ length: 500 }, (_, i) => 7_100_001 + 2 * i).filter(isHard);
const pauseS = (seed: number): number => 120 + (seed % 5) * 90;

function watched(
  seed: number,
  fault: 'none' | 'contact',
  isUnread: (tS: number) => boolean,
): readonly WatchEvent[] {
  const { setup, plan } = corpusRun(seed, fault);
  const { readings } = simulateRun(setup);
  const watch = createContactWatch(plan);
  for (let i = 0; i < readings.tS.length; i++) {
    if (!isUnread(readings.tS[i]!)) watch.add(readingAt(readings, i));
  }
  return watch.events();
}

it('the film of a hard coat in a pause is no loss', () => {
  expect(SEEDS.length).toBeGreaterThan(30);
  const alarms = SEEDS.filter((seed) => {
    const { rampS } = corpusRun(seed, 'none').setup;
    const isUnread = (tS: number): boolean => tS > rampS + 500 && (tS - rampS - 500) % 900 < pauseS(seed);
    return watched(seed, 'none', isUnread).some(({ level }) => level === 'alarm');
  });
  expect(alarms).toEqual([]);
});

it('most losses of more than a third in a pause are said, and their range mostly holds', () => {
  const losses = SEEDS.flatMap((seed) => {
    const { setup, fault } = corpusRun(seed, 'contact');
    const { atS, lostShare } = fault!;
    const isTold = lostShare > 0.35 && atS > setup.rampS + 400 && atS < setup.durationS - 400;
    return isTold ? [{ seed, atS, lostShare }] : [];
  });
  expect(losses.length).toBeGreaterThan(10);
  let said = 0;
  let held = 0;
  for (const { seed, atS, lostShare } of losses) {
    const half = pauseS(seed) / 2;
    const events = watched(seed, 'contact', (tS) => Math.abs(tS - atS) < half);
    const lost = events.find(({ kind, atS: toldS }) => kind === 'contact-lost' && toldS > atS);
    if (!lost) continue;
    said++;
    expect(lost.atS).toBeLessThan(atS + half + 240);
    const [low, high] = lost.areaLeft;
    if (1 - lostShare >= low && 1 - lostShare <= high) held++;
  }
  // Without looking across the pause it were one in eight.
  expect(said / losses.length).toBeGreaterThan(0.65);
  expect(held / said).toBeGreaterThan(0.8);
});
