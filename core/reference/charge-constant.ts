import type { Source } from '../figure/figure.ts';
import { unitBySymbol } from '../units/find-unit.ts';

/**
 * Charge to grow a volume of porous sulfuric-acid oxide: the default, until the shop's own runs say better.
 * 720 A·min per square foot gives one mil of film; equals 1.8307 C/cm² per µm.
 * Valid for sulfuric acid, about 15-20 weight per cent, 18-22 °C, 0.6-4 A/dm², wrought 1xxx, 5xxx and 6xxx alloys; other
 * alloys and warm baths need more charge. Uncertainty in practice about ±10 %: the metric rule of thumb, 0.3 µm per
 * A·min/dm², is 787 A·min/ft²/mil.
 */
export const CHARGE_CONSTANT_DEFAULT = {
  chargePerVolumeCPerM3: 720 * unitBySymbol('chargePerVolume', 'A·min/ft²/mil').toSi,
  relativeUncertainty: 0.1,
  source: {
    standing: 'published',
    text: 'the 720 rule (720 A·min/ft² per mil), “How to Apply the 720 Rule to Current Density Anodizing”, trade journal',
  } satisfies Source,
} as const;
