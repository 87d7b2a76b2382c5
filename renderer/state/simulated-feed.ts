import type { Reading } from '../../core/run/readings.ts';
import { readingAt } from '../../core/run/readings.ts';
import {
  simulateRun,
  usualSetup,
  type SimulatedFault,
  type SimulatedSetup,
} from '../../core/run/simulated-run.ts';
import { seededRandom } from '../../core/run/seeded-random.ts';
import type { LoadPlan, Practise, PractiseFault } from '../../core/shop/run-record.ts';

/** What "surprise" may draw. */
const SURPRISES = [
  'none',
  'contact',
  'drift',
  'loose',
  'total',
  'short',
  'burning',
  'wrong-mode',
] as const satisfies readonly PractiseFault[];

/** What goes wrong in a practise run; a surprise is drawn from the seed, so that it is the same after a reload. */
export function practiseSetup(plan: LoadPlan, practise: Practise): SimulatedSetup {
  const usual = usualSetup(plan.areaM2, plan.currentDensityAPerM2, practise.seed);
  const usualV = 15;
  const offsetV = plan.expectedVoltageV === null ? 0 : plan.expectedVoltageV - usual.setVoltageV;
  let { fault, faultAtS, lostShare } = practise;
  if (fault === 'surprise') {
    const random = seededRandom((practise.seed ^ 0x9e3779b9) >>> 0);
    fault = SURPRISES[Math.floor(random.unit() * SURPRISES.length)]!;
    faultAtS = plan.rampS + 120 + random.unit() * 0.7 * plan.holdS;
    lostShare = 0.25 + 0.5 * random.unit();
  }
  const base: SimulatedSetup = {
    ...usual,
    mode: fault === 'wrong-mode' ? (plan.mode === 'current' ? 'voltage' : 'current') : plan.mode,
    rampS: plan.rampS,
    // Long enough for a run that has to be extended.
    durationS: Math.min(86_400, 3 * (plan.rampS + plan.holdS) + 1800),
    cell: { ...usual.cell, referenceVoltageV: usualV + offsetV },
    setVoltageV: usual.setVoltageV + offsetV,
    supplyVoltageLimitV:
      fault === 'limit' ? usual.setVoltageV + offsetV - 1 : (plan.supplyVoltageLimitV ?? 30),
    supplyCurrentLimitA: plan.supplyCurrentLimitA ?? 3 * usual.setCurrentA,
    bath: {
      ...usual.bath,
      startK: plan.bathTemperatureK,
      surroundingsK: plan.bathTemperatureK,
      ...(plan.bathWarming
        ? { heatCapacityJPerK: plan.bathWarming.capacityJPerK, lossWPerK: plan.bathWarming.lossWPerK }
        : {}),
    },
    // A display has three digits of the set current at least.
    noise: {
      ...usual.noise,
      currentStepA: Math.min(0.01, 10 ** Math.floor(Math.log10(usual.setCurrentA) - 2)),
    },
  };
  return { ...base, faults: faultOf(fault, faultAtS, lostShare), acts: practise.acts };
}

function faultOf(kind: PractiseFault, atS: number, lostShare: number): SimulatedFault[] {
  switch (kind) {
    case 'contact':
      return [{ kind: 'contact', atS, lostShare, overS: 2 }];
    case 'drift':
      return [{ kind: 'contact', atS, lostShare, overS: 600 }];
    case 'loose':
      return [{ kind: 'loose', atS, lostShare, dwellS: 8 }];
    case 'resistance':
      return [{ kind: 'resistance', atS, addedOhm: 0.05 }];
    case 'short':
      return [{ kind: 'short', atS, resistanceOhm: 0.05 }];
    case 'burning':
      return [{ kind: 'burning', atS, doublingS: 40 }];
    case 'total':
    case 'off':
      return [{ kind, atS }];
    default:
      return [];
  }
}

/** The supply that isn't there: hands out what a supply would have said by then. */
export interface SimulatedFeed {
  /** Readings after `fromS` up to `toS`, seconds since power on. */
  between(fromS: number, toS: number): Reading[];
}

export function simulatedFeed(plan: LoadPlan, practise: Practise): SimulatedFeed {
  const { readings } = simulateRun(practiseSetup(plan, practise));
  return {
    between(fromS, toS) {
      const list: Reading[] = [];
      for (let i = 0; i < readings.tS.length; i++) {
        if (readings.tS[i]! > toS) break;
        if (readings.tS[i]! > fromS) list.push(readingAt(readings, i));
      }
      return list;
    },
  };
}
