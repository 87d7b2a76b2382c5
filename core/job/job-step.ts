import type { StepKind } from '../run/step-clock.ts';

/** One step of a job: a line of the sheet with a box to tick, and a step of the run's board. */
export interface JobStep {
  /** Names it among the steps of the job. */
  readonly id: string;
  readonly kind: StepKind;
  readonly title: string;
  readonly detail: string;
  /** What a timer is set to, on the sheet and on the board; null where it ends when somebody says so. A usual range stands in `detail`. */
  readonly plannedS: number | null;
  /** What to write down beside it: "°C", "V". */
  readonly record: readonly string[];
  readonly source: string;
}
