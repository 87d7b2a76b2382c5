import { DRAG_OUT_M3_PER_M2 } from '../reference/bath-limits.ts';
import { failure, success, type Result } from '../result.ts';
import type { BathEntry } from './bath-history.ts';
import { ACID_PER_ALUMINIUM, dissolvedPerCoulombKg } from './bath-life.ts';

export interface BathState {
  readonly volumeM3: number;
  readonly freeAcidKgPerM3: number;
  /** null until it was measured, where the bath was entered without it. */
  readonly aluminiumKgPerM3: number | null;
  /** Since it was made. */
  readonly chargeC: number;
  readonly runs: number;
  /** Charge since the last titration: how far the numbers have been reckoned rather than measured. */
  readonly reckonedChargeC: number;
  readonly lastTitratedAt: string | null;
}

const FILM_KG_PER_M3 = 2400;

/**
 * Where a bath stands, from its history: made, used, titrated, added to, drawn off. A titration replaces what was
 * reckoned. Entries may come in any order. Fails with `bath-not-made` when there is no entry for the making.
 */
export function bathState(entries: readonly BathEntry[]): Result<BathState> {
  const ordered = [...entries].sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0));
  const first = ordered.findLastIndex((entry) => entry.kind === 'made');
  const made = ordered[first];
  if (made?.kind !== 'made') {
    return failure(
      'bath-not-made',
      'This bath’s history has no entry for when it was made.',
      'Enter when it was made up, with its volume and strength.',
    );
  }
  let volumeM3 = made.volumeM3;
  let acidKg = made.freeAcidKgPerM3 * volumeM3;
  let aluminiumKg = made.aluminiumKgPerM3 === null ? null : made.aluminiumKgPerM3 * volumeM3;
  let chargeC = 0;
  let runs = 0;
  let reckonedChargeC = 0;
  let lastTitratedAt: string | null = null;
  for (const entry of ordered.slice(first + 1)) {
    switch (entry.kind) {
      case 'run': {
        const dissolvedKg =
          entry.chargeC * dissolvedPerCoulombKg(entry.chargePerVolumeCPerM3, FILM_KG_PER_M3);
        const carriedM3 = Math.min(volumeM3, entry.areaM2 * DRAG_OUT_M3_PER_M2.usual);
        const kept = 1 - carriedM3 / volumeM3;
        if (aluminiumKg !== null) aluminiumKg = (aluminiumKg + dissolvedKg) * kept;
        acidKg = Math.max(0, acidKg - dissolvedKg * ACID_PER_ALUMINIUM) * kept;
        volumeM3 -= carriedM3;
        chargeC += entry.chargeC;
        reckonedChargeC += entry.chargeC;
        runs += 1;
        break;
      }
      case 'titrated':
        acidKg = entry.freeAcidKgPerM3 * volumeM3;
        if (entry.aluminiumKgPerM3 !== null) aluminiumKg = entry.aluminiumKgPerM3 * volumeM3;
        reckonedChargeC = 0;
        lastTitratedAt = entry.at;
        break;
      case 'added':
        acidKg += entry.acidKg;
        volumeM3 = entry.volumeAfterM3;
        break;
      case 'drawn off': {
        if (entry.volumeM3 >= volumeM3) {
          return failure(
            'bath-overdrawn',
            'More was drawn off this bath than it held.',
            'Correct the volume drawn off, or enter the bath as made anew.',
          );
        }
        const kept = 1 - entry.volumeM3 / volumeM3;
        acidKg *= kept;
        if (aluminiumKg !== null) aluminiumKg *= kept;
        volumeM3 -= entry.volumeM3;
        break;
      }
      case 'made':
        break;
    }
  }
  return success({
    volumeM3,
    freeAcidKgPerM3: acidKg / volumeM3,
    aluminiumKgPerM3: aluminiumKg === null ? null : aluminiumKg / volumeM3,
    chargeC,
    runs,
    reckonedChargeC,
    lastTitratedAt,
  });
}
