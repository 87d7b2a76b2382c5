import type { PartFitPlan } from '../../core/job/fit-plan.ts';
import { formatIn } from '../../core/units/format-quantity.ts';
import { useApp } from '../app/services.ts';

/** What to lay out for what is masked. */
export function MaskTable({ plan }: { plan: PartFitPlan }) {
  const unit = useApp((state) => (state.unitSystem === 'us' ? 'in' : 'mm'));
  if (plan.masks.length === 0) {
    return <p className="soft">What you mask is listed here with the plugs, caps and tape it needs.</p>;
  }
  return (
    <table className="plain tight" aria-label="Plugs, caps and tape">
      <thead>
        <tr>
          <th scope="col">What</th>
          <th scope="col">Size</th>
          <th scope="col">Pieces</th>
        </tr>
      </thead>
      <tbody>
        {plan.masks.map((line) => (
          <tr key={`${line.item}-${line.lowM}-${line.highM}`}>
            <th scope="row">
              {line.item}
              <div className="soft">{line.features.join('; ')}</div>
              <div className="soft">{line.note}</div>
            </th>
            <td>
              {line.highM > line.lowM
                ? `${formatIn('length', line.lowM, unit, 3).number}–${formatIn('length', line.highM, unit, 3).text}`
                : `${formatIn('length', line.lowM, unit, 3).text}${line.item === 'tape disc or strip' ? ' wide' : ''}`}
            </td>
            <td>{line.count}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
