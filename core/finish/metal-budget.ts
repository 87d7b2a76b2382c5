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
  /** `share`: film really made over `filmM`, where it is not all of it; `growth` is of that film. */
  | {
      readonly kind: 'coat';
      readonly filmM: number;
      readonly growth: BuildUp;
      readonly share?: { readonly usual: number; readonly low: number; readonly high: number };
    }
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
  const surface: Level = { usual: 0, low: 0, high: 0 };
  let filmM = 0;
  const bare = (): void => {
    filmM = 0;
    Object.assign(surface, metal);
  };
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
        bare();
        break;
      case 'coat': {
        if (filmM > 0) throw new RangeError('surfaceBudget: coat on a coated surface');
        const { growth, share = WHOLE } = event;
        surface.usual += growth.usualM;
        surface.low += growth.lowM;
        surface.high += growth.highM;
        take(turned(event.filmM, growth, share));
        filmM = event.filmM * share.usual;
        break;
      }
      case 'strip':
        take(event.over);
        bare();
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
      valueSi: surface.usual,
      lowSi: surface.low,
      highSi: surface.high,
      formula: 's = d − x',
      inputs: [...inputs, figureInput('d', 'film now on it', 'length', filmM, 'µm')],
      source,
    },
    filmM,
  };
}

const WHOLE = { usual: 1, low: 1, high: 1 } as const;

/** Metal that a film is made of: the least is the thinnest film that stands out most, the most the thickest that does least. */
function turned(filmM: number, growth: BuildUp, share: { usual: number; low: number; high: number }): Spread {
  return {
    usualM: filmM * share.usual - growth.usualM,
    lowM: share.high > 0 ? share.low * (filmM - growth.highM / share.high) : 0,
    highM: share.low > 0 ? share.high * (filmM - growth.lowM / share.low) : 0,
  };
}
