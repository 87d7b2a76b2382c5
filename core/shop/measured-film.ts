import { POROUS_FILM_DENSITY_KG_PER_M3 } from '../electrical/faraday.ts';
import type { Figure } from '../figure/figure.ts';
import type { RunRecord } from './run-record.ts';

/**
 * The film as it was measured: mean and spread of the eddy-current readings, or from what the part lost when its film was
 * stripped in phosphoric-chromic acid (ISO 2106: mass lost = density · area · thickness). null where nothing was measured or
 * the stripped part is not the lighter one.
 */
export function measuredFilm(record: Pick<RunRecord, 'measured' | 'plan'>): Figure | null {
  const { filmM, massLoss } = record.measured;
  if (filmM.length > 0) {
    const mean = filmM.reduce((sum, value) => sum + value, 0) / filmM.length;
    return {
      label: 'Measured film',
      kind: 'length',
      unit: 'µm',
      valueSi: mean,
      ...(filmM.length > 1 ? { lowSi: Math.min(...filmM), highSi: Math.max(...filmM) } : {}),
      formula: 'd = Σ dᵢ / n; range from the smallest to the largest reading',
      inputs: [{ symbol: 'n', label: 'readings', kind: 'count', valueSi: filmM.length }],
      source: { standing: 'your entry', text: 'eddy-current readings' },
    };
  }
  if (massLoss === null) return null;
  const lostKg = massLoss.coatedKg - massLoss.strippedKg;
  if (!(lostKg > 0)) return null;
  const { low, usual, high } = POROUS_FILM_DENSITY_KG_PER_M3;
  const { areaM2 } = record.plan;
  return {
    label: 'Measured film',
    kind: 'length',
    unit: 'µm',
    valueSi: lostKg / (usual * areaM2),
    lowSi: lostKg / (high * areaM2),
    highSi: lostKg / (low * areaM2),
    formula: 'd = (m_coated − m_stripped) / (ρ · A)',
    inputs: [
      {
        symbol: 'm_coated',
        label: 'mass with its film',
        kind: 'mass',
        valueSi: massLoss.coatedKg,
        unit: 'g',
      },
      {
        symbol: 'm_stripped',
        label: 'mass after stripping',
        kind: 'mass',
        valueSi: massLoss.strippedKg,
        unit: 'g',
      },
      {
        symbol: 'ρ',
        label: 'density of the film, pores included (2.2 to 2.7)',
        kind: 'density',
        valueSi: usual,
      },
      { symbol: 'A', label: 'coated area', kind: 'area', valueSi: areaM2 },
    ],
    source: {
      standing: 'published',
      text: 'ISO 2106, mass per area by dissolution; density of the film as a range',
    },
  };
}
