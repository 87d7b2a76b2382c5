import { CHARGE_CONSTANT_DEFAULT } from '../reference/charge-constant.ts';
import { cellVoltage, currentAtVoltage, DISSOLUTION_ACTIVATION_EV, type OxideCell } from './oxide-cell.ts';
import { readingsFrom, type Reading, type Readings } from './readings.ts';
import { seededRandom } from './seeded-random.ts';
import { createContact } from './simulated-contact.ts';
import { createMeter } from './simulated-meter.ts';

/** Something that goes wrong in a simulated run, from `atS` on. */
export type SimulatedFault =
  | { readonly kind: 'contact'; readonly atS: number; readonly lostShare: number; readonly overS: number }
  | { readonly kind: 'restore'; readonly atS: number }
  | { readonly kind: 'loose'; readonly atS: number; readonly lostShare: number; readonly dwellS: number }
  | { readonly kind: 'total'; readonly atS: number }
  | { readonly kind: 'short'; readonly atS: number; readonly resistanceOhm: number }
  | { readonly kind: 'burning'; readonly atS: number; readonly doublingS: number }
  | { readonly kind: 'resistance'; readonly atS: number; readonly addedOhm: number }
  | { readonly kind: 'off'; readonly atS: number };

/** What somebody at the supply and the tank does in a simulated run, from `atS` on. */
export type SimulatedAct =
  | { readonly kind: 'set-current'; readonly atS: number; readonly currentA: number }
  | { readonly kind: 'set-voltage'; readonly atS: number; readonly voltageV: number }
  | { readonly kind: 'power'; readonly atS: number; readonly on: boolean }
  /** The load clamped, pressed home or moved clear again. */
  | { readonly kind: 'clamp'; readonly atS: number };

/** What the meter adds to the truth. */
export interface SimulatedNoise {
  /** Standard deviation of a reading, share of the reading. */
  readonly relative: number;
  /** Share of that variance that wanders instead of jumping from reading to reading. */
  readonly colouredShare: number;
  /** How long the wandering part remembers. */
  readonly colourS: number;
  /** Stirring: share of U, amplitude. */
  readonly ripple: number;
  readonly ripplePeriodS: number;
  /** Slow wander of the process itself (stirring, acid at the part), share of U, standard deviation. */
  readonly wander: number;
  readonly wanderS: number;
  /** Chance that one reading is rubbish by up to a third. */
  readonly glitchChance: number;
  readonly voltageStepV: number;
  readonly currentStepA: number;
  readonly temperatureStepK: number;
}

export const QUIET: SimulatedNoise = {
  relative: 0,
  colouredShare: 0,
  colourS: 60,
  ripple: 0,
  ripplePeriodS: 10,
  wander: 0,
  wanderS: 900,
  glitchChance: 0,
  voltageStepV: 0,
  currentStepA: 0,
  temperatureStepK: 0,
};

export interface SimulatedSetup {
  readonly seed: number;
  readonly mode: 'current' | 'voltage';
  /** What is really in the bath, m². */
  readonly areaM2: number;
  /** Set current in constant current, A. */
  readonly setCurrentA: number;
  /** Set voltage in constant voltage, V. */
  readonly setVoltageV: number;
  readonly rampS: number;
  readonly durationS: number;
  readonly sampleS: number;
  readonly cell: OxideCell;
  readonly seriesOhm: number;
  /** Voltage the growing film adds, V per m; `lateGrowth` sets in after `lateFromM`. */
  readonly growthVPerM: number;
  readonly lateGrowthVPerM: number;
  readonly lateFromM: number;
  readonly chargePerVolumeCPerM3: number;
  /** Share by which the start-up peak stands above the steady U; it decays with the charge passed. */
  readonly startPeak: number;
  readonly supplyVoltageLimitV: number;
  readonly supplyCurrentLimitA: number;
  readonly bath: {
    readonly startK: number;
    readonly heatCapacityJPerK: number;
    readonly lossWPerK: number;
    readonly surroundingsK: number;
    /** Cooler that switches at startK ± halfBandK; 0 W for none. */
    readonly coolerW: number;
    readonly halfBandK: number;
  };
  readonly readTemperature: boolean;
  readonly noise: SimulatedNoise;
  readonly faults: readonly SimulatedFault[];
  /** In the order of their times; none where absent. An act changes nothing before it. */
  readonly acts?: readonly SimulatedAct[];
}

/** A run of the trade's usual numbers: 12 A/ft², 20 °C, 15 V, 4 V per A/dm² (handbook ranges, from memory). */
export function usualSetup(areaM2: number, currentDensityAPerM2: number, seed: number): SimulatedSetup {
  if (!(areaM2 > 0)) throw new RangeError(`usualSetup: areaM2 is ${areaM2}`);
  if (!(currentDensityAPerM2 > 0)) {
    throw new RangeError(`usualSetup: currentDensityAPerM2 is ${currentDensityAPerM2}`);
  }
  const cell: OxideCell = {
    referenceDensityAPerM2: 129.17,
    referenceTemperatureK: 293.15,
    referenceVoltageV: 15,
    slopeVM2PerA: 0.04,
    curvature: 0,
    activationEv: DISSOLUTION_ACTIVATION_EV,
  };
  const setCurrentA = areaM2 * currentDensityAPerM2;
  return {
    seed,
    mode: 'current',
    areaM2,
    setCurrentA,
    setVoltageV: cellVoltage(cell, currentDensityAPerM2, 293.15),
    rampS: 300,
    durationS: 3600,
    sampleS: 5,
    cell,
    seriesOhm: 0,
    growthVPerM: 0.05e6,
    lateGrowthVPerM: 0,
    lateFromM: 1,
    chargePerVolumeCPerM3: CHARGE_CONSTANT_DEFAULT.chargePerVolumeCPerM3,
    startPeak: 0.1,
    supplyVoltageLimitV: 30,
    supplyCurrentLimitA: 3 * setCurrentA,
    bath: {
      startK: 293.15,
      heatCapacityJPerK: Math.max(40_000, areaM2 * 2_000_000),
      lossWPerK: 2,
      surroundingsK: 293.15,
      coolerW: 0,
      halfBandK: 0.5,
    },
    readTemperature: true,
    noise: {
      relative: 0.01,
      colouredShare: 0.2,
      colourS: 40,
      ripple: 0.005,
      ripplePeriodS: 11,
      wander: 0.005,
      wanderS: 900,
      glitchChance: 0,
      voltageStepV: 0.01,
      currentStepA: 0.01,
      temperatureStepK: 0.1,
    },
    faults: [],
  };
}

/** What was really going on at a reading. */
export interface SimulatedTruth {
  readonly liveShare: Float64Array;
  readonly thicknessM: Float64Array;
  readonly temperatureK: Float64Array;
  readonly chargeC: Float64Array;
}

export interface SimulatedRun {
  readonly readings: Readings;
  readonly truth: SimulatedTruth;
}

/** Enthalpy of 2 Al + 3 H₂O → Al₂O₃ + 3 H₂ as volts on top of the cell's own (CODATA, NIST WebBook). */
const REACTION_V = 1.413;
/** Charge per area over which the start-up peak builds and decays, C/m²: seconds at full current. */
const PEAK_RISE_C_PER_M2 = 400;
const PEAK_DECAY_C_PER_M2 = 2500;
const INNER_STEP_S = 1;

/**
 * Runs the whole simulation at once. Deterministic in `setup`; throws RangeError for a setup that can't be run.
 * For a live display feed the readings out at any speed.
 */
export function simulateRun(setup: SimulatedSetup): SimulatedRun {
  for (const name of ['areaM2', 'durationS', 'sampleS', 'chargePerVolumeCPerM3'] as const) {
    if (!(setup[name] > 0)) throw new RangeError(`simulateRun: ${name} is ${setup[name]}`);
  }
  if (setup.durationS / setup.sampleS > 1e6)
    throw new RangeError('simulateRun: more than a million readings');
  // One stream for the process and one for the meter, so that a meter's setting does not change the run itself.
  const process = seededRandom(setup.seed);
  const meter = createMeter(setup, seededRandom((setup.seed ^ 0x5bd1e995) >>> 0));
  const contact = createContact(setup, process);
  const knobs = supplyKnobs(setup);
  const { bath, noise, cell } = setup;
  const peakV = cell.slopeVM2PerA * cell.referenceDensityAPerM2;

  const count = Math.floor(setup.durationS / setup.sampleS + 1e-9) + 1;
  const truth: SimulatedTruth = {
    liveShare: new Float64Array(count),
    thicknessM: new Float64Array(count),
    temperatureK: new Float64Array(count),
    chargeC: new Float64Array(count),
  };
  const list: Reading[] = [];
  let temperatureK = bath.startK;
  let cooling = false;
  let thicknessM = 0;
  let chargeC = 0;
  let wander = noise.wander * process.normal();
  const ripplePhase = process.unit() * 2 * Math.PI;
  let ripplePhaseWalk = 0;
  let tS = 0;
  const stepS = Math.min(INNER_STEP_S, setup.sampleS);

  const solve = (): { voltageV: number; currentA: number; live: number } => {
    const state = contact.at(tS);
    const knob = knobs(tS);
    if (state.off || knob.onS === null) return { voltageV: 0, currentA: 0, live: state.live };
    const ramp = setup.rampS > 0 ? Math.min(1, (tS - knob.onS) / setup.rampS) : 1;
    const ramped = (value: number): number => (value === Infinity ? Infinity : value * ramp);
    const limitA = Math.min(setup.supplyCurrentLimitA, ramped(knob.currentA));
    const limitV = Math.min(setup.supplyVoltageLimitV, ramped(knob.voltageV));
    const area = setup.areaM2 * state.live;
    const perArea = chargeC / setup.areaM2;
    const late = Math.max(0, thicknessM - setup.lateFromM);
    const growthV = setup.growthVPerM * thicknessM + setup.lateGrowthVPerM * late;
    // The barrier layer builds up within seconds, overshoots, and falls back as pores open.
    const barrier = 1 - Math.exp(-perArea / PEAK_RISE_C_PER_M2) + setup.startPeak * peakShape(perArea);
    const swing = (1 + wander) * (1 + noise.ripple * Math.sin(ripplePhase + ripplePhaseWalk));
    const voltageAt = (currentA: number): number => {
      const density = area > 0 ? currentA / (area * state.conductance) : Infinity;
      if (density === Infinity) return currentA > 0 ? Infinity : 0;
      const through = cellVoltage(cell, density, temperatureK);
      const film = (through - (cell.referenceVoltageV - peakV)) * swing + (cell.referenceVoltageV - peakV);
      return film * barrier + growthV + (setup.seriesOhm + state.addedOhm) * currentA;
    };
    if (state.shortOhm !== undefined) {
      const most = Number.isFinite(limitA) ? limitA : setup.supplyCurrentLimitA;
      const currentA = Math.min(most, limitV / state.shortOhm);
      return { voltageV: currentA * state.shortOhm, currentA, live: state.live };
    }
    if (area <= 0) return { voltageV: limitV, currentA: 0, live: 0 };
    const currentA = currentAtVoltage(voltageAt, limitV, limitA);
    return { voltageV: Math.min(limitV, voltageAt(currentA)), currentA, live: state.live };
  };

  for (let i = 0; i < count; i++) {
    const sampleAtS = i * setup.sampleS;
    while (tS < sampleAtS - 1e-9) {
      const span = Math.min(stepS, sampleAtS - tS);
      const now = solve();
      chargeC += now.currentA * span;
      if (now.live > 0 && !contact.at(tS).shorted) {
        thicknessM += (now.currentA * span) / (setup.areaM2 * now.live * setup.chargePerVolumeCPerM3);
      }
      const heatW =
        now.currentA * (now.voltageV + REACTION_V) -
        bath.lossWPerK * (temperatureK - bath.surroundingsK) -
        (cooling ? bath.coolerW : 0);
      temperatureK += (heatW * span) / bath.heatCapacityJPerK;
      if (temperatureK > bath.startK + bath.halfBandK) cooling = true;
      if (temperatureK < bath.startK - bath.halfBandK) cooling = false;
      const keep = Math.exp(-span / noise.wanderS);
      wander = wander * keep + noise.wander * Math.sqrt(1 - keep * keep) * process.normal();
      ripplePhaseWalk += (2 * Math.PI * span) / noise.ripplePeriodS + 0.05 * process.normal();
      contact.advance(span, thicknessM);
      tS += span;
    }
    const now = solve();
    truth.liveShare[i] = now.live;
    truth.thicknessM[i] = thicknessM;
    truth.temperatureK[i] = temperatureK;
    truth.chargeC[i] = chargeC;
    list.push(meter(sampleAtS, now.voltageV, now.currentA, temperatureK, contact.at(tS).jitter));
  }
  return { readings: readingsFrom(list, 'simulated'), truth };
}

/** How the supply's knobs stand at a moment, and since when it is on; a knob not turned in this mode does not limit. */
function supplyKnobs({ mode, setCurrentA, setVoltageV, acts = [] }: SimulatedSetup) {
  return (tS: number): { currentA: number; voltageV: number; onS: number | null } => {
    const knob = {
      currentA: mode === 'current' ? setCurrentA : Infinity,
      voltageV: mode === 'voltage' ? setVoltageV : Infinity,
      onS: 0 as number | null,
    };
    for (const act of acts) {
      if (tS < act.atS - 1e-9) break;
      if (act.kind === 'set-current') knob.currentA = act.currentA;
      else if (act.kind === 'set-voltage') knob.voltageV = act.voltageV;
      else if (act.kind === 'power') knob.onS = act.on ? (knob.onS ?? act.atS) : null;
    }
    return knob;
  };
}

/** Rises from 0 and falls back to 0, top about 1. */
function peakShape(perArea: number): number {
  return 1.6 * (1 - Math.exp(-perArea / PEAK_RISE_C_PER_M2)) * Math.exp(-perArea / PEAK_DECAY_C_PER_M2);
}
