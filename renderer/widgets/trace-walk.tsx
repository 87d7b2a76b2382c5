import { useEffect, useId, useState, type KeyboardEvent } from 'react';
import { nearestReading, spokenReading, walkTo } from './walk-readings.ts';
import type { Trace } from './trace-plot.tsx';

interface TraceWalkProps {
  readonly traces: readonly Trace[];
  readonly temperatureIn: '°C' | '°F' | null;
  /** What the chart shows, minutes. */
  readonly span: () => readonly [from: number, to: number];
  /** Shows the cursor at a reading of the first trace, moving the chart there; null takes it off. */
  readonly onWalk: (at: { readonly tS: number; readonly voltageV: number } | null) => void;
}

/** The chart's readings by the keyboard: arrows go from one to the next, each said in words; Escape leaves. */
export function TraceWalk({ traces, temperatureIn, span, onWalk }: TraceWalkProps) {
  const [chosen, setChosen] = useState(-1);
  const [isHere, setIsHere] = useState(false);
  const hint = useId();
  const first = traces[0]?.readings;
  const count = first?.tS.length ?? 0;
  // Another run, or one whose readings were put right, may have fewer.
  const at = Math.min(chosen, count - 1);
  useEffect(() => {
    if (at >= 0 && first) onWalk({ tS: first.tS[at]!, voltageV: first.voltageV[at]! });
  }, [at, first, onWalk]);
  if (!first || count === 0) return null;
  const leave = (): void => {
    setChosen(-1);
    onWalk(null);
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === 'Escape' && at >= 0) {
      event.preventDefault();
      event.stopPropagation();
      return leave();
    }
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const [from, to] = span();
    const shown = [nearestReading(first.tS, from * 60), nearestReading(first.tS, to * 60)] as const;
    const next = walkTo(event.key, at, count, shown);
    if (next === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    setChosen(next);
  };
  const said = at >= 0 ? spokenReading(traces, at, temperatureIn) : null;
  return (
    <>
      <div
        role="slider"
        tabIndex={0}
        className="trace-walk"
        aria-label="Readings, one by one"
        aria-describedby={hint}
        aria-valuemin={1}
        aria-valuemax={count}
        aria-valuenow={Math.max(1, at + 1)}
        aria-valuetext={said ?? 'none chosen yet'}
        onKeyDown={onKeyDown}
        onFocus={() => setIsHere(true)}
        onBlur={() => {
          setIsHere(false);
          leave();
        }}
      />
      {isHere ? (
        <p className="trace-said" aria-hidden="true">
          {said ?? 'Arrow keys go from reading to reading.'}
        </p>
      ) : null}
      <span id={hint} className="visually-hidden">
        Arrow keys go from reading to reading, Page Up and Page Down ten at a time, Home and End to the first
        and the last, Escape leaves.
      </span>
    </>
  );
}
