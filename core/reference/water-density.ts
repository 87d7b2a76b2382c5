import type { Source } from '../figure/figure.ts';
import { failure, success, type Result } from '../result.ts';

export const WATER_DENSITY_SOURCE: Source = {
  standing: 'published',
  text: 'density of water, G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, air-free water at 101.325 kPa',
};

/**
 * Density of pure water, kg/m³, 0-50 °C, uncertainty 0.01 kg/m³ there. Fails with `outside-table`.
 * Coefficients of Kell's equation as printed.
 */
export function waterDensityKgPerM3(temperatureK: number): Result<number> {
  const t = temperatureK - 273.15;
  if (!(t >= 0 && t <= 50)) {
    return failure(
      'outside-table',
      `The density of water is tabulated from 0 to 50 °C, and ${t.toFixed(1)} °C is outside it.`,
      'Let the liquid come between 0 and 50 °C before measuring it.',
    );
  }
  const numerator =
    999.83952 +
    t * (16.945176 + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 + t * -280.54253e-12))));
  return success(numerator / (1 + 16.87985e-3 * t));
}
