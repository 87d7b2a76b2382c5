import { useCallback, useEffect, useRef } from 'react';
import UPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { gapFinder } from '../../core/run/reading-gaps.ts';
import type { Readings } from '../../core/run/readings.ts';
import { thinTrace } from '../../core/run/thin-trace.ts';
import { toUnit, unitBySymbol } from '../../core/units/find-unit.ts';
import { ActionButton } from './action-button.tsx';
import { axisNumbers } from './axis-numbers.ts';
import { TraceWalk } from './trace-walk.tsx';

export interface Trace {
  readonly label: string;
  readonly readings: Readings;
}

interface TracePlotProps {
  /** The picture in words. */
  readonly label: string;
  /** The first is drawn solid, the second dashed. */
  readonly traces: readonly Trace[];
  /** Moments to mark, seconds. */
  readonly marks?: readonly { readonly atS: number; readonly alarm: boolean }[];
  /** The bath too, in what the reader's thermometer shows; null for none. */
  readonly temperatureIn?: TemperatureUnit | null;
  /** Without buttons, following the newest reading; a reading chosen by the keyboard stays chosen. */
  readonly live?: boolean;
}

type TemperatureUnit = '°C' | '°F';

const BUCKETS = 400;
const HEIGHT_PX = 320;

/** A live trace takes the room it is given; one with a legend and buttons below has its own height. */
const heightOf = (host: HTMLElement, live: boolean): number =>
  live ? Math.max(140, host.clientHeight) : HEIGHT_PX;
const COLOURS = { voltage: '--accent', current: '--check', temperature: '--note' } as const;

/** Columns of one trace between two moments, minutes, with a break where readings are missing. */
function columnsOf(
  readings: Readings,
  fromMin: number,
  toMin: number,
  temperatureIn: TemperatureUnit | null,
): UPlot.AlignedData {
  const { tS, voltageV, currentA, bathTemperatureK } = readings;
  const columns = [voltageV, currentA, ...(temperatureIn && bathTemperatureK ? [bathTemperatureK] : [])];
  const shown =
    tS.length > 0 ? thinTrace(tS, columns, fromMin * 60, toMin * 60, BUCKETS) : new Uint32Array(0);
  const isGap = gapFinder(readings);
  const thermometer = temperatureIn === null ? null : unitBySymbol('temperature', temperatureIn);
  const x: number[] = [];
  const volts: (number | null)[] = [];
  const amps: (number | null)[] = [];
  const warm: (number | null | undefined)[] = [];
  for (const [place, i] of shown.entries()) {
    // Thinning leaves out readings, so a gap is one between neighbours of the whole trace.
    if (place > 0 && i > 0 && shown[place - 1] === i - 1 && isGap(i)) {
      x.push((tS[i]! + tS[i - 1]!) / 120);
      volts.push(null);
      amps.push(null);
      warm.push(null);
    }
    x.push(tS[i]! / 60);
    volts.push(voltageV[i]!);
    amps.push(currentA[i]!);
    const kelvin = bathTemperatureK?.[i] ?? NaN;
    // undefined joins over what was not read, null breaks the line.
    warm.push(Number.isNaN(kelvin) || !thermometer ? undefined : toUnit(kelvin, thermometer));
  }
  return (temperatureIn ? [x, volts, amps, warm] : [x, volts, amps]) as UPlot.AlignedData;
}

function endMin(traces: readonly Trace[]): number {
  return Math.max(1 / 60, ...traces.map(({ readings }) => (readings.tS.at(-1) ?? 0) / 60));
}

function startMin(traces: readonly Trace[]): number {
  return Math.min(0, ...traces.map(({ readings }) => (readings.tS[0] ?? 0) / 60));
}

const numbers = (_: UPlot, ticks: number[], _axis: number, _space: number, step: number): string[] =>
  axisNumbers(ticks, step);

/** What the chart is told by its buttons and by the keyboard; `holdMin` brings a moment into what is shown. */
type Command = 'in' | 'out' | 'earlier' | 'later' | 'whole' | { readonly holdMin: number };

/**
 * Volts and amps over a run's time. Drag to zoom, Shift and drag to move, wheel to zoom, double click for the whole run; by the
 * keyboard from reading to reading, see trace-walk.tsx.
 */
export function TracePlot({ label, traces, marks = [], temperatureIn = null, live = false }: TracePlotProps) {
  const frame = useRef<HTMLDivElement>(null);
  const plot = useRef<UPlot | null>(null);
  const now = useRef({ traces, marks });
  const span = useRef<{ from: number; to: number } | null>(null);
  const shape = traces.length;

  useEffect(() => {
    now.current = { traces, marks };
    const drawn = plot.current;
    if (!drawn) return;
    const { from, to } = span.current ?? { from: startMin(traces), to: endMin(traces) };
    show(drawn, traces, from, to, temperatureIn);
  }, [traces, marks, temperatureIn]);

  useEffect(() => {
    const host = frame.current;
    if (!host) return;
    const draw = (): UPlot => {
      const style = getComputedStyle(host);
      const colour = (token: string): string => style.getPropertyValue(token).trim();
      const axis = (token: string, scale: string, title: string, right: boolean): UPlot.Axis => ({
        scale,
        label: title,
        labelSize: 22,
        labelFont: '600 14px system-ui, sans-serif',
        // A bath's ticks go to hundredths of a degree.
        size: scale === 'bath' ? 60 : 46,
        side: right ? 1 : 3,
        stroke: colour(token),
        font: '14px system-ui, sans-serif',
        grid: { show: !right, stroke: colour('--line'), width: 1 },
        ticks: { stroke: colour('--line'), width: 1 },
        values: numbers,
      });
      const digits = (value: number | null | undefined): string => (value == null ? '–' : value.toFixed(2));
      const of = (name: string): string => (now.current.traces.length > 1 ? `, ${name}` : '');
      const series = now.current.traces.flatMap((trace, index): UPlot.Series[] => {
        const dash = index > 0 ? { dash: [7, 5] } : {};
        const base = {
          width: 2,
          points: { show: (_: UPlot, _series: number, from: number, to: number) => to - from < 60 },
          value: (_: UPlot, v: number | null) => digits(v),
          ...dash,
        };
        return [
          { ...base, label: `V${of(trace.label)}`, scale: 'V', stroke: colour(COLOURS.voltage) },
          { ...base, label: `A${of(trace.label)}`, scale: 'A', stroke: colour(COLOURS.current) },
          ...(temperatureIn
            ? [
                {
                  ...base,
                  label: `${temperatureIn}${of(trace.label)}`,
                  scale: 'bath',
                  stroke: colour(COLOURS.temperature),
                },
              ]
            : []),
        ];
      });
      const fromZero = (_: UPlot, low: number, high: number): [number, number] => [
        Math.min(0, low || 0),
        high > 0 ? high * 1.08 : 1,
      ];
      const made = new UPlot(
        {
          width: Math.max(200, host.clientWidth),
          height: heightOf(host, live),
          legend: {
            live: !live,
            show: !live,
            // As the line is drawn: of two runs the second is dashed.
            markers: { width: 3, dash: (u, index) => (u.series[index]?.dash ? 'dashed' : 'solid') },
          },
          cursor: { drag: { x: !live, y: false, setScale: false } },
          scales: { x: { time: false }, V: { range: fromZero }, A: { range: fromZero } },
          series: [{ label: 'min', value: (_, v) => digits(v as number | null) }, ...series],
          axes: [
            {
              label: 'minutes since power on',
              labelSize: 22,
              labelFont: '14px system-ui, sans-serif',
              size: 34,
              stroke: colour('--ink-soft'),
              font: '14px system-ui, sans-serif',
              grid: { stroke: colour('--line'), width: 1 },
              ticks: { stroke: colour('--line'), width: 1 },
              values: numbers,
            },
            axis(COLOURS.voltage, 'V', 'volts', false),
            axis(COLOURS.current, 'A', 'amps', true),
            ...(temperatureIn ? [axis(COLOURS.temperature, 'bath', temperatureIn, true)] : []),
          ],
          hooks: {
            draw: [(u) => drawMarks(u, now.current.marks, colour)],
            setSelect: [
              (u) => {
                if (u.select.width < 4) return;
                zoomTo(u, u.posToVal(u.select.left, 'x'), u.posToVal(u.select.left + u.select.width, 'x'));
                u.setSelect({ left: 0, top: 0, width: 0, height: 0 }, false);
              },
            ],
          },
        },
        [[], ...series.map(() => [])] as unknown as UPlot.AlignedData,
        host,
      );
      const { from, to } = span.current ?? {
        from: startMin(now.current.traces),
        to: endMin(now.current.traces),
      };
      show(made, now.current.traces, from, to, temperatureIn);
      return made;
    };

    const zoomTo = (u: UPlot, from: number, to: number): void => {
      const low = startMin(now.current.traces);
      const high = endMin(now.current.traces);
      const width = Math.min(high - low, Math.max(1 / 60, to - from));
      const start = Math.min(high - width, Math.max(low, from));
      span.current = width >= high - low ? null : { from: start, to: start + width };
      show(u, now.current.traces, start, start + width, temperatureIn);
    };
    const whole = (u: UPlot): void => zoomTo(u, -Infinity, Infinity);

    let made = draw();
    plot.current = made;
    const over = (): HTMLElement => made.over;
    const onWheel = (event: WheelEvent): void => {
      event.preventDefault();
      const { min, max } = made.scales.x!;
      const at = made.posToVal(event.offsetX, 'x');
      const factor = event.deltaY < 0 ? 0.8 : 1.25;
      zoomTo(made, at - (at - min!) * factor, at + (max! - at) * factor);
    };
    const onDouble = (): void => whole(made);
    const onDown = (event: MouseEvent): void => {
      if (!event.shiftKey) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      const { min, max } = made.scales.x!;
      const perPx = (max! - min!) / made.over.clientWidth;
      const startX = event.clientX;
      const move = (to: MouseEvent): void => {
        const shift = (startX - to.clientX) * perPx;
        zoomTo(made, min! + shift, max! + shift);
      };
      const up = (): void => {
        window.removeEventListener('mousemove', move);
        window.removeEventListener('mouseup', up);
      };
      window.addEventListener('mousemove', move);
      window.addEventListener('mouseup', up);
    };
    const onCommand = (event: Event): void => {
      const { min, max } = made.scales.x!;
      const width = max! - min!;
      const middle = (max! + min!) / 2;
      const command = (event as CustomEvent<Command>).detail;
      if (typeof command === 'object') {
        const { holdMin } = command;
        if (holdMin < min! || holdMin > max!) zoomTo(made, holdMin - width / 2, holdMin + width / 2);
        return;
      }
      switch (command) {
        case 'in':
          return zoomTo(made, middle - width / 4, middle + width / 4);
        case 'out':
          return zoomTo(made, middle - width, middle + width);
        case 'earlier':
          return zoomTo(made, min! - width / 2, max! - width / 2);
        case 'later':
          return zoomTo(made, min! + width / 2, max! + width / 2);
        default:
          return whole(made);
      }
    };
    const listen = (): void => {
      if (live) return;
      over().addEventListener('wheel', onWheel, { passive: false });
      over().addEventListener('dblclick', onDouble);
      over().addEventListener('mousedown', onDown, { capture: true });
    };
    listen();
    host.addEventListener('plot-command', onCommand);
    const again = (): void => {
      made.destroy();
      made = draw();
      plot.current = made;
      listen();
    };
    const themes = new MutationObserver(again);
    themes.observe(document.documentElement, { attributes: true, attributeFilter: ['data-theme'] });
    const sizes = new ResizeObserver(() => {
      made.setSize({ width: Math.max(200, host.clientWidth), height: heightOf(host, live) });
    });
    sizes.observe(host);
    return () => {
      themes.disconnect();
      sizes.disconnect();
      host.removeEventListener('plot-command', onCommand);
      made.destroy();
      plot.current = null;
    };
  }, [shape, temperatureIn, live]);

  const command = useCallback((detail: Command): void => {
    frame.current?.dispatchEvent(new CustomEvent('plot-command', { detail }));
  }, []);
  const walk = useCallback(
    (at: { readonly tS: number; readonly voltageV: number } | null): void => {
      const atMin = at && at.tS / 60;
      if (atMin !== null) command({ holdMin: atMin });
      const drawn = plot.current;
      if (!drawn) return;
      // Off the picture there is no cursor.
      if (at === null || atMin === null) return drawn.setCursor({ left: -10, top: -10 });
      const top = Number.isNaN(at.voltageV) ? 0 : drawn.valToPos(at.voltageV, 'V');
      drawn.setCursor({ left: drawn.valToPos(atMin, 'x'), top });
    },
    [command],
  );
  const shownSpan = useCallback((): readonly [number, number] => {
    const { min, max } = plot.current?.scales.x ?? {};
    return [min ?? 0, max ?? 0];
  }, []);
  return (
    <figure className={`trace-plot ${live ? 'live' : ''}`}>
      <div className="trace-stage">
        <TraceWalk traces={traces} temperatureIn={temperatureIn} span={shownSpan} onWalk={walk} />
        <div ref={frame} className="trace-frame" role="img" aria-label={label} />
      </div>
      {live ? null : (
        <figcaption className="row">
          <ActionButton look="small" onPress={() => command('in')}>
            Closer
          </ActionButton>
          <ActionButton look="small" onPress={() => command('out')}>
            Wider
          </ActionButton>
          <ActionButton look="small" onPress={() => command('earlier')}>
            ◂ Earlier
          </ActionButton>
          <ActionButton look="small" onPress={() => command('later')}>
            Later ▸
          </ActionButton>
          <ActionButton look="small" onPress={() => command('whole')}>
            Whole run
          </ActionButton>
        </figcaption>
      )}
    </figure>
  );
}

function show(
  u: UPlot,
  traces: readonly Trace[],
  from: number,
  to: number,
  temperatureIn: TemperatureUnit | null,
): void {
  const tables = traces.map(({ readings }) => columnsOf(readings, from, to, temperatureIn));
  const data = tables.length === 1 ? tables[0]! : UPlot.join(tables);
  u.batch(() => {
    u.setData(data, false);
    u.setScale('x', { min: from, max: to });
  });
}

function drawMarks(
  u: UPlot,
  marks: readonly { readonly atS: number; readonly alarm: boolean }[],
  colour: (token: string) => string,
): void {
  const { ctx, bbox } = u;
  ctx.save();
  ctx.lineWidth = 2;
  for (const { atS, alarm } of marks) {
    const x = u.valToPos(atS / 60, 'x', true);
    if (x < bbox.left || x > bbox.left + bbox.width) continue;
    ctx.strokeStyle = colour(alarm ? '--stop' : '--line-strong');
    ctx.setLineDash(alarm ? [] : [4, 4]);
    ctx.beginPath();
    ctx.moveTo(x, bbox.top);
    ctx.lineTo(x, bbox.top + bbox.height);
    ctx.stroke();
  }
  ctx.restore();
}
