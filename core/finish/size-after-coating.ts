import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { failure, success, type Result } from '../result.ts';
import type { BuildUp } from './build-up.ts';
import {
  coatedWindow,
  growthFactor,
  type CoatedWindow,
  type FitAdvice,
  type Measured,
  type Window,
} from './coated-window.ts';

export interface TypedSize {
  readonly label: string;
  readonly measured: Measured;
  /** Limits by the drawing; equal for a size without tolerance. */
  readonly limits: Window;
  readonly coatedFaces: 0 | 1 | 2;
  /** Of a step with one coated face: whether it is the upper one. */
  readonly coatedUpper: boolean;
}

export interface SizeAfterCoating {
  readonly window: CoatedWindow;
  /** Null for a size without tolerance: there is nothing to keep. */
  readonly advice: FitAdvice | null;
  readonly change: Figure;
  readonly before: Figure;
  readonly after: Figure;
  readonly machineTo: Figure | null;
}

const DIGITS = 6;

/**
 * What a coating does to a typed size: hole, shaft, length between outer or inner faces, step.
 * Fails with `size-limits` when they are not positive or not in order.
 */
export function sizeAfterCoating(size: TypedSize, growth: BuildUp): Result<SizeAfterCoating> {
  const { lowM, highM } = size.limits;
  if (!(lowM > 0 && highM >= lowM)) {
    return failure(
      'size-limits',
      'The limits of a size are positive, the low one first.',
      'Type the smallest and the largest size the drawing allows.',
    );
  }
  const factor = growthFactor(size.measured, size.coatedFaces, size.coatedUpper);
  const window = coatedWindow(size.limits, factor, growth);
  const toleranced = highM > lowM;
  const inputs = [
    figureInput('b', 'build-up on each surface', 'length', growth.usualM, 'µm'),
    figureInput('f', 'change for each unit of build-up', 'count', factor, '', 3),
  ];
  const shown = (what: string, low: number, high: number, formula: string): Figure => ({
    label: `${size.label} ${what}`,
    kind: 'length',
    digits: DIGITS,
    valueSi: (low + high) / 2,
    lowSi: low,
    highSi: high,
    formula,
    inputs,
    source: growth.source,
  });
  const ends = [factor * growth.lowM, factor * growth.highM];
  const least = Math.min(...ends);
  const most = Math.max(...ends);
  return success({
    window,
    advice: toleranced ? window.advice : null,
    change: {
      label: `${size.label}: change by coating`,
      kind: 'length',
      unit: 'µm',
      valueSi: window.changeM,
      lowSi: least,
      highSi: most,
      formula: 'ΔD = f · b',
      inputs,
      source: growth.source,
    },
    before: shown('by the drawing', lowM, highM, 'limits as typed'),
    after: shown('after coating', lowM + least, highM + most, 'D + f · b, over the whole range of b'),
    machineTo:
      toleranced && window.machineTo
        ? shown(
            'to machine to',
            window.machineTo.lowM,
            window.machineTo.highM,
            'D − f · b, over the whole range of b',
          )
        : null,
  });
}
