import { createContactWatch } from '../../core/run/contact-watch.ts';
import { readingAt } from '../../core/run/readings.ts';
import { simulateRun } from '../../core/run/simulated-run.ts';
import { corpusRun } from '../core/run/watch-corpus.ts';

/**
 * What is said of a lost contact that somebody clamps again: a minute after it let go the power goes off for a minute and a half, then
 * the same ramp comes again. The area has contact again, or it was in vain.
 */
export interface ClampedAgain {
  readonly runs: number;
  readonly right: number;
  readonly wrong: number;
  /** Said to be what the readings can't tell; the rest was not said anything of. */
  readonly unsure: number;
}

const OFF_AFTER_S = 60;
const CLAMPED_AFTER_S = 100;
const ON_AFTER_S = 150;
const WATCHED_S = 900;

/** Of those whose loss was said before the power went off. */
export function clampedAgain(
  seeds: readonly number[],
  lost: 'contact' | 'ramp',
  mode: 'current' | 'voltage',
  isMended: boolean,
): ClampedAgain {
  let [runs, right, wrong, unsure] = [0, 0, 0, 0];
  for (const seed of seeds) {
    const { setup, plan, fault } = corpusRun(seed, lost);
    if (plan.mode !== mode || !fault) continue;
    const onS = fault.atS + ON_AFTER_S;
    const { readings } = simulateRun({
      ...setup,
      faults: [
        ...setup.faults,
        ...(isMended ? [{ kind: 'restore', atS: fault.atS + CLAMPED_AFTER_S } as const] : []),
      ],
      acts: [
        { kind: 'power', atS: fault.atS + OFF_AFTER_S, on: false },
        { kind: 'power', atS: onS, on: true },
      ],
      durationS: onS + setup.rampS + WATCHED_S,
    });
    const watch = createContactWatch(plan);
    for (let i = 0; i < readings.tS.length; i++) watch.add(readingAt(readings, i));
    const events = watch.events().filter(({ kind }) => kind.startsWith('contact'));
    const isSaid = events.some(
      ({ kind, atS }) => kind === 'contact-lost' && atS >= fault.atS && atS <= fault.atS + OFF_AFTER_S,
    );
    if (!isSaid) continue;
    runs++;
    const answers = events.filter(({ atS }) => atS > onS).map(({ kind }) => kind);
    const [yes, no] = isMended
      ? (['contact-back', 'contact-lost'] as const)
      : (['contact-lost', 'contact-back'] as const);
    if (answers.includes(no)) wrong++;
    else if (answers.includes(yes)) right++;
    else if (answers.includes('contact-unsure')) unsure++;
  }
  return { runs, right, wrong, unsure };
}
