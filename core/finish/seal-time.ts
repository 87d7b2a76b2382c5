import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { sealWay, STEAM_K, type SealWay, type SealWayId } from '../reference/seal-ways.ts';
import { failure, success, type Result } from '../result.ts';
import { uncapital } from '../units/first-letter.ts';

export interface SealPlan {
  readonly way: SealWay;
  readonly time: Figure;
  readonly notes: readonly string[];
  /** What is to be settled before this seal is used. */
  readonly checks: readonly SealCheckMessage[];
}

interface SealCheckMessage {
  readonly code: 'seal-ph' | 'seal-pressure';
  readonly message: string;
  readonly remedy: string;
}

/** A thermometer's slack over the boil, K. */
const OVER_BOIL_K = 1;

/**
 * How long to seal: minutes per micrometre at this temperature (straight between the warm and the cold end of the way’s
 * range), never less than the way’s least. Fails with `seal-too-cold` and `seal-too-hot` outside the range.
 */
export function sealTime(
  id: SealWayId,
  thicknessM: number,
  temperatureK: number,
  ph: number | null,
): Result<SealPlan> {
  if (!(thicknessM >= 0)) throw new RangeError(`sealTime: thicknessM is ${thicknessM}`);
  const way = sealWay(id);
  const { low, high } = way.temperatureK;
  const celsius = (kelvin: number): string => (kelvin - 273.15).toFixed(0);
  if (temperatureK < low - 0.01) {
    return failure(
      'seal-too-cold',
      `${way.title} does not seal below ${celsius(low)} °C, and dye washes out meanwhile.`,
      `Bring the bath to ${celsius(low)}-${celsius(high)} °C, or choose another way.`,
    );
  }
  if (temperatureK > high + 0.5) {
    return failure(
      'seal-too-hot',
      `${way.title} runs at ${celsius(low)}-${celsius(high)} °C.`,
      'Check the thermometer, or choose another way.',
    );
  }
  const inputs = [
    figureInput('d', 'film', 'length', thicknessM, 'µm'),
    figureInput('T', 'seal', 'temperature', temperatureK),
  ];
  const label = `Seal: ${uncapital(way.title)}`;
  const notes = [way.bath, way.after];
  if (way.ph && ph === null) notes.push(`Check the pH: ${way.ph.low} to ${way.ph.high}.`);
  const checks: SealCheckMessage[] = [];
  if (way.ph && ph !== null && (ph < way.ph.low || ph > way.ph.high)) {
    checks.push({
      code: 'seal-ph',
      message: `The seal’s pH ${ph} is outside ${way.ph.low} to ${way.ph.high}: ${ph < way.ph.low ? 'so low it leaves the film open' : 'so high it leaves bloom'}.`,
      remedy: `Bring it to ${way.ph.low} to ${way.ph.high} as the maker’s sheet says, or change the bath.`,
    });
  }
  if (id === 'steam' && temperatureK > STEAM_K + OVER_BOIL_K) {
    checks.push({
      code: 'seal-pressure',
      message: `Steam at ${celsius(temperatureK)} °C is under pressure: a pressure cooker or a closed pot can burst and scald.`,
      remedy:
        'Seal at 100 °C in a vented vessel. Hotter takes an autoclave rated for it, run by licensed practice.',
    });
  }
  if (way.perThicknessSPerM === null) {
    const fixed = way.fixedS!;
    return success({
      way,
      time: {
        label,
        kind: 'time',
        valueSi: (fixed.low + fixed.high) / 2,
        lowSi: fixed.low,
        highSi: fixed.high,
        formula: 'time of the way, whatever the film',
        inputs,
        source: way.source,
      },
      notes,
      checks,
    });
  }
  const { warm, cold } = way.perThicknessSPerM;
  const share = Math.min(1, Math.max(0, (high - temperatureK) / (high - low)));
  const perM = warm + (cold - warm) * share;
  const atLeast = (seconds: number): number => Math.max(way.leastS, seconds);
  return success({
    way,
    time: {
      label,
      kind: 'time',
      valueSi: atLeast(perM * thicknessM),
      lowSi: atLeast(warm * thicknessM),
      highSi: atLeast(cold * thicknessM),
      formula: 't = s(T) · d, at least the least of the way',
      inputs,
      source: way.source,
    },
    notes,
    checks,
  });
}
