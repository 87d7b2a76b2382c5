import type { Figure, Source } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import { GROWTH_RATIO, type CoatingType } from '../reference/growth-ratio.ts';

/** Growth of one surface, m, with its range. */
export interface BuildUp {
  readonly usualM: number;
  readonly lowM: number;
  readonly highM: number;
  readonly source: Source;
}

/** Build-up typed or measured by the user, taken as exact. Throws RangeError for a negative one. */
export function typedBuildUp(buildUpM: number): BuildUp {
  if (!(buildUpM >= 0)) throw new RangeError(`typedBuildUp: buildUpM is ${buildUpM}`);
  const source: Source = { standing: 'your entry', text: 'build-up typed by you' };
  return { usualM: buildUpM, lowM: buildUpM, highM: buildUpM, source };
}

/**
 * Build-up of a film by type of coating; `ownRatio` (0-1, build-up over thickness, from the shop's own measurements)
 * replaces the published one.
 */
export function buildUp(type: CoatingType, thicknessM: number, ownRatio?: number): BuildUp {
  if (!(thicknessM >= 0)) throw new RangeError(`buildUp: thicknessM is ${thicknessM}`);
  if (ownRatio !== undefined) {
    if (!(ownRatio >= 0 && ownRatio <= 1)) throw new RangeError(`buildUp: ownRatio is ${ownRatio}`);
    const b = thicknessM * ownRatio;
    return { usualM: b, lowM: b, highM: b, source: { standing: 'your own runs', text: 'measured by you' } };
  }
  const ratio = GROWTH_RATIO[type];
  return {
    usualM: thicknessM * ratio.usual,
    lowM: thicknessM * ratio.low,
    highM: thicknessM * ratio.high,
    source: ratio.source,
  };
}

/** The build-up as a figure, with what goes into the metal beside it. */
export function buildUpFigures(
  thicknessM: number,
  growth: BuildUp,
): { readonly out: Figure; readonly into: Figure } {
  const d = figureInput('d', 'film', 'length', thicknessM, 'µm');
  return {
    out: {
      label: 'Build-up on each surface',
      kind: 'length',
      unit: 'µm',
      valueSi: growth.usualM,
      lowSi: growth.lowM,
      highSi: growth.highM,
      formula: 'b = r · d, r the share that stands out',
      inputs: [d],
      source: growth.source,
    },
    into: {
      label: 'Metal turned into film',
      kind: 'length',
      unit: 'µm',
      valueSi: thicknessM - growth.usualM,
      lowSi: thicknessM - growth.highM,
      highSi: thicknessM - growth.lowM,
      formula: 'p = d − b',
      inputs: [d, figureInput('b', 'build-up', 'length', growth.usualM, 'µm')],
      source: growth.source,
    },
  };
}
