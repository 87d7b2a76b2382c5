import { parseQuantity } from '../units/parse-quantity.ts';
import { failure, success, type Result } from '../result.ts';
import { mixBath, type BathMix } from './mix-bath.ts';
import { mixParts, type PartsMix } from './mix-parts.ts';
import type { Figure } from '../figure/figure.ts';
import { parseAcid } from './parse-acid.ts';
import { parseParts } from './parse-parts.ts';

/** What the terminal prints; units in the names. */
export interface MixReport {
  readonly acidL: number;
  readonly waterL: number;
  readonly acidKg: number;
  readonly waterKg: number;
  readonly finalGPerL: number;
  readonly finalWtPercent: number;
  readonly mixingRiseK: number;
  /** Water to one part of acid, by volume. */
  readonly waterPerAcid: number;
  /** In this order, each cooled back to 20 °C; the temperature it may reach. */
  readonly pours: readonly { readonly acidKg: number; readonly reachesC: number }[];
}

/** As typed: the acid, and a target with a volume or the acid at hand, or parts "1:3" with or without a volume. */
export interface MixTexts {
  readonly acid: string;
  readonly target?: string;
  readonly parts?: string;
  /** Of the finished bath. */
  readonly volume?: string;
  /** All the acid there is, in place of the finished volume. */
  readonly acidVolume?: string;
}

/**
 * A mix from typed text. Fails with `mix-input` (both or neither of target and parts, both volumes, a target without one),
 * `no-volume`, and as parseAcid, parseParts, parseQuantity, mixBath and mixParts do.
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
  if (texts.volume !== undefined && texts.acidVolume !== undefined) {
    return failure(
      'mix-input',
      'Both the finished volume and the acid at hand are given.',
      'Give one of them; the other follows.',
    );
  }
  const volume = readVolume(texts.volume);
  if (volume && !volume.ok) return volume;
  const acidVolume = readVolume(texts.acidVolume);
  if (acidVolume && !acidVolume.ok) return acidVolume;
  if (texts.parts !== undefined) {
    const parts = parseParts(texts.parts);
    if (!parts.ok) return parts;
    const mix = (finishedM3?: number) =>
      mixParts(acid.value, parts.value.acid, parts.value.water, finishedM3);
    return acidVolume ? toUseUp(acidVolume.value, mix) : mix(volume?.value);
  }
  const target = parseAcid(texts.target!);
  if (!target.ok) return target;
  const mix = (volumeM3: number) => mixBath({ acid: acid.value, target: target.value, volumeM3 });
  if (acidVolume) return toUseUp(acidVolume.value, mix);
  if (!volume) {
    return failure(
      'mix-input',
      'A target needs the volume of the finished bath, or of the acid there is.',
      'Give the volume, such as 12 L.',
    );
  }
  return mix(volume.value);
}

function readVolume(text: string | undefined): Result<number> | undefined {
  const read = text === undefined ? undefined : parseQuantity('volume', text);
  if (!read?.ok || read.value > 0) return read;
  return failure('no-volume', `“${text}” is no volume to mix.`, 'Give one above zero, such as 12 L.');
}

/** Of the finished bath at 20 °C: its mass over its density, c/w. */
export function finishedVolumeM3({
  acidMass,
  waterMass,
  finalConcentration,
  finalStrength,
}: BathMix | PartsMix): number {
  return ((acidMass.valueSi + waterMass.valueSi) * finalStrength.valueSi) / finalConcentration.valueSi;
}

/** The mix that takes just this much acid: all amounts grow alike. */
function toUseUp<Mix extends { readonly acidVolume: Figure }>(
  acidM3: number,
  mix: (finishedM3: number) => Result<Mix>,
): Result<Mix> {
  const one = mix(1e-3);
  return one.ok ? mix((1e-3 * acidM3) / one.value.acidVolume.valueSi) : one;
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
    waterPerAcid: round(m.waterParts.valueSi, 1e-4),
    pours: m.steps.map(({ acidKg, temperatureK }) => ({
      acidKg: round(acidKg, 1e-4),
      reachesC: round(temperatureK - 273.15, 0.1),
    })),
  });
}
