/** Numbers at a chart's ticks, alike in every language: with a point, and as many decimals as the step between them takes. */
export function axisNumbers(ticks: readonly number[], step: number): string[] {
  let decimals = 0;
  while (decimals < 9 && Math.abs(step * 10 ** decimals - Math.round(step * 10 ** decimals)) > 1e-6)
    decimals++;
  return ticks.map((tick) => tick.toFixed(decimals).replace(/^-(?=[0.]*$)/, ''));
}
