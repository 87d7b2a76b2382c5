import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { joinLog, joinedOrigin } from '../../../core/run/join-readings.ts';
import { parseTypedReading, type TypingContext } from '../../../core/run/parse-typed-reading.ts';
import { powerSpan } from '../../../core/run/power-span.ts';
import { readingsFrom } from '../../../core/run/readings.ts';
import { runFacts } from '../../../core/run/run-facts.ts';
import { markStep, newStepClock, type ClockLook, type StepClock } from '../../../core/run/step-clock.ts';
import { thinTrace } from '../../../core/run/thin-trace.ts';

describe('a typed reading', () => {
  const context: TypingContext = {
    mode: 'current',
    last: { voltageV: 15, currentA: 4.2 },
    temperatureUnit: '°C',
  };
  const read = (text: string, change: Partial<TypingContext> = {}) => {
    const parsed = parseTypedReading(text, { ...context, ...change });
    return parsed.ok ? parsed.value : parsed.error.code;
  };

  it.each([
    ['15.2 4.1 20.5', 15.2, 4.1, 293.65],
    ['15,2 4,1', 15.2, 4.1, null],
    ['15.2; 4.1; 20', 15.2, 4.1, 293.15],
    ['4100mA 15.2V', 15.2, 4.1, null],
    ['15.2 V 4.1 A 20 °C', 15.2, 4.1, 293.15],
    ['68°F 4.1A 15.2V', 15.2, 4.1, 293.15],
  ])('%s', (text, voltageV, currentA, bathTemperatureK) => {
    const value = read(text);
    expect(value).toMatchObject({ asBefore: [] });
    if (typeof value === 'string') return;
    expect(value.voltageV).toBeCloseTo(voltageV, 9);
    expect(value.currentA).toBeCloseTo(currentA, 9);
    if (bathTemperatureK === null) expect(value.bathTemperatureK).toBeNull();
    else expect(value.bathTemperatureK).toBeCloseTo(bathTemperatureK, 9);
  });

  it('a number alone is what the supply does not hold; the other is as before and said so', () => {
    expect(read('15.4')).toMatchObject({ voltageV: 15.4, currentA: 4.2, asBefore: ['current'] });
    expect(read('4.4', { mode: 'voltage' })).toMatchObject({
      voltageV: 15,
      currentA: 4.4,
      asBefore: ['voltage'],
    });
  });

  it('says what is missing or unclear instead of guessing', () => {
    expect(read('')).toBe('reading-empty');
    expect(read('15.4', { last: null })).toBe('reading-incomplete');
    expect(read('20 °C')).toBe('reading-incomplete');
    expect(read('abc')).toBe('reading-unclear');
    expect(read('1 2 3 4')).toBe('reading-unclear');
    expect(read('15V 16V')).toBe('reading-unclear');
    expect(read('1500 4')).toBe('reading-range');
    expect(read('15 4 300')).toBe('reading-range');
  });

  it('says what to type in the unit that is read', () => {
    const says = (text: string, temperatureUnit: '°C' | '°F'): string => {
      const parsed = parseTypedReading(text, { ...context, temperatureUnit });
      return parsed.ok ? '' : parsed.error.remedy;
    };
    expect(says('abc', '°F')).toBe('Type numbers with blanks between: volts, amps, °F.');
    expect(says('1 2 3 4', '°F')).toBe('Type volts, amps, °F.');
    // 253.15 and 373.15 K in both.
    expect(says('14.5 20.3 680', '°F')).toBe('Type −4 to 212 °F.');
    expect(says('14.5 20.3 680', '°C')).toBe('Type −20 to 100 °C.');
    expect(says('abc', '°C')).toContain('°C');
  });

  it('never throws, whatever is typed', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 30 }), (text) => {
        const parsed = parseTypedReading(text, context);
        if (parsed.ok) expect(Number.isFinite(parsed.value.voltageV + parsed.value.currentA)).toBe(true);
      }),
      { seed: 5, numRuns: 2000 },
    );
  });
});

describe('power on and off', () => {
  const look = (ms: number): ClockLook => ({ wallMs: ms, forwardMs: ms, start: 'a' });
  const run = (...marks: (readonly [Parameters<typeof markStep>[1], number])[]): StepClock =>
    marks.reduce(
      (clock, [kind, ms]) => markStep(clock, kind, look(ms)),
      newStepClock([
        { kind: 'clean', label: 'Clean', plannedS: 60 },
        { kind: 'ramp', label: 'Ramp', plannedS: 300 },
        { kind: 'hold', label: 'Hold', plannedS: 3000 },
        { kind: 'rinse', label: 'Rinse', plannedS: 60 },
      ]),
    );

  it('begins with the ramp and ends when the hold is left; pauses are no end', () => {
    expect(powerSpan(run(['begin', 1000]))).toEqual({ onMs: null, offMs: null });
    expect(powerSpan(run(['begin', 1000], ['next', 5000], ['pause', 6000], ['resume', 7000]))).toEqual({
      onMs: 5000,
      offMs: null,
    });
    const whole = run(['begin', 1000], ['next', 5000], ['next', 9000], ['next', 20_000], ['next', 30_000]);
    expect(powerSpan(whole)).toEqual({ onMs: 5000, offMs: 20_000 });
  });

  it('goes on after a way back out of the rinse, and never was on after one out of the ramp', () => {
    const off = run(['begin', 1000], ['next', 5000], ['next', 9000], ['next', 20_000], ['back', 21_000]);
    expect(powerSpan(off)).toEqual({ onMs: 5000, offMs: null });
    expect(powerSpan(run(['begin', 1000], ['next', 5000], ['back', 6000]))).toEqual({
      onMs: null,
      offMs: null,
    });
  });

  it('ends with the run, and never begins in one that was ended before', () => {
    expect(powerSpan(run(['begin', 1000], ['next', 5000], ['end', 8000]))).toEqual({
      onMs: 5000,
      offMs: 8000,
    });
    expect(powerSpan(run(['begin', 1000], ['end', 8000]))).toEqual({ onMs: null, offMs: null });
  });
});

describe('a log put into a run', () => {
  const at = (...times: number[]) => times.map((tS) => ({ tS, voltageV: tS, currentA: 1 }));

  it('stands for its own span, and what lies around it stays', () => {
    const joined = joinLog(
      readingsFrom(at(0, 10, 20, 30, 40), 'typed'),
      readingsFrom(at(0, 5, 10), 'log'),
      12,
    );
    expect([...joined.tS]).toEqual([0, 10, 12, 17, 22, 30, 40]);
    expect([...joined.voltageV]).toEqual([0, 10, 0, 5, 10, 30, 40]);
    expect(joined.origin).toBe('log');
  });

  it('what has a simulated part counts as simulated', () => {
    expect(joinedOrigin('simulated', 'supply')).toBe('simulated');
    expect(joinedOrigin('typed', 'simulated')).toBe('simulated');
    expect(joinedOrigin('typed', 'supply')).toBe('supply');
  });
});

describe('thinning a trace', () => {
  it('keeps the extremes of every bucket and the order, against brute force', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: -50, max: 50 })), {
          minLength: 1,
          maxLength: 400,
        }),
        fc.integer({ min: 1, max: 12 }),
        (steps, buckets) => {
          let t = 0;
          const tS = Float64Array.from(steps, ([step]) => (t += step));
          const values = Float64Array.from(steps, ([, value]) => value);
          const fromS = tS[0]!;
          // Whole seconds a bucket, so that rounding does not decide on which side of a border a point lies.
          const toS = fromS + buckets * Math.max(1, Math.ceil((tS.at(-1)! - fromS) / buckets));
          const kept = [...thinTrace(tS, [values], fromS, toS, buckets)];
          expect(kept).toEqual([...new Set(kept)].sort((a, b) => a - b));
          const span = (toS - fromS) / buckets;
          for (let b = 0; b < buckets; b++) {
            const inside = [...tS.keys()].filter(
              (i) => Math.min(buckets - 1, Math.floor((tS[i]! - fromS) / span)) === b,
            );
            if (inside.length === 0) continue;
            const most = Math.max(...inside.map((i) => values[i]!));
            const least = Math.min(...inside.map((i) => values[i]!));
            const shown = inside.filter((i) => kept.includes(i)).map((i) => values[i]!);
            expect(Math.max(...shown)).toBe(most);
            expect(Math.min(...shown)).toBe(least);
          }
        },
      ),
      { seed: 11, numRuns: 300 },
    );
  });

  it('draws a two-hour run every second with some thousand points, and all of a short one', () => {
    const tS = Float64Array.from({ length: 7200 }, (_, i) => i);
    const kept = thinTrace(tS, [tS, tS], 0, 7200, 400);
    expect(kept.length).toBeLessThanOrEqual(402 * 6);
    expect([...thinTrace(tS, [tS, tS], 100, 110, 400)]).toEqual(Array.from({ length: 13 }, (_, i) => 99 + i));
  });
});

describe('what a finished run says', () => {
  it('charge, energy and steady means in closed form', () => {
    // 4 A at 15 V for an hour after a ramp of 300 s: Q = 4 · (3600 + 150) = 15 000 C.
    const list = [{ tS: 0, voltageV: 15, currentA: 0, bathTemperatureK: 293 }];
    for (let tS = 300; tS <= 3900; tS += 60)
      list.push({ tS, voltageV: 15, currentA: 4, bathTemperatureK: 293 + tS / 1000 });
    const facts = runFacts(readingsFrom([list[0]!, ...list.slice(1)], 'typed'), 300, []);
    expect(facts.chargeC).toBeCloseTo(15_000, 6);
    expect(facts.highChargeC).toBeCloseTo(15_000, 6);
    expect(facts.energyJ).toBeCloseTo(15 * 15_000, 6);
    expect(facts.steadyVoltageV).toBeCloseTo(15, 12);
    expect(facts.steadyCurrentA).toBeCloseTo(4, 12);
    expect(facts.lastTemperatureK! - facts.firstTemperatureK!).toBeCloseTo(3.9, 9);
    expect(facts.troubled).toBe(false);
  });
});
