import type { PrintedFigure } from '../../core/figure/print-figure.ts';

/** Formula, numbers put in and source of a figure, a line each, indented below its value. */
export function workingLines({ formula, inputs, source }: PrintedFigure): string[] {
  return [
    `      ${formula}`,
    ...inputs.map(({ symbol, text, label }) => `        ${symbol} = ${text}  ${label}`),
    `      source: ${source}`,
  ];
}
