import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { SULFURIC_DENSITY_SOURCE } from '../reference/sulfuric-density.ts';
import { waterDensityKgPerM3 } from '../reference/water-density.ts';
import { failure, success, type Result } from '../result.ts';
import { acidStrength, type AcidStatement } from './acid-strength.ts';
import { amountFigures, MIXING_REFERENCE_K } from './mix-bath.ts';

export interface TopUpRequest {
  /** Now in the tank, at 20 °C. */
  readonly volumeM3: number;
  readonly bath: AcidStatement;
  readonly wantedVolumeM3: number;
  readonly wanted: AcidStatement;
  /** The acid on the shelf. */
  readonly acid: AcidStatement;
}

export interface TopUp {
  /** Bath to draw off first; zero where adding is enough. */
  readonly drawOff: Figure;
  readonly acidMass: Figure;
  readonly acidVolume: Figure;
  readonly waterMass: Figure;
  readonly waterVolume: Figure;
  /** Of the bath in the end: the strength wanted, at 20 °C. */
  readonly finalConcentration: Figure;
  /** H₂SO₄ in the acid that goes in. */
  readonly pureAcidKg: number;
}

/**
 * What to add to a bath (and, if need be, draw off first) to bring it to a volume and strength: the balance of mass and
 * of acid, with the least drawn off. Dilution and strengthening are the same balance. Dissolved metal is not counted.
 * Fails with `no-volume`, `acid-too-weak` and the failures of `acidStrength`.
 */
export function topUp(request: TopUpRequest): Result<TopUp> {
  if (!(request.volumeM3 >= 0 && request.wantedVolumeM3 > 0)) {
    return failure(
      'no-volume',
      'The bath has no volume.',
      'Type the litres in the tank and the litres you want.',
    );
  }
  const now = acidStrength(request.bath, MIXING_REFERENCE_K);
  if (!now.ok) return now;
  const wanted = acidStrength(request.wanted, MIXING_REFERENCE_K);
  if (!wanted.ok) return wanted;
  const acid = acidStrength(request.acid, MIXING_REFERENCE_K);
  if (!acid.ok) return acid;
  const water = waterDensityKgPerM3(MIXING_REFERENCE_K);
  if (!water.ok) return water;
  if (acid.value.massFraction <= wanted.value.massFraction) {
    return failure(
      'acid-too-weak',
      'The acid on the shelf is no stronger than the bath should be.',
      'Use a stronger acid.',
    );
  }
  const endKg = wanted.value.densityKgPerM3 * request.wantedVolumeM3;
  const nowKg = now.value.densityKgPerM3 * request.volumeM3;
  const keptKg = Math.min(
    nowKg,
    mostKeptKg(endKg, wanted.value.massFraction, now.value.massFraction, acid.value.massFraction),
  );
  const acidKg = Math.max(
    0,
    (endKg * wanted.value.massFraction - keptKg * now.value.massFraction) / acid.value.massFraction,
  );
  const waterKg = Math.max(0, endKg - keptKg - acidKg);
  const kept = figureInput('m_k', 'bath kept', 'mass', keptKg, 'kg');
  const end = figureInput('m', 'bath in the end', 'mass', endKg, 'kg');
  const inputs = [
    end,
    kept,
    figureInput('w', 'strength wanted', 'fraction', wanted.value.massFraction),
    figureInput('w_b', 'strength of the bath', 'fraction', now.value.massFraction),
    figureInput('w₀', 'strength of the acid', 'fraction', acid.value.massFraction),
  ];
  return success({
    drawOff: {
      label: 'Bath to draw off first',
      kind: 'volume',
      valueSi: Math.max(0, nowKg - keptKg) / now.value.densityKgPerM3,
      formula: 'least V_out for which neither acid nor water would have to be taken out again',
      inputs: [...inputs, figureInput('V_b', 'bath now', 'volume', request.volumeM3)],
      source: SULFURIC_DENSITY_SOURCE,
    },
    ...amountFigures({
      acidKg,
      waterKg,
      acidDensityKgPerM3: acid.value.densityKgPerM3,
      waterDensityKgPerM3: water.value,
      massFormula: 'm_a = (m · w − m_k · w_b) / w₀',
      massInputs: inputs,
    }),
    finalConcentration: {
      label: 'Acid in the bath then',
      kind: 'massConcentration',
      unit: 'g/L',
      valueSi: (keptKg * now.value.massFraction + acidKg * acid.value.massFraction) / request.wantedVolumeM3,
      formula: 'c = (m_k · w_b + m_a · w₀) / V',
      inputs: [
        ...inputs,
        figureInput('m_a', 'acid', 'mass', acidKg, 'kg'),
        figureInput('V', 'volume wanted', 'volume', request.wantedVolumeM3),
      ],
      source: SULFURIC_DENSITY_SOURCE,
    },
    pureAcidKg: acidKg * acid.value.massFraction,
  });
}

/** The most of the old bath that can stay: what is added must be something between water and the acid on the shelf. */
function mostKeptKg(endKg: number, wanted: number, now: number, acid: number): number {
  if (now > wanted) return (endKg * wanted) / now;
  return (endKg * (acid - wanted)) / (acid - now);
}
