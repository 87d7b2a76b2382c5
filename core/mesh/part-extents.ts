import type { ModelUnit } from '../job/job.ts';
import { unitBySymbol } from '../units/find-unit.ts';
import { formatNumber } from '../units/format-quantity.ts';

export interface Extents {
  readonly sizeM: readonly [number, number, number];
  /** "200 × 44 × 12 mm" */
  readonly metric: string;
  /** "7.87 × 1.73 × 0.472 in" */
  readonly us: string;
}

export function metresPerUnit(unit: ModelUnit): number {
  return unitBySymbol('length', unit).toSi;
}

/** Outer size of a part if one unit of its file were `unit`. */
export function partExtents(
  box: { readonly min: readonly [number, number, number]; readonly max: readonly [number, number, number] },
  unit: ModelUnit,
): Extents {
  const scale = metresPerUnit(unit);
  const sizeM: [number, number, number] = [
    (box.max[0] - box.min[0]) * scale,
    (box.max[1] - box.min[1]) * scale,
    (box.max[2] - box.min[2]) * scale,
  ];
  const line = (symbol: string): string => {
    const toSi = unitBySymbol('length', symbol).toSi;
    return `${sizeM.map((size) => formatNumber(size / toSi, 3)).join(' × ')} ${symbol}`;
  };
  const large = Math.max(...sizeM) >= 10;
  return { sizeM, metric: line(large ? 'm' : 'mm'), us: line(large ? 'ft' : 'in') };
}
