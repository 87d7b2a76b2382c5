import type { JobStep } from '../../core/job/job-step.ts';

/** A step with its box to tick, what to wait and what to write down. */
export function StepLine({ step }: { step: JobStep }) {
  return (
    <div className={`paper-step ${step.detail === '' ? 'short' : ''}`}>
      <span className="paper-box" />
      <strong>{step.title}</strong>
      <div className="paper-minutes">{step.minutes === '' ? '' : `${step.minutes} min`}</div>
      <div className="paper-record">
        {step.record.map((what) => (
          <span key={what}>{what} ________</span>
        ))}
      </div>
      {step.detail === '' ? null : <div className="paper-detail">{step.detail}</div>}
    </div>
  );
}
