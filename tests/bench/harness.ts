import { cpus } from 'node:os';

/** One thing to time. `prepare` runs before each timing and is not counted. */
export interface BenchCase {
  readonly name: string;
  readonly prepare?: () => void;
  readonly run: () => unknown;
}

export interface Timing {
  readonly name: string;
  /** Milliseconds. */
  readonly median: number;
  readonly low: number;
  readonly high: number;
}

export interface Target {
  readonly what: string;
  readonly value: number;
  readonly limit: number;
  readonly unit: string;
  /** Where a larger value is better. */
  readonly atLeast?: boolean;
}

export interface BenchSubject {
  /** group/subject; either can be given on the command line. */
  readonly name: string;
  /** Prints its own tables through the functions of this file and returns what it promised. */
  readonly run: () => readonly Target[] | Promise<readonly Target[]>;
}

const ROUNDS = 7;

/**
 * Times all cases in turn, round after round, so that a busy moment of the machine falls on all of them alike. One
 * round before the first counts for nothing: it warms the compiler up.
 */
export function timeCases(cases: readonly BenchCase[], rounds = ROUNDS): Timing[] {
  const times = cases.map(() => [] as number[]);
  for (let round = -1; round < rounds; round++) {
    cases.forEach(({ prepare, run }, i) => {
      prepare?.();
      collectGarbage();
      const start = performance.now();
      sink.value = run();
      const elapsed = performance.now() - start;
      if (round >= 0) times[i].push(elapsed);
    });
  }
  sink.value = undefined;
  return cases.map(({ name }, i) => timingOf(name, times[i]));
}

/** Sums up times taken elsewhere, ms; at least one. */
export function timingOf(name: string, times: readonly number[]): Timing {
  if (times.length === 0) throw new RangeError(`times: none for ${name}`);
  const sorted = [...times].sort((a, b) => a - b);
  return { name, median: sorted[Math.floor(sorted.length / 2)]!, low: sorted[0]!, high: sorted.at(-1)! };
}

/** Where results go, so that none can be optimised away. */
const sink: { value?: unknown } = {};

function collectGarbage(): void {
  (globalThis as { gc?: () => void }).gc?.();
}

/** Prints timings with their ratio to the first or the named one. */
export function printTimings(title: string, timings: readonly Timing[], baseline = timings[0].name): void {
  const base = medianOf(timings, baseline);
  const width = Math.max(...timings.map(({ name }) => name.length));
  console.log(`\n${title}  (ms: median, low … high; × ${baseline})`);
  for (const { name, median, low, high } of timings) {
    console.log(
      `  ${name.padEnd(width)}  ${ms(median)}  ${ms(low)} … ${ms(high)}  × ${(median / base).toFixed(2)}`,
    );
  }
}

export function medianOf(timings: readonly Timing[], name: string): number {
  const found = timings.find((timing) => timing.name === name);
  if (!found) throw new RangeError(`name: no timing called ${name}`);
  return found.median;
}

export function printTargets(targets: readonly Target[]): void {
  for (const { what, value, limit, unit, atLeast } of targets) {
    const holds = atLeast ? value >= limit : value <= limit;
    const sign = atLeast ? '≥' : '≤';
    console.log(
      `  ${holds ? 'holds ' : 'MISSED'} ${what}: ${value.toPrecision(3)}${unit} (${sign} ${limit}${unit})`,
    );
  }
}

/** What the numbers were measured on. */
export function machineLine(): string {
  const models = cpus();
  return `Node ${process.version}, ${process.platform} ${process.arch}, ${models.length} × ${models[0]?.model ?? 'unknown'}`;
}

function ms(value: number): string {
  return value.toFixed(value < 10 ? 2 : 0).padStart(7);
}
