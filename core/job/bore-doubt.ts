import type { FaceThickness } from '../field/thickness-map.ts';
import type { BoreReading } from './field-reading.ts';

/** Less than this of its own thickness is lost in what else is not known. */
const WORTH_SAYING = 0.1;

export interface BoreDoubt {
  readonly faceIds: readonly string[];
  /** Thinnest place by the map, and what the film's law, as far as it is known, may make of it. */
  readonly leastM: number;
  readonly lowM: number;
  readonly highM: number;
}

/**
 * The hole whose thinnest place hangs most on the film's law, which a map's own range, the difference to a coarser grid, does not hold:
 * the map's thickness there, by the range that the law gives the quick estimate (bore-depth.ts). Null where no hole is deep enough.
 */
export function boreDoubt(
  bores: readonly BoreReading[],
  faces: readonly Pick<FaceThickness, 'face' | 'leastM'>[],
): BoreDoubt | null {
  let worst: (BoreDoubt & { readonly spread: number }) | null = null;
  for (const { bore, estimate, bare } of bores) {
    const inside = faces.filter(({ face }) => bore.rows.includes(face)).map(({ leastM }) => leastM);
    const { valueSi, lowSi, highSi } = estimate.thinnestShare;
    if (bare || inside.length === 0 || lowSi === undefined || highSi === undefined) continue;
    const spread = (highSi - lowSi) / valueSi;
    if (spread < WORTH_SAYING || (worst && spread <= worst.spread)) continue;
    const leastM = Math.min(...inside);
    const { faceIds } = bore;
    worst = { faceIds, leastM, lowM: (leastM * lowSi) / valueSi, highM: (leastM * highSi) / valueSi, spread };
  }
  if (!worst) return null;
  const { spread: _, ...doubt } = worst;
  return doubt;
}
