import { parseQuantity } from '../units/parse-quantity.ts';
import { failure, success, type Result } from '../result.ts';
import { mixBath, type BathMix } from './mix-bath.ts';
import { mixParts, type PartsMix } from './mix-parts.ts';
import { parseAcid } from './parse-acid.ts';

/** What the terminal prints; units in the names. */
export interface MixReport {
  readonly acidL: number;
  readonly waterL: number;
  readonly acidKg: number;
  readonly waterKg: number;
  readonly finalGPerL: number;
  readonly finalWtPercent: number;
  readonly mixingRiseK: number;
}

/** As typed: the acid, and either a target with a volume or parts "1:3" with or without one. */
export interface MixTexts {
  readonly acid: string;
  readonly target?: string;
  readonly parts?: string;
  readonly volume?: string;
}

const PARTS = /^(\d+(?:[.,]\d+)?)\s*[:+/]\s*(\d+(?:[.,]\d+)?)$/;

/**
 * A mix from typed text. Fails with `mix-input` (both or neither of target and parts, a target without a volume), `parts-not-read` and
 * the failures of parseAcid, parseQuantity, mixBath and mixParts.
 */
export function mixFromTexts(texts: MixTexts): Result<BathMix | PartsMix> {
  const acid = parseAcid(texts.acid);
  if (!acid.ok) return acid;
  if ((texts.target === undefined) === (texts.parts === undefined)) {
    return failure(
      'mix-input',
      'A mix is either to a target or in parts.',
      'Give a target with a volume (180 g/L, 12 L), or parts such as 1:3.',
    );
  }
  const volume = texts.volume === undefined ? undefined : parseQuantity('volume', texts.volume);
  if (volume && !volume.ok) return volume;
  if (texts.parts !== undefined) {
    const parts = PARTS.exec(texts.parts.trim());
    if (!parts) {
      return failure(
        'parts-not-read',
        `“${texts.parts}” is not a recipe in parts.`,
        'Type acid first, then water: 1:3.',
      );
    }
    const number = (text: string): number => Number(text.replace(',', '.'));
    return mixParts(acid.value, number(parts[1]!), number(parts[2]!), volume?.value);
  }
  const target = parseAcid(texts.target!);
  if (!target.ok) return target;
  if (!volume) {
    return failure(
      'mix-input',
      'A target needs the volume of the finished bath.',
      'Give the volume, such as 12 L.',
    );
  }
  return mixBath({ acid: acid.value, target: target.value, volumeM3: volume.value });
}

/** The same in the terminal's units, rounded to what a scale and a jug can tell (0.1 mL, 0.1 g). */
export function mixReport(texts: MixTexts): Result<MixReport> {
  const mix = mixFromTexts(texts);
  if (!mix.ok) return mix;
  const round = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(6));
  const m = mix.value;
  return success({
    acidL: round(m.acidVolume.valueSi * 1000, 1e-4),
    waterL: round(m.waterVolume.valueSi * 1000, 1e-4),
    acidKg: round(m.acidMass.valueSi, 1e-4),
    waterKg: round(m.waterMass.valueSi, 1e-4),
    finalGPerL: round(m.finalConcentration.valueSi, 0.01),
    finalWtPercent: round(m.finalStrength.valueSi * 100, 1e-3),
    mixingRiseK: round(m.rise.valueSi, 0.01),
  });
}
