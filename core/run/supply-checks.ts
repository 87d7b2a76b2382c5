import { plannedCurrentA } from './planned-current.ts';
import { median } from './held-level.ts';
import type { WatchKind, WatchPlan } from './watch-event.ts';

/**
 * Is the supply doing what the plan says? Works on half-minute medians, which are quiet enough to compare: a supply in
 * constant current holds the current and lets the voltage go with the film; at its voltage limit, or set to constant
 * voltage, it is the other way round.
 */
export interface SupplyChecks {
  /** One sample of a run with the power on; `sinceOnS` counts from there. Returns what is new. */
  readonly add: (sinceOnS: number, voltageV: number, currentA: number) => WatchKind[];
  /** After a lost contact, a pause or a gap the levels mean something else. */
  readonly restart: () => void;
}

interface Block {
  readonly sinceOnS: number;
  readonly voltageV: number;
  readonly currentA: number;
}

const BLOCK_S = 30;
const FIRST_LOOK_S = 300;

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
    const limited = said.has('supply-limit') || said.has('wrong-mode');
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
    const settled = Math.max(FIRST_LOOK_S, 1.2 * (plan.rampS ?? 0) + 120);
    const recent = blocks.filter((block) => block.sinceOnS > settled - 120);
    if (now.sinceOnS < settled) return undefined;
    const steady = Math.abs(trend(recent, 'currentA')) < 0.012 && spread(recent, 'currentA') < 0.03;
    if (recent.length >= 16 && steady && Math.abs(trend(recent, 'voltageV')) > 0.04) {
      const limitA = plan.supplyCurrentLimitA;
      return limitA !== null && level > 0.97 * limitA ? 'supply-limit' : 'wrong-mode';
    }
    if (now.sinceOnS < settled + 120 && Math.abs(level / plannedA - 1) > 0.15) return 'current-off-plan';
    return undefined;
  };

  return {
    add: (sinceOnS, voltageV, currentA) => {
      if (count === 0) startS = sinceOnS;
      count++;
      voltages.push(voltageV);
      currents.push(currentA);
      if (sinceOnS - startS < BLOCK_S - 1e-6) return [];
      blocks.push({ sinceOnS, voltageV: median(voltages), currentA: median(currents) });
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
