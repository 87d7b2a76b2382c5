import type { Figure } from '../figure/figure.ts';
import { figureInput } from '../figure/figure-input.ts';
import type { BuildUp } from './build-up.ts';

/** A distance with its range, m. */
export interface Spread {
  readonly usualM: number;
  readonly lowM: number;
  readonly highM: number;
}

/** What happens to a surface, in order. */
export type SurfaceEvent =
  | { readonly kind: 'etch'; readonly removed: Spread }
  | { readonly kind: 'coat'; readonly filmM: number; readonly growth: BuildUp }
  /** The film comes off, and `over` of metal with it. */
  | { readonly kind: 'strip'; readonly over: Spread };

export interface SurfaceBudget {
  /** Where the metal ends, relative to the machined surface; negative is into the part. */
  readonly metal: Figure;
  /** Where the part ends: metal plus the film on it. */
  readonly surface: Figure;
  readonly filmM: number;
}

interface Level {
  usual: number;
  low: number;
  high: number;
}

/**
 * Where a surface stands after a life of etching, coating and stripping. Coating turns d − b of metal into film;
 * stripping leaves that behind for good. Throws RangeError when a coated surface is coated again without a strip.
 */
export function surfaceBudget(events: readonly SurfaceEvent[]): SurfaceBudget {
  const metal: Level = { usual: 0, low: 0, high: 0 };
  let filmM = 0;
  const take = (spread: Spread): void => {
    metal.usual -= spread.usualM;
    metal.low -= spread.highM;
    metal.high -= spread.lowM;
  };
  for (const event of events) {
    switch (event.kind) {
      case 'etch':
        if (filmM > 0) throw new RangeError('surfaceBudget: etch on a coated surface is a strip');
        take(event.removed);
        break;
      case 'coat':
        if (filmM > 0) throw new RangeError('surfaceBudget: coat on a coated surface');
        take({
          usualM: event.filmM - event.growth.usualM,
          lowM: event.filmM - event.growth.highM,
          highM: event.filmM - event.growth.lowM,
        });
        filmM = event.filmM;
        break;
      case 'strip':
        filmM = 0;
        take(event.over);
        break;
    }
  }
  const inputs = [figureInput('n', 'steps so far', 'count', events.length)];
  const source = { standing: 'common practice', text: 'sum of what each step takes and adds' } as const;
  return {
    metal: {
      label: 'Metal gone from each surface',
      kind: 'length',
      unit: 'µm',
      valueSi: -metal.usual,
      lowSi: -metal.high,
      highSi: -metal.low,
      formula: 'x = Σ etched + Σ (d − b) + Σ over-stripped',
      inputs,
      source,
    },
    surface: {
      label: 'Surface against the machined one',
      kind: 'length',
      unit: 'µm',
      valueSi: metal.usual + filmM,
      lowSi: metal.low + filmM,
      highSi: metal.high + filmM,
      formula: 's = d − x',
      inputs: [...inputs, figureInput('d', 'film now on it', 'length', filmM, 'µm')],
      source,
    },
    filmM,
  };
}
