import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { ICE_MELTING_J_PER_KG, REACTION_HEAT_V, WATER_J_PER_KG_K } from '../reference/thermochemistry.ts';
import { VAPOUR_SOURCE } from '../reference/water-vapour.ts';
import type { OwnHeating } from '../job/job-own-runs.ts';
import { failure, success, type Result } from '../result.ts';
import type { HeatVoltage } from './heat-voltage.ts';
import { icedBath, iceForHeatKg, THERMOMETER_K } from './iced-bath.ts';
import { heatBalance, type HeatPaths, type HeatRun, type HeatTally } from './heat-balance.ts';
import { atRest, heatOverLoads, type LoadHeat } from './heat-over-loads.ts';
import { loadHeatRanges, type HeatCase, type LoadHeatRange } from './load-heat-ranges.ts';

export interface BathHeatRequest {
  readonly volumeM3: number;
  /** Free acid at 20 °C. */
  readonly acidKgPerM3: number;
  readonly startK: number;
  /** The bath must stay under this. */
  readonly limitK: number;
  /** Of the run that is reckoned: the largest load's. */
  readonly currentA: number;
  /** Of each load of the job, in the order in which they are run. */
  readonly loadsA: readonly number[];
  readonly rampS: number;
  readonly holdS: number;
  /** Between one run’s end and the next one’s start. */
  readonly pauseS: number;
  readonly voltage: Pick<HeatVoltage, 'valueV' | 'lowV' | 'highV' | 'taken'>;
  readonly paths: HeatPaths;
  /** Ice thrown in before the start, at 0 °C; in closed bottles it does not thin the bath. */
  readonly iceKg: number;
  readonly iceInBottles: boolean;
  /** How the shop's own bath warmed in its runs: in place of table and usual losses. null for none. */
  readonly own: OwnHeating | null;
}

export interface BathHeat {
  readonly heatPower: Figure;
  readonly heat: Figure;
  readonly startTemperature: Figure;
  readonly endTemperature: Figure;
  readonly evaporated: Figure;
  /** Ice, beyond what is put in already, that would bring the bath to the limit and hold it there. */
  readonly iceNeeded: Figure;
  /** Of a bath that starts above its limit: what is to be taken out before the power goes on; null for none. */
  readonly coolDown: {
    readonly fromK: number;
    readonly toK: number;
    readonly heatJ: number;
    readonly iceKg: number;
  } | null;
  /** Mean power a chiller needs to hold the limit through a run that starts at it or below. */
  readonly chillerNeeded: Figure;
  /** Runs before the bath ends one above the limit; `MOST_RUNS` means that many and more. */
  readonly runsInARow: Figure;
  /** The job's loads one after the other, with the pause between them. */
  readonly loads: readonly (LoadHeat & LoadHeatRange)[];
  /** The acid after loose ice has melted; null without loose ice. */
  readonly acidAfterIce: Figure | null;
  readonly tally: HeatTally;
  /** The run that was reckoned, and in what, for its course over time. */
  readonly run: HeatRun;
  readonly paths: HeatPaths;
}

export const MOST_RUNS = 20;
/** Of melted ice, near enough for a thinned bath. */
const WATER_KG_PER_M3 = 998;
/** Losses to air, walls and vapour are known to about 40 %. */
const LOSS_UNCERTAINTY = 0.4;

/**
 * How warm a run leaves the bath and what cooling it takes. Low and high: losses 40 % more and less, voltage and heat of
 * reaction at their ends, whichever corner comes out lowest and highest. Where the shop's own runs tell how the bath warms, their heat per kelvin (with
 * its range) and steady loss stand in for the table's and the usual losses; evaporation and pauses stay as reckoned. Ice: m = heat to be taken / (333.55 kJ/kg + 4.18 kJ/(kg·K) · warm-up to the limit).
 * Fails with `bath-heat-input`, `too-much-ice`, `bath-out-of-range`, `outside-table`.
 */
export function planBathHeat(request: BathHeatRequest): Result<BathHeat> {
  if (!(request.volumeM3 > 0 && request.currentA > 0 && request.holdS >= 0 && request.iceKg >= 0)) {
    return failure(
      'bath-heat-input',
      'The bath’s volume and the run’s current are needed to say how warm it gets.',
      'Type the litres in the tank and plan the current first.',
    );
  }
  const { own } = request;
  const iced = icedBath({ ...request, ownJPerK: own?.heatCapacityJPerK ?? null });
  if (!iced.ok) return iced;
  const runPaths = own ? ownPaths(request.paths, own) : request.paths;
  const run: HeatRun = {
    ...iced.value,
    currentA: request.currentA,
    voltageV: request.voltage.valueV,
    reactionV: REACTION_HEAT_V.usual,
    rampS: request.rampS,
    holdS: request.holdS,
    restS: 0,
  };
  const usual = heatBalance(run, runPaths);
  if (!usual.ok) return usual;
  const evaporation = own ? heatBalance(run, request.paths) : usual;
  if (!evaporation.ok) return evaporation;
  // What is over the limit before the start is taken out first; then the run is held at the limit.
  const holdAtK = request.limitK;
  const heldFromK = Math.min(run.startK, holdAtK);
  const held = heatBalance({ ...run, startK: heldFromK, holdAtK }, runPaths);
  if (!held.ok) return held;
  // Losses may warm as well as cool (a cold bath in a warm room), so every corner is tried.
  const endsK = [usual.value.endK];
  const heldJ = [held.value.heldJ];
  const cases = heatCases(request, run, runPaths);
  for (const one of cases) {
    const corner = heatBalance(one.run, one.paths);
    if (!corner.ok) return corner;
    const heldCorner = heatBalance({ ...one.run, startK: heldFromK, holdAtK }, one.paths);
    if (!heldCorner.ok) return heldCorner;
    endsK.push(corner.value.endK);
    heldJ.push(heldCorner.value.heldJ);
  }
  const runs = runsInARow(run, request, runPaths);
  if (!runs.ok) return runs;
  const row = {
    currentsA: request.loadsA,
    limitK: request.limitK,
    pauseS: request.pauseS,
    restPaths: request.paths,
  };
  const loads = heatOverLoads(run, runPaths, row);
  if (!loads.ok) return loads;
  const ranges = loadHeatRanges(loads.value, cases, row);
  const { evaporatedKg } = evaporation.value;
  return success({
    ...figures(request, run, runPaths, usual.value, endsK, heldJ, runs.value, evaporatedKg),
    loads: loads.value.map((load, index) => ({ ...load, ...ranges[index]! })),
  });
}

/** Every pair of a heat that may come in and of what the bath may do with it. */
function heatCases(
  { paths, voltage, own, iceKg }: BathHeatRequest,
  run: HeatRun,
  runPaths: HeatPaths,
): HeatCase[] {
  const heats = [
    { voltageV: voltage.lowV, reactionV: REACTION_HEAT_V.low },
    { voltageV: voltage.highV, reactionV: REACTION_HEAT_V.high },
  ];
  const baths = own
    ? [own.lowJPerK, own.highJPerK].map((jPerK) => ({
        paths: runPaths,
        restPaths: paths,
        capacityJPerK: jPerK + iceKg * WATER_J_PER_KG_K,
      }))
    : [1 - LOSS_UNCERTAINTY, 1 + LOSS_UNCERTAINTY].map((factor) => ({
        paths: scaleLosses(paths, factor),
        restPaths: scaleLosses(paths, factor),
        capacityJPerK: run.capacityJPerK,
      }));
  return baths.flatMap(({ paths: lost, restPaths, capacityJPerK }) =>
    heats.map((heat) => ({ run: { ...run, ...heat, capacityJPerK }, paths: lost, restPaths })),
  );
}

const scaleLosses = (paths: HeatPaths, factor: number): HeatPaths => ({
  ...paths,
  surfaceWPerM2K: paths.surfaceWPerM2K * factor,
  wallWPerM2K: paths.wallWPerM2K * factor,
});

/** What the shop's own runs lost, whatever took it. */
function ownPaths(paths: HeatPaths, { lossW }: OwnHeating): HeatPaths {
  return { ...paths, surfaceM2: 0, wallM2: 0, stirringW: 0, chillerW: 0, steadyLossW: lossW };
}

/** Ice was for the first run: later ones start from where the bath was left, cooled by its own losses and the chiller. */
function runsInARow(run: HeatRun, request: BathHeatRequest, runPaths: HeatPaths): Result<number> {
  let startK = run.startK;
  for (let count = 0; count < MOST_RUNS; count++) {
    const result = heatBalance({ ...run, startK }, runPaths);
    if (!result.ok) return result.error.code === 'bath-out-of-range' ? success(count) : result;
    if (result.value.warmestK > request.limitK + 1e-9) return success(count);
    const pause = atRest(run, request.paths, result.value.endK, request.pauseS);
    if (!pause.ok) return pause;
    startK = pause.value;
  }
  return success(MOST_RUNS);
}

function figures(
  request: BathHeatRequest,
  run: HeatRun,
  paths: HeatPaths,
  usual: HeatTally,
  endsK: readonly number[],
  heldJ: readonly number[],
  runs: number,
  evaporatedKg: number,
): Omit<BathHeat, 'loads'> {
  const beyond = request.voltage.taken === null ? '' : `; voltage: ${request.voltage.taken}`;
  const balance: Source = request.own
    ? {
        standing: 'your own runs',
        text: `${request.own.count} runs: what the bath takes per kelvin and loses; ${REACTION_HEAT_V.source.text}${beyond}`,
      }
    : {
        standing: REACTION_HEAT_V.source.standing,
        text: `${REACTION_HEAT_V.source.text}; losses to air, walls and vapour ±40 %${beyond}`,
      };
  const totalS = run.rampS + run.holdS;
  const aboveK = run.startK - request.limitK;
  const overK = aboveK > THERMOMETER_K ? aboveK : 0;
  const coolDownJ = run.capacityJPerK * overK;
  const electric = [
    figureInput('I', 'current', 'current', run.currentA),
    figureInput('V', 'cell voltage', 'voltage', run.voltageV),
    figureInput('U', 'heat of reaction', 'voltage', run.reactionV),
  ];
  const capacity = figureInput('C', 'heat to warm the bath by 1 K', 'energy', run.capacityJPerK);
  const times = [figureInput('t', 'power on', 'time', totalS), figureInput('t_r', 'ramp', 'time', run.rampS)];
  const power = (voltageV: number, reactionV: number): number => run.currentA * (voltageV + reactionV);
  const fullS = run.holdS + run.rampS / 2;
  const lowW = power(request.voltage.lowV, REACTION_HEAT_V.low);
  const highW = power(request.voltage.highV, REACTION_HEAT_V.high);
  const usualW = power(run.voltageV, run.reactionV);
  const [heldUsual, heldLow, heldHigh] = [heldJ[0]!, Math.min(...heldJ), Math.max(...heldJ)];
  const looseIce = request.iceKg > 0 && !request.iceInBottles;
  return {
    heatPower: {
      label: 'Heat into the bath',
      kind: 'power',
      valueSi: usualW,
      lowSi: lowW,
      highSi: highW,
      formula: 'P = I · (V + U)',
      inputs: electric,
      source: balance,
    },
    heat: {
      label: 'Heat of one run',
      kind: 'energy',
      valueSi: usualW * fullS,
      lowSi: lowW * fullS,
      highSi: highW * fullS,
      formula: 'Q = I · (V + U) · (t − t_r / 2)',
      inputs: [...electric, ...times],
      source: balance,
    },
    startTemperature: {
      label: 'Bath at the start',
      kind: 'temperature',
      valueSi: run.startK,
      formula:
        request.iceKg > 0 ? 'T = (C · T₀ − m · (333.55 kJ/kg)) / (C + m · c_w), ice at 0 °C' : 'T as entered',
      inputs: [
        figureInput('T₀', 'bath before ice', 'temperature', request.startK),
        figureInput('m', 'ice', 'mass', request.iceKg, 'kg'),
        capacity,
      ],
      source: { standing: 'published', text: 'melting heat of ice 333.55 kJ/kg, handbooks' },
    },
    endTemperature: {
      label: 'Bath at the end',
      kind: 'temperature',
      valueSi: usual.endK,
      lowSi: Math.min(...endsK),
      highSi: Math.max(...endsK),
      digits: 3,
      formula: 'C · dT/dt = I · (V + U) + stirring − air − walls − evaporation − chiller',
      inputs: [...electric, ...times, capacity],
      source: balance,
    },
    evaporated: {
      // Damp air over a cold bath gives its water to it.
      label: evaporatedKg < 0 ? 'Water condensed into the bath' : 'Water evaporated',
      kind: 'mass',
      valueSi: Math.abs(evaporatedKg),
      lowSi: Math.abs(evaporatedKg) * (1 - LOSS_UNCERTAINTY),
      highSi: Math.abs(evaporatedKg) * (1 + LOSS_UNCERTAINTY),
      formula:
        evaporatedKg < 0
          ? 'dm/dt = A · 0.089 W/(m²·Pa) · (φ · p_air − a · p_bath) / 2454 kJ/kg'
          : 'dm/dt = A · 0.089 W/(m²·Pa) · (a · p_bath − φ · p_air) / 2454 kJ/kg',
      inputs: [figureInput('A', 'open surface', 'area', request.paths.surfaceM2)],
      source: {
        standing: 'from memory',
        text: `pool evaporation without air movement, ASHRAE handbook, ±40 %; ${VAPOUR_SOURCE.text}`,
      },
    },
    iceNeeded: {
      label: request.iceKg > 0 ? 'More ice to hold the limit' : 'Ice to hold the limit',
      kind: 'mass',
      unit: 'kg',
      valueSi: iceForHeatKg(coolDownJ + heldUsual, request.limitK),
      lowSi: iceForHeatKg(coolDownJ + heldLow, request.limitK),
      highSi: (coolDownJ + heldHigh) / ICE_MELTING_J_PER_KG,
      formula:
        overK > 0
          ? 'm = (C · (T₀ − T_limit) + Q_over) / (333.55 kJ/kg + c_w · (T_limit − 0 °C))'
          : 'm = Q_over / (333.55 kJ/kg + c_w · (T_limit − 0 °C))',
      inputs: [
        ...(overK > 0 ? [capacity, figureInput('T₀', 'bath at the start', 'temperature', run.startK)] : []),
        figureInput('Q_over', 'heat of the run above the limit', 'energy', heldUsual),
        figureInput('T_limit', 'limit', 'temperature', request.limitK),
      ],
      source: balance,
    },
    coolDown:
      overK > 0
        ? {
            fromK: run.startK,
            toK: request.limitK,
            heatJ: coolDownJ,
            iceKg: iceForHeatKg(coolDownJ, request.limitK),
          }
        : null,
    chillerNeeded: {
      label: overK > 0 ? 'Cooling to hold the limit once there, mean' : 'Cooling to hold the limit, mean',
      kind: 'power',
      valueSi: heldUsual / totalS,
      lowSi: heldLow / totalS,
      highSi: heldHigh / totalS,
      formula: 'P = Q_over / t',
      inputs: [figureInput('Q_over', 'heat above the limit', 'energy', heldUsual), times[0]!],
      source: balance,
    },
    runsInARow: {
      label: 'Runs like it in a row',
      kind: 'count',
      valueSi: runs,
      formula: `runs that end below the limit, each starting where the pause left the bath (${MOST_RUNS} means ${MOST_RUNS} or more)`,
      inputs: [
        figureInput('T_limit', 'limit', 'temperature', request.limitK),
        figureInput('t_p', 'pause', 'time', request.pauseS),
      ],
      source: balance,
    },
    acidAfterIce: looseIce
      ? {
          label: 'Acid after the ice has melted',
          kind: 'massConcentration',
          unit: 'g/L',
          valueSi:
            (request.acidKgPerM3 * request.volumeM3) / (request.volumeM3 + request.iceKg / WATER_KG_PER_M3),
          formula: 'c = c₀ · V / (V + m_ice / ρ_w)',
          inputs: [
            figureInput('c₀', 'acid before', 'massConcentration', request.acidKgPerM3, 'g/L'),
            figureInput('m_ice', 'ice', 'mass', request.iceKg, 'kg'),
          ],
          source: {
            standing: 'common practice',
            text: 'loose ice thins the bath; ice in closed bottles does not',
          },
        }
      : null,
    tally: usual,
    run,
    paths,
  };
}
