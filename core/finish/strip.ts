import { hydrogenFromLye } from '../bath/hydrogen.ts';
import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import {
  LYE_BULK_DENSITY_KG_PER_M3,
  LYE_SOLUTION_J_PER_MOL,
  STRIP_TIME_S,
} from '../reference/caustic-etch.ts';
import {
  ALUMINA_KG_PER_MOL,
  ALUMINIUM_KG_PER_MOL,
  SODIUM_HYDROXIDE_KG_PER_MOL,
} from '../reference/thermochemistry.ts';
import { failure, success, type Result } from '../result.ts';
import { etch } from './etch.ts';

export interface StripRequest {
  readonly volumeM3: number;
  readonly lyeKgPerM3: number;
  readonly temperatureK: number;
  /** Of all parts stripped in this lye. */
  readonly areaM2: number;
  readonly filmM: number;
  /** From the film gone to the part out of the lye. */
  readonly overTimeS: number;
  readonly metalDensityKgPerM3: number;
  readonly roomK: number;
}

export interface Strip {
  readonly lyeMass: Figure;
  /** As poured beads, for those without a scale; weighing is better. */
  readonly beadsVolume: Figure;
  /** Warming as the lye dissolves. */
  readonly rise: Figure;
  readonly time: Figure;
  /** From each coated surface after its film is gone. */
  readonly metalRemoved: Figure;
  /** From each surface without film, which the lye eats from the first minute. */
  readonly bareRemoved: Figure;
  /** Share of the lye that stripping uses up. */
  readonly lyeUsed: Figure;
  readonly hydrogen: Figure;
  /** What to expect and look for. */
  readonly notes: readonly string[];
}

const FILM_KG_PER_M3 = 2400;
const WATER_J_PER_M3_K = 4.18e6;
const TIRED_SHARE = 0.5;

/** How long a lye of this strength takes to strip an ordinary film, s. */
export function stripTime(lyeKgPerM3: number): { usual: number; low: number; high: number } {
  const thin = Math.max(1, STRIP_TIME_S.lyeKgPerM3 / lyeKgPerM3);
  return { usual: STRIP_TIME_S.usual * thin, low: STRIP_TIME_S.low, high: STRIP_TIME_S.high * thin };
}

/**
 * Metal that a strip takes off a surface without film (under a mask that is off, a contact spot, a piece that got no film): it
 * lies in the lye for the whole of it. Fails as `etch` does.
 */
export function bareInStrip(lyeKgPerM3: number, temperatureK: number, overTimeS: number): Result<Figure> {
  const attack = etch(lyeKgPerM3, temperatureK, overTimeS);
  if (!attack.ok) return attack;
  const { rate } = attack.value;
  const time = stripTime(lyeKgPerM3);
  const { lowSi = rate.valueSi, highSi = rate.valueSi } = rate;
  return success({
    label: 'Metal removed from bare surfaces',
    kind: 'length',
    unit: 'µm',
    valueSi: rate.valueSi * (time.usual + overTimeS),
    lowSi: lowSi * (time.low + overTimeS),
    highSi: highSi * (time.high + overTimeS),
    formula: 'x = r · (t_film + t_over)',
    inputs: [
      { ...figureInput('r', 'loss of each surface', 'speed', rate.valueSi) },
      figureInput('t_film', 'until the film is gone', 'time', time.usual),
      figureInput('t_over', 'left in after that', 'time', overTimeS),
    ],
    source: rate.source,
  });
}

/**
 * A lye strip: what to weigh in, what it takes off and how tired it gets. One mole of lye per mole of aluminium, from
 * film and metal alike; hydrogen comes from the metal only. Fails with `strip-input` and as `etch` does.
 */
export function strip(request: StripRequest): Result<Strip> {
  const { volumeM3, lyeKgPerM3, areaM2, filmM, overTimeS } = request;
  if (!(volumeM3 > 0 && areaM2 >= 0 && filmM >= 0 && overTimeS >= 0)) {
    return failure(
      'strip-input',
      'A strip needs a volume, an area and a film.',
      'Type the litres of lye, and take area and thickness from the plan.',
    );
  }
  const attack = etch(lyeKgPerM3, request.temperatureK, overTimeS);
  if (!attack.ok) return attack;
  const bareRemoved = bareInStrip(lyeKgPerM3, request.temperatureK, overTimeS);
  if (!bareRemoved.ok) return bareRemoved;
  const lyeKg = lyeKgPerM3 * volumeM3;
  const { removed } = attack.value;
  const filmAluminiumKg = (areaM2 * filmM * FILM_KG_PER_M3 * 2 * ALUMINIUM_KG_PER_MOL) / ALUMINA_KG_PER_MOL;
  const metalKg = (metres: number): number => areaM2 * metres * request.metalDensityKgPerM3;
  const used = (metres: number): number =>
    ((filmAluminiumKg + metalKg(metres)) * SODIUM_HYDROXIDE_KG_PER_MOL) / ALUMINIUM_KG_PER_MOL / lyeKg;
  const bulk = LYE_BULK_DENSITY_KG_PER_M3;
  const lye = figureInput('c', 'lye', 'massConcentration', lyeKgPerM3, 'g/L');
  const volume = figureInput('V', 'water', 'volume', volumeM3);
  const usedUsual = used(removed.valueSi);
  const time = stripTime(lyeKgPerM3);
  return success({
    lyeMass: {
      label: 'Lye (caustic soda)',
      kind: 'mass',
      valueSi: lyeKg,
      formula: 'm = c · V',
      inputs: [lye, volume],
      source: { standing: 'common practice', text: 'strength of the strip times its volume' },
    },
    beadsVolume: {
      label: 'Lye, as poured beads',
      kind: 'volume',
      unit: 'mL',
      valueSi: lyeKg / bulk.usual,
      lowSi: lyeKg / bulk.high,
      highSi: lyeKg / bulk.low,
      formula: 'V = m / ρ_bulk',
      inputs: [figureInput('m', 'lye', 'mass', lyeKg), figureInput('ρ_bulk', 'beads', 'density', bulk.usual)],
      source: bulk.source,
    },
    rise: {
      label: 'Warming as the lye dissolves',
      kind: 'temperatureDifference',
      valueSi: ((lyeKgPerM3 / SODIUM_HYDROXIDE_KG_PER_MOL) * LYE_SOLUTION_J_PER_MOL.value) / WATER_J_PER_M3_K,
      formula: 'ΔT = c / 40 g/mol · 44.5 kJ/mol / (4.18 kJ/(L·K))',
      inputs: [lye],
      source: LYE_SOLUTION_J_PER_MOL.source,
    },
    time: {
      label: 'Until the film is gone',
      kind: 'time',
      valueSi: time.usual,
      lowSi: time.low,
      highSi: time.high,
      formula: 'about five minutes cold; longer in thinner lye',
      inputs: [lye],
      source: STRIP_TIME_S.source,
    },
    metalRemoved: removed,
    bareRemoved: bareRemoved.value,
    lyeUsed: {
      label: 'Lye used up',
      kind: 'fraction',
      valueSi: usedUsual,
      lowSi: used(removed.lowSi ?? removed.valueSi),
      highSi: used(removed.highSi ?? removed.valueSi),
      formula: 'u = 1.482 · (Al of the film + Al of the metal) / m',
      inputs: [
        figureInput('Al_f', 'aluminium in the film', 'mass', filmAluminiumKg),
        figureInput('Al_m', 'metal etched', 'mass', metalKg(removed.valueSi)),
        figureInput('m', 'lye', 'mass', lyeKg),
      ],
      source: { standing: 'definition', text: 'one NaOH per aluminium, Al(OH)₄⁻; atomic weights IUPAC 2021' },
    },
    hydrogen: hydrogenFromLye(metalKg(removed.valueSi), request.roomK),
    notes: [
      'Plug or mask again what is to stay bare before the strip: metal without film (a masked bore with its plug out, contact spots, a piece that lost its contact) lies in the lye the whole time.',
      'Gas starts evenly all over once the film is gone: take the part out then, every minute longer costs metal.',
      'Grey or black smut stays and scrubs or desmuts off; alloys with copper and silicon leave the most.',
      ...(usedUsual > TIRED_SHARE ? ['This area uses up more than half of the lye: make up more.'] : []),
    ],
  });
}
