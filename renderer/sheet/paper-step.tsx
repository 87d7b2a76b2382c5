import type { JobStep } from '../../core/job/job-step.ts';
import { timerText } from '../../core/units/timer-text.ts';

interface StepLineProps {
  readonly step: JobStep;
  /** How many loads go through it: each has a box of its own. */
  readonly loads: number;
}

/** A step with its box to tick, what to wait and what to write down. */
export function StepLine({ step, loads }: StepLineProps) {
  const numbers = Array.from({ length: loads }, (_, index) => index + 1);
  return (
    <div className={`paper-step ${step.detail === '' ? 'short' : ''} ${loads > 1 ? 'of-loads' : ''}`}>
      {loads === 1 ? (
        <span className="paper-box" />
      ) : (
        <span className="paper-boxes">
          {numbers.map((load) => (
            <span key={load} className="paper-box" title={`Load ${load}`}>
              {load}
            </span>
          ))}
        </span>
      )}
      <strong>{step.title}</strong>
      <div className="paper-minutes">{step.plannedS === null ? '' : timerText(step.plannedS)}</div>
      <div className="paper-record">
        {step.record.map((what) => (
          <span key={what}>
            {what} {numbers.map((load) => (loads === 1 ? '________' : `${load}: _____ `))}
          </span>
        ))}
      </div>
      {step.detail === '' ? null : <div className="paper-detail">{step.detail}</div>}
    </div>
  );
}
