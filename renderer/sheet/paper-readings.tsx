import type { ExpectedVoltage } from '../../core/bath/expected-voltage.ts';
import type { RunPlan } from '../../core/electrical/plan-run.ts';
import type { Job } from '../../core/job/job.ts';
import { rampCurrentA } from '../../core/run/ramp-current.ts';
import { formatIn, formatNumber } from '../../core/units/format-quantity.ts';
import { timerText } from '../../core/units/timer-text.ts';
import type { UnitSystem } from '../../core/units/unit-table.ts';
import { piecesText } from './paper-loads.tsx';

/** "13 to 16 V": between the least at the start of the hold and the most at its end. */
export function voltsToExpect({ start, end }: ExpectedVoltage): string {
  const low = start.lowSi ?? start.valueSi;
  const high = end.highSi ?? end.valueSi;
  return `${formatNumber(low, 3)} to ${formatIn('voltage', high, 'V').text}`;
}

interface ReadingsTableProps {
  readonly job: Job;
  /** Index of the load that these readings are of, from 0. */
  readonly load: number;
  readonly minutes: readonly number[];
  readonly plan: RunPlan;
  readonly system: UnitSystem;
  /** What the hold should read, in words; empty where it is not known. */
  readonly expectedV: string;
}

/** Lines for the readings of one load's run, with the current planned for each. */
export function ReadingsTable({ job, load, minutes, plan, system, expectedV }: ReadingsTableProps) {
  const { currentA, pieces } = plan.loads[load]!;
  const amps = (minute: number): string =>
    formatIn('current', rampCurrentA(currentA, plan.rampS.valueSi, minute * 60), 'A').text;
  return (
    <table className="paper-table readings">
      <caption>
        {plan.loads.length > 1
          ? `Readings of load ${load + 1}: ${piecesText(job, pieces)}; hold ${formatIn('current', currentA, 'A').text}`
          : 'Readings'}
      </caption>
      <thead>
        <tr>
          <th scope="col">Min:s</th>
          <th scope="col">Planned</th>
          <th scope="col">Read A</th>
          <th scope="col">Read V{expectedV === '' ? null : <small> hold: {expectedV}</small>}</th>
          <th scope="col">Bath {system === 'metric' ? '°C' : '°F'}</th>
          <th scope="col">Remarks</th>
        </tr>
      </thead>
      <tbody>
        {minutes.map((minute) => (
          <tr key={minute}>
            <td>{timerText(minute * 60)}</td>
            <td>{amps(minute)}</td>
            <td />
            <td />
            <td />
            <td className="wide" />
          </tr>
        ))}
      </tbody>
    </table>
  );
}
