import { useEffect, useRef } from 'react';
import UPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { axisNumbers } from './axis-numbers.ts';

export interface ChartLine {
  readonly label: string;
  readonly values: readonly (number | null)[];
  readonly dashed?: boolean;
  /** Marks instead of a line. */
  readonly points?: boolean;
}

interface LineChartProps {
  /** What it shows, with its ends: the picture in words. */
  readonly label: string;
  readonly x: { readonly label: string; readonly values: readonly number[] };
  readonly unit: string;
  readonly lines: readonly ChartLine[];
}

const HEIGHT_PX = 190;
const TOKENS = ['--accent', '--check', '--note', '--stop'];

/** A small chart in the colours of the theme. Everything it says also stands in words beside it. */
export function LineChart({ label, x, unit, lines }: LineChartProps) {
  const frame = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const host = frame.current;
    if (!host) return;
    const draw = (): UPlot => {
      const style = getComputedStyle(host);
      const colour = (token: string): string => style.getPropertyValue(token).trim();
      const axis = {
        stroke: colour('--ink-soft'),
        grid: { stroke: colour('--line'), width: 1 },
        ticks: { stroke: colour('--line'), width: 1 },
        font: '14px system-ui, sans-serif',
        values: (_: UPlot, ticks: number[], _axis: number, _space: number, step: number) =>
          axisNumbers(ticks, step),
      };
      return new UPlot(
        {
          width: Math.max(200, host.clientWidth),
          height: HEIGHT_PX,
          legend: { show: false },
          cursor: { drag: { x: false, y: false } },
          scales: { x: { time: false } },
          series: [
            {},
            ...lines.map((line, index) => ({
              stroke: colour(TOKENS[index % TOKENS.length]!),
              width: line.points ? 0 : 2,
              ...(line.dashed ? { dash: [6, 5] } : {}),
              points: { show: line.points === true, size: 9 },
            })),
          ],
          axes: [
            { ...axis, size: 34 },
            { ...axis, size: 44 },
          ],
        },
        [[...x.values], ...lines.map(({ values }) => [...values])],
        host,
      );
    };
    let plot = draw();
    const again = (): void => {
      plot.destroy();
      plot = draw();
    };
    const themes = new MutationObserver(again);
    themes.observe(document.documentElement, { attributes: true });
    let width = host.clientWidth;
    const sizes = new ResizeObserver(() => {
      if (host.clientWidth === width) return;
      width = host.clientWidth;
      plot.setSize({ width: Math.max(200, width), height: HEIGHT_PX });
    });
    sizes.observe(host);
    return () => {
      themes.disconnect();
      sizes.disconnect();
      plot.destroy();
    };
  }, [x, lines]);
  return (
    <figure className="plot" role="img" aria-label={label}>
      <div ref={frame} />
      <ul className="plot-legend">
        {lines.map((line, index) => (
          <li key={line.label}>
            <span
              className={`plot-mark ${line.points ? 'points' : line.dashed ? 'dashed' : ''}`}
              style={{ color: `var(${TOKENS[index % TOKENS.length]})` }}
            />
            {line.label}
          </li>
        ))}
        <li className="soft">
          {unit} over {x.label}
        </li>
      </ul>
    </figure>
  );
}
