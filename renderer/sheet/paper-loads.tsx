import type { Job } from '../../core/job/job.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import type { PaperSheetProps } from './paper-props.ts';

type LoadTableProps = Pick<PaperSheetProps, 'job' | 'plan' | 'system' | 'tank'>;

/** "4 × knob, 1 × plate". */
export function piecesText(job: Pick<Job, 'parts'>, pieces: readonly number[]): string {
  return pieces
    .flatMap((count, item) => (count > 0 ? [`${count} × ${job.parts[item]?.name ?? ''}`] : []))
    .join(', ');
}

/** What goes into which load, with a box to tick when it is done. */
export function LoadTable({ job, plan, system, tank }: LoadTableProps) {
  const inTank = tank.plan?.ok ? tank.plan.value.hanging.loads : [];
  return (
    <table className="paper-table">
      <caption>Loads</caption>
      <thead>
        <tr>
          <th scope="col">Load</th>
          <th scope="col">Pieces</th>
          <th scope="col">Area</th>
          <th scope="col">Ramp to, hold</th>
          <th scope="col">Charge</th>
          <th scope="col">Done</th>
        </tr>
      </thead>
      <tbody>
        {plan.loads.map((load, index) => (
          <tr key={index}>
            <td>{index + 1}</td>
            <td>
              {piecesText(job, load.pieces)}
              {inTank[index] ? <small> {inTank[index].text}</small> : null}
            </td>
            <td>{formatQuantity('area', load.areaM2, system).text}</td>
            <td className="paper-amps">{formatIn('current', load.currentA, 'A').text}</td>
            <td>{formatIn('charge', load.chargeC, 'A·h').text}</td>
            <td>
              <span className="paper-box" />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
