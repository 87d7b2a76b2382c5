import type { SheetStep } from '../../core/job/run-sheet.ts';

/** A step with its box to tick, what to wait and what to write down. */
export function StepLine({ step }: { step: SheetStep }) {
  return (
    <div className="paper-step">
      <span className="paper-box" />
      <div>
        <strong>{step.title}</strong>
        <div className="paper-detail">{step.detail}</div>
      </div>
      <div className="paper-minutes">{step.minutes === '' ? '' : `${step.minutes} min`}</div>
      <div className="paper-record">
        {step.record.map((what) => (
          <span key={what}>{what} ________</span>
        ))}
      </div>
    </div>
  );
}
