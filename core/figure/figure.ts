import type { QuantityKind } from '../units/unit-table.ts';

/** Where a number comes from. `standing` says how far it can be trusted. */
export interface Source {
  readonly standing:
    | 'definition'
    | 'published'
    | 'common practice'
    | 'from memory'
    | 'your entry'
    | 'your own runs'
    | 'measured on the model';
  /** Author, title, edition, clause or row; empty only for an entry of the user's own. */
  readonly text: string;
}

export interface FigureInput {
  readonly symbol: string;
  readonly label: string;
  readonly kind: QuantityKind;
  readonly valueSi: number;
  /** Unit symbol to print it in, where the kind's preferred one would read badly (film thickness: µm). */
  readonly unit?: string;
  /** Significant digits to print, where the usual few would hide what matters (a fit: its micrometres). */
  readonly digits?: number;
}

/**
 * A calculated result that can show its working: value in SI, range where one is known, the formula in symbols, the
 * numbers that went in, and the source. The window, the printed sheet and the terminal all show this same record.
 */
export interface Figure {
  readonly label: string;
  readonly kind: QuantityKind;
  readonly valueSi: number;
  readonly lowSi?: number;
  readonly highSi?: number;
  readonly unit?: string;
  readonly digits?: number;
  readonly formula: string;
  readonly inputs: readonly FigureInput[];
  readonly source: Source;
  /** What the figure rests on that has not been confirmed (a guessed unit); shown wherever the figure is. */
  readonly unconfirmed?: string;
}
