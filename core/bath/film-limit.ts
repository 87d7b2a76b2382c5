import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { CELL_VOLTAGE_AT, RATE_LAW } from '../reference/cell-voltage-table.ts';
import { PRACTICAL_CEILING, WALL_DISSOLUTION, WALL_M_PER_V } from '../reference/film-limits.ts';
import { failure, success, type Result } from '../result.ts';
import type { CellConditions } from './expected-voltage.ts';

export interface FilmLimit {
  /** How long until the oldest pore walls are gone. */
  readonly time: Figure;
  /** What grows in that time at this density. */
  readonly thickness: Figure;
  /** What shops reach in a bath near 20 °C, whatever the arithmetic says; null in colder baths. */
  readonly practice: Figure | null;
}

/**
 * Thickest film before the acid has eaten the walls of the first-grown pores: t = wall / rate, d = t · j / k. Wide by
 * nature: the rate is known to a factor of four. Fails with `film-limit-unknown` outside −10 to 35 °C.
 */
export function filmLimit(
  at: CellConditions & { readonly voltageV: number; readonly chargePerVolumeCPerM3: number },
): Result<FilmLimit> {
  const rate = WALL_DISSOLUTION;
  if (!(at.temperatureK >= rate.lowK && at.temperatureK <= rate.highK)) {
    return failure(
      'film-limit-unknown',
      'How fast acid eats the film is only known from −10 to 35 °C.',
      'Check the bath’s temperature.',
    );
  }
  const { voltageV, chargePerVolumeCPerM3, currentDensityAPerM2: j } = at;
  if (!(voltageV > 0 && chargePerVolumeCPerM3 > 0 && j > 0)) {
    throw new RangeError(
      `filmLimit: voltageV ${voltageV}, chargePerVolume ${chargePerVolumeCPerM3}, density ${j}`,
    );
  }
  const tens = (at.temperatureK - 293.15) / 10;
  const acid = (at.acidKgPerM3 / CELL_VOLTAGE_AT.acidKgPerM3) ** RATE_LAW.acidOrder;
  const wallM = WALL_M_PER_V * voltageV;
  const seconds = (per20: number, factor: number): number => wallM / (per20 * factor ** tens * acid);
  const ends = [rate.per10K.low, rate.per10K.high].flatMap((factor) => [
    seconds(rate.at20C.low, factor),
    seconds(rate.at20C.high, factor),
  ]);
  const usual = seconds(rate.at20C.usual, rate.per10K.usual);
  const [low, high] = [Math.min(...ends), Math.max(...ends)];
  const perSecondM = j / chargePerVolumeCPerM3;
  const source: Source = rate.source;
  const inputs = [
    figureInput('V', 'cell voltage', 'voltage', voltageV),
    figureInput('T', 'bath', 'temperature', at.temperatureK),
    figureInput('c', 'sulfuric acid', 'massConcentration', at.acidKgPerM3, 'g/L'),
  ];
  return success({
    time: {
      label: 'Longest run before the film softens',
      kind: 'time',
      valueSi: usual,
      lowSi: low,
      highSi: high,
      formula: 't = 0.8 nm/V · V / r(T, c)',
      inputs,
      source,
    },
    thickness: {
      label: 'Thickest film the acid leaves',
      kind: 'length',
      unit: 'µm',
      valueSi: usual * perSecondM,
      lowSi: low * perSecondM,
      highSi: high * perSecondM,
      formula: 'd = t · j / k',
      inputs: [
        ...inputs,
        figureInput('j', 'current density', 'currentDensity', j),
        figureInput('k', 'charge constant', 'chargePerVolume', chargePerVolumeCPerM3),
      ],
      source,
    },
    practice:
      at.temperatureK < PRACTICAL_CEILING.fromK
        ? null
        : {
            label: 'Thickest film in practice near 20 °C',
            kind: 'length',
            unit: 'µm',
            valueSi: PRACTICAL_CEILING.lowM,
            lowSi: PRACTICAL_CEILING.lowM,
            highSi: PRACTICAL_CEILING.highM,
            formula: 'range met in practice',
            inputs: [],
            source: PRACTICAL_CEILING.source,
          },
  });
}
