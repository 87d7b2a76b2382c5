import { plannedCurrentA } from './planned-current.ts';
import { median } from './held-level.ts';
import type { WatchKind, WatchPlan } from './watch-event.ts';
import type { Sample } from './watch-trace.ts';

/**
 * Is the supply doing what the plan says? Works on half-minute medians, which are quiet enough to compare: a supply in
 * constant current holds the current and lets the voltage go with the film; at its voltage limit, or set to constant
 * voltage, it is the other way round.
 */
export interface SupplyChecks {
  /** One sample of a run with the power on; `sinceOnS` counts from the first current. Returns what is new. */
  readonly add: (sample: Pick<Sample, 'tS' | 'voltageV' | 'currentA'>, sinceOnS: number) => WatchKind[];
  /** After a lost contact, a pause or a gap the levels mean something else. */
  readonly restart: () => void;
}

interface Block {
  readonly tS: number;
  readonly sinceOnS: number;
  readonly voltageV: number;
  readonly currentA: number;
}

const BLOCK_S = 30;
const FIRST_LOOK_S = 300;
/** The current may stand off the plan's by this share. */
const OFF_PLAN = 0.15;
/** A held voltage stands for so many blocks, within this share, and so long after the ramp's end. */
const STANDING_BLOCKS = 3;
const STANDING_SPREAD = 0.015;
const AFTER_RAMP_S = { from: 75, to: 240 } as const;

export function createSupplyChecks(plan: WatchPlan): SupplyChecks {
  const plannedA = plannedCurrentA(plan);
  const said = new Set<WatchKind>();
  let blocks: Block[] = [];
  let setA: number | undefined;
  let count = 0;
  let startS = 0;
  let voltages: number[] = [];
  let currents: number[] = [];

  const judge = (): WatchKind | undefined => {
    const now = blocks.at(-1)!;
    const before = blocks.at(-2);
    if (!before) return undefined;
    const level = (now.currentA + before.currentA) / 2;
    if (
      Math.min(now.currentA, before.currentA) >= 0.95 * plannedA &&
      Math.abs(now.currentA / before.currentA - 1) < 0.03
    ) {
      setA ??= level;
    }
    return plan.mode === 'current' ? judgeCurrentMode(now, before, level) : judgeVoltageMode(level);
  };

  const judgeCurrentMode = (now: Block, before: Block, level: number): WatchKind | undefined => {
    const rampS = plan.rampS ?? FIRST_LOOK_S;
    if (setA !== undefined) {
      if (level < 0.93 * setA && Math.abs(now.currentA / before.currentA - 1) < 0.1) {
        const held = blocks.filter((block) => block.currentA >= 0.95 * setA!);
        const heldV = held.at(-1)?.voltageV ?? now.voltageV;
        return Math.min(now.voltageV, before.voltageV) >= 0.985 * heldV ? 'supply-limit' : 'current-off-plan';
      }
      return level > 1.08 * plannedA ? 'current-off-plan' : undefined;
    }
    const rising = now.currentA > 1.01 * before.currentA;
    const limited = said.has('supply-limit') || said.has('wrong-mode') || said.has('current-off-plan');
    if (
      !limited &&
      plan.rampS !== null &&
      now.sinceOnS > 1.25 * rampS + 30 &&
      level < 0.9 * plannedA &&
      rising
    ) {
      return 'slow-ramp';
    }
    if (now.sinceOnS < 1.2 * rampS + 120 || level > 0.93 * plannedA || rising) return undefined;
    if (plan.supplyVoltageLimitV !== null && now.voltageV > 0.97 * plan.supplyVoltageLimitV)
      return 'supply-limit';
    const recent = blocks.slice(1).filter((block) => Math.abs(block.voltageV / now.voltageV - 1) < 0.03);
    if (recent.length >= 6 && spread(recent, 'voltageV') < 0.012 && spread(recent, 'currentA') > 0.06)
      return 'wrong-mode';
    return 'current-off-plan';
  };

  const judgeVoltageMode = (level: number): WatchKind | undefined => {
    const now = blocks.at(-1)!;
    if (isShortOfPlan(level)) return 'current-off-plan';
    const settled = Math.max(FIRST_LOOK_S, 1.2 * (plan.rampS ?? 0) + 120);
    const recent = blocks.filter((block) => block.sinceOnS > settled - 120);
    if (now.sinceOnS < settled) return undefined;
    const steady = Math.abs(trend(recent, 'currentA')) < 0.012 && spread(recent, 'currentA') < 0.03;
    if (recent.length >= 16 && steady && Math.abs(trend(recent, 'voltageV')) > 0.04) {
      const limitA = plan.supplyCurrentLimitA;
      return limitA !== null && level > 0.97 * limitA ? 'supply-limit' : 'wrong-mode';
    }
    if (now.sinceOnS < settled + 120 && Math.abs(level / plannedA - 1) > OFF_PLAN) return 'current-off-plan';
    return undefined;
  };

  /**
   * The voltage stands where it was set, the start-up peak is over, and too little current flows: a contact that let go before the
   * ramp brought current shows here first.
   */
  const isShortOfPlan = (level: number): boolean => {
    const last = blocks.slice(-STANDING_BLOCKS);
    const now = last.at(-1)!;
    const sinceRampS = plan.rampS === null ? NaN : now.tS - plan.rampS;
    if (!(sinceRampS >= AFTER_RAMP_S.from && sinceRampS <= AFTER_RAMP_S.to)) return false;
    if (last.length < STANDING_BLOCKS) return false;
    if (spread(last, 'voltageV') > STANDING_SPREAD || spread(last.slice(-2), 'currentA') > 0.05) return false;
    return level < (1 - OFF_PLAN) * plannedA;
  };

  return {
    add: ({ tS, voltageV, currentA }, sinceOnS) => {
      if (count === 0) startS = sinceOnS;
      count++;
      voltages.push(voltageV);
      currents.push(currentA);
      if (sinceOnS - startS < BLOCK_S - 1e-6) return [];
      blocks.push({ tS, sinceOnS, voltageV: median(voltages), currentA: median(currents) });
      if (blocks.length > 60) blocks.shift();
      count = 0;
      voltages = [];
      currents = [];
      const kind = judge();
      if (!kind || said.has(kind)) return [];
      said.add(kind);
      return [kind];
    },
    restart: () => {
      blocks = [];
      setA = undefined;
      count = 0;
      voltages = [];
      currents = [];
    },
  };
}

/** Largest less smallest, share of the mean. */
function spread(blocks: readonly Block[], name: 'voltageV' | 'currentA'): number {
  let low = Infinity;
  let high = -Infinity;
  let sum = 0;
  for (const block of blocks) {
    low = Math.min(low, block[name]);
    high = Math.max(high, block[name]);
    sum += block[name];
  }
  return (high - low) / (sum / blocks.length);
}

/** Last quarter against first, share. */
function trend(blocks: readonly Block[], name: 'voltageV' | 'currentA'): number {
  if (blocks.length < 4) return 0;
  const part = Math.max(2, blocks.length >> 2);
  const late = median(blocks.slice(-part).map((block) => block[name]));
  return late / median(blocks.slice(0, part).map((block) => block[name])) - 1;
}
