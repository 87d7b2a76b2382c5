import type { SceneField } from '../../core/field/solve-scene.ts';
import type { SurfaceDensity } from '../../core/field/surface-density.ts';
import type { ThicknessMap } from '../../core/field/thickness-map.ts';
import { toUnit, unitBySymbol } from '../../core/units/find-unit.ts';
import type { ViewportScalar } from '../viewport/viewport-props.ts';

/** No map is surer than this: a part more even than that is shown in one colour rather than its rounding in all of them. */
const EVEN_SHARE = 0.01;

export interface ScaleRange {
  readonly low: number;
  readonly high: number;
}

/** One scale for all maps: from the thinnest to the thickest place of any of them. Metres. */
export function scaleRange(maps: readonly Pick<ThicknessMap, 'leastM' | 'mostM' | 'meanM'>[]): ScaleRange {
  if (maps.length === 0) throw new RangeError('scaleRange: maps is empty');
  const low = Math.min(...maps.map(({ leastM, meanM }) => Math.min(leastM, (1 - EVEN_SHARE) * meanM)));
  const high = Math.max(...maps.map(({ mostM, meanM }) => Math.max(mostM, (1 + EVEN_SHARE) * meanM)));
  return { low, high };
}

const MARK_DIGITS = [3, 4] as const;

/**
 * The marks of a scale, lowest first, all with the decimals of the same place: as many as they need to look evenly apart, and no more than a
 * map can tell.
 */
export function markTexts(marks: readonly number[], unit: 'µm' | 'mil'): string[] {
  const symbol = unitBySymbol('length', unit);
  const values = marks.map((valueM) => toUnit(valueM, symbol));
  const whole = Math.floor(Math.log10(Math.max(...values))) + 1;
  const texts = MARK_DIGITS.map((digits) =>
    values.map((value) => value.toFixed(Math.max(0, digits - whole))),
  );
  const step = (Math.max(...values) - Math.min(...values)) / (values.length - 1);
  const isEven = (all: readonly string[]): boolean =>
    all.every((text, i) => Math.abs(Number(text) - values[i]!) <= step / 4);
  return texts.find(isEven) ?? texts.at(-1)!;
}

/** Thickness per piece for the view; −1 where there is none. */
export function thicknessScalar(
  positions: Float32Array,
  { triangleAPerM2, conductingM2 }: Pick<SurfaceDensity, 'triangleAPerM2'> & Partial<SurfaceDensity>,
  perDensityM: number,
  { low, high }: ScaleRange,
  limitM?: number,
): ViewportScalar {
  const values = Float32Array.from(triangleAPerM2, (j, piece) =>
    (conductingM2 ? conductingM2[piece]! > 0 : j > 0) ? j * perDensityM : -1,
  );
  return { positions, values, low, high, ...(limitM === undefined ? {} : { limit: limitM }) };
}

/** The piece of a triangle of the part that is nearest to a point on it, or undefined where the part has no such one. */
export function pieceAt(
  { positions, source }: Pick<SceneField, 'positions' | 'source'>,
  triangle: number,
  point: readonly [number, number, number],
): number | undefined {
  let low = 0;
  let high = source.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (source[middle]! < triangle) low = middle + 1;
    else high = middle;
  }
  let best: number | undefined;
  let nearest = Infinity;
  for (let piece = low; piece < source.length && source[piece] === triangle; piece++) {
    const o = 9 * piece;
    let squared = 0;
    for (let n = 0; n < 3; n++) {
      const middle = (positions[o + n]! + positions[o + 3 + n]! + positions[o + 6 + n]!) / 3;
      squared += (middle - point[n]!) ** 2;
    }
    if (squared < nearest) {
      nearest = squared;
      best = piece;
    }
  }
  return best;
}
