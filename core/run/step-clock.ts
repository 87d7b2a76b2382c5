/**
 * The timers of a run's steps. Everything is worked out from moments written down once, so a timer is right after sleep,
 * reload or a crash. Time is the wall clock's, checked against a clock that only ever runs forward: when the two part
 * within one start of the program, the machine slept or its clock was set.
 */
export const STEP_KINDS = [
  'mix',
  'ready',
  'hang',
  'clean',
  'water-break',
  'rinse',
  'etch',
  'desmut',
  'ramp',
  'hold',
  'dye',
  'seal',
  'check',
] as const;
export type StepKind = (typeof STEP_KINDS)[number];

export interface RunStep {
  readonly kind: StepKind;
  readonly label: string;
  /** null for a step that ends when somebody says so. */
  readonly plannedS: number | null;
  /** What to do, in the words of the sheet. */
  readonly detail?: string | undefined;
  /** What can hurt at this step, a short sentence each. */
  readonly cautions?: readonly string[] | undefined;
}

/** What both clocks say. `start` names the start of the program the forward clock counts from. */
export interface ClockLook {
  readonly wallMs: number;
  readonly forwardMs: number;
  readonly start: string;
}

interface StandingMark {
  readonly kind: 'begin' | 'next' | 'pause' | 'resume' | 'end';
  readonly atMs: number;
}

export type StepMark =
  | StandingMark
  | { readonly kind: 'back'; readonly atMs: number }
  | { readonly kind: 'note'; readonly atMs: number; readonly text: string };

export interface ClockFinding {
  readonly kind: 'jumped-ahead' | 'set-back';
  readonly byMs: number;
  readonly message: string;
  readonly remedy: string;
}

/** The whole state: plain data, to be stored after every change. Marks are in corrected time and never fall. */
export interface StepClock {
  readonly steps: readonly RunStep[];
  readonly marks: readonly StepMark[];
  /** Added to the wall clock to get the run's own time. */
  readonly offsetMs: number;
  readonly lastLook: ClockLook | null;
  readonly findings: readonly ClockFinding[];
}

export interface StepTimer {
  readonly step: RunStep;
  readonly state: 'waiting' | 'running' | 'paused' | 'done';
  readonly elapsedMs: number;
  /** Below zero when overdue; null where the step has no planned time. */
  readonly remainingMs: number | null;
}

/** Clocks drift apart by seconds a day and are read a moment apart; more than this is an event. */
const TOLERANCE_MS = 2000;

export function newStepClock(steps: readonly RunStep[]): StepClock {
  if (steps.length === 0) throw new RangeError('newStepClock: no steps');
  const bad = steps.find((step) => step.plannedS !== null && !(step.plannedS >= 0));
  if (bad) throw new RangeError(`newStepClock: plannedS of ${bad.label} is ${bad.plannedS}`);
  return { steps, marks: [], offsetMs: 0, lastLook: null, findings: [] };
}

/**
 * Compares the clocks with the last look; call it every second or so and before every change. A clock set back is put
 * right at once: time in a tank doesn't run backwards. A jump ahead counts as time passed, because it is a machine's sleep
 * far more often than a set clock; `denyJump` takes it back.
 */
export function lookAtClock(clock: StepClock, look: ClockLook): StepClock {
  if (!Number.isFinite(look.wallMs)) throw new RangeError(`lookAtClock: wallMs is ${look.wallMs}`);
  const last = clock.lastLook;
  if (!last) return { ...clock, lastLook: look };
  const wall = look.wallMs - last.wallMs;
  if (last.start !== look.start) {
    // A new start of the program: only the wall clock spans it, and it can't have gone back.
    return wall < -TOLERANCE_MS ? setBack(clock, look, -wall) : { ...clock, lastLook: look };
  }
  const forward = look.forwardMs - last.forwardMs;
  const ahead = wall - forward;
  if (Math.abs(ahead) <= TOLERANCE_MS) return { ...clock, lastLook: look };
  if (ahead < 0) return setBack(clock, look, -ahead);
  const finding: ClockFinding = {
    kind: 'jumped-ahead',
    byMs: ahead,
    message: `The computer slept, or its clock was set ahead, by ${spoken(ahead)}.`,
    remedy: 'The time counts as passed; take it back if the clock was set.',
  };
  return { ...clock, lastLook: look, findings: [...clock.findings, finding] };
}

function setBack(clock: StepClock, look: ClockLook, byMs: number): StepClock {
  const finding: ClockFinding = {
    kind: 'set-back',
    byMs,
    message: `The computer’s clock was set back by ${spoken(byMs)}.`,
    remedy: 'The timers allow for it; compare them with another clock once.',
  };
  return {
    ...clock,
    offsetMs: clock.offsetMs + byMs,
    lastLook: look,
    findings: [...clock.findings, finding],
  };
}

/** Takes the last jump ahead back: the clock was set, nothing slept. */
export function denyJump(clock: StepClock): StepClock {
  const index = clock.findings.findLastIndex((finding) => finding.kind === 'jumped-ahead');
  if (index < 0) return clock;
  return {
    ...clock,
    offsetMs: clock.offsetMs - clock.findings[index]!.byMs,
    findings: clock.findings.filter((_, i) => i !== index),
  };
}

/** The run's own time at a look, ms. */
export function runTimeMs(clock: StepClock, look: ClockLook): number {
  return look.wallMs + clock.offsetMs;
}

/**
 * Writes a mark down; looks at the clock first. A mark that makes no sense now (pause while paused) changes nothing.
 */
export function markStep(
  clock: StepClock,
  kind: Exclude<StepMark['kind'], 'note'>,
  look: ClockLook,
): StepClock {
  const looked = lookAtClock(clock, look);
  const state = phase(looked);
  const allowed = {
    begin: state === 'waiting',
    next: state === 'running' || state === 'paused',
    back: (state === 'running' || state === 'paused') && currentStep(looked) > 0,
    pause: state === 'running',
    resume: state === 'paused',
    end: state === 'running' || state === 'paused',
  }[kind];
  return allowed ? addMark(looked, { kind, atMs: runTimeMs(looked, look) }) : looked;
}

/**
 * Ends the step that runs at the moment its planned time was over, however long ago that is; changes nothing before. For the ramp,
 * whose end nobody needs to say.
 */
export function endStepOnTime(clock: StepClock, look: ClockLook): StepClock {
  const looked = lookAtClock(clock, look);
  const timer = stepTimers(looked, look)[currentStep(looked)];
  if (timer?.state !== 'running' || timer.remainingMs === null || timer.remainingMs > 0) return looked;
  return addMark(looked, { kind: 'next', atMs: runTimeMs(looked, look) + timer.remainingMs });
}

export function noteStep(clock: StepClock, text: string, look: ClockLook): StepClock {
  const looked = lookAtClock(clock, look);
  return addMark(looked, { kind: 'note', atMs: runTimeMs(looked, look), text });
}

function addMark(clock: StepClock, mark: StepMark): StepClock {
  const last = clock.marks.at(-1)?.atMs ?? -Infinity;
  return { ...clock, marks: [...clock.marks, { ...mark, atMs: Math.max(mark.atMs, last) }] };
}

function phase(clock: StepClock): 'waiting' | 'running' | 'paused' | 'done' {
  const mark = standingMarks(clock).at(-1);
  if (!mark) return 'waiting';
  if (mark.kind === 'end' || currentStep(clock) >= clock.steps.length) return 'done';
  return mark.kind === 'pause' ? 'paused' : 'running';
}

/** The marks that count, without notes: a way back takes the last step forward with it, as if it had not been. */
export function standingMarks(clock: Pick<StepClock, 'marks'>): StandingMark[] {
  const standing: StandingMark[] = [];
  for (const mark of clock.marks) {
    if (mark.kind === 'note') continue;
    if (mark.kind !== 'back') {
      standing.push(mark);
      continue;
    }
    const last = standing.findLastIndex(({ kind }) => kind === 'next');
    if (last >= 0) standing.splice(last, 1);
  }
  return standing;
}

/** Index of the step that runs; the number of steps when all are done. */
export function currentStep(clock: Pick<StepClock, 'marks'>): number {
  return standingMarks(clock).filter((mark) => mark.kind === 'next').length;
}

/** Every step's timer at a moment. Time in pause does not count. */
export function stepTimers(clock: StepClock, look: ClockLook): StepTimer[] {
  const nowMs = Math.max(runTimeMs(clock, look), clock.marks.at(-1)?.atMs ?? -Infinity);
  const elapsed = new Array<number>(clock.steps.length).fill(0);
  let index = 0;
  let fromMs: number | null = null;
  const close = (atMs: number): void => {
    if (fromMs !== null && index < elapsed.length) elapsed[index]! += atMs - fromMs;
    fromMs = null;
  };
  for (const mark of standingMarks(clock)) {
    close(mark.atMs);
    if (mark.kind === 'next') index++;
    if (mark.kind === 'begin' || mark.kind === 'resume' || mark.kind === 'next') fromMs = mark.atMs;
  }
  const state = phase(clock);
  if (state === 'running') close(nowMs);
  return clock.steps.map((step, i) => ({
    step,
    state: state === 'waiting' || i > index ? 'waiting' : i < index || state === 'done' ? 'done' : state,
    elapsedMs: elapsed[i]!,
    remainingMs: step.plannedS === null ? null : step.plannedS * 1000 - elapsed[i]!,
  }));
}

function spoken(ms: number): string {
  const seconds = Math.round(ms / 1000);
  if (seconds < 120) return `${seconds} s`;
  if (seconds < 7200) return `${Math.round(seconds / 60)} min`;
  return `${(seconds / 3600).toFixed(1)} h`;
}
