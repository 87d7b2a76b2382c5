import { plannedCurrentA } from '../../core/run/planned-current.ts';
import type { RunRecord } from '../../core/shop/run-record.ts';
import { formatIn, formatQuantity } from '../../core/units/format-quantity.ts';
import { useApp } from './services.ts';

/** At the run the foot is the run's own plan: the open job may be another one, or have changed since. */
export function RunBar({ record }: { readonly record: RunRecord }) {
  const system = useApp((state) => state.unitSystem);
  const { name, plan } = record;
  const area = formatQuantity('area', plan.areaM2, system, 4);
  const current = formatIn('current', plannedCurrentA(plan), 'A', 3);
  const film = formatIn('length', plan.thicknessM, system === 'us' ? 'mil' : 'µm', 3);
  const power = formatIn('time', plan.rampS + plan.holdS, 'min', 3);
  return (
    <footer className="plan-bar" aria-label="The plan of this run">
      <div className="plan-figure">
        <span className="plan-label">This run</span>
        <strong className="plan-run-name">{name}</strong>
        <span className="plan-note">{plan.pieces}</span>
      </div>
      <RunFigure label="Area taking current" value={area.number} unit={area.unit} />
      <RunFigure
        label={plan.mode === 'current' ? 'Current, as planned' : 'Current expected'}
        value={current.number}
        unit={current.unit}
      />
      <RunFigure label="Power on, as planned" value={power.number} unit={power.unit} />
      <RunFigure label="Film wanted" value={film.number} unit={film.unit} />
    </footer>
  );
}

interface RunFigureProps {
  readonly label: string;
  readonly value: string;
  readonly unit: string;
}

function RunFigure({ label, value, unit }: RunFigureProps) {
  return (
    <div className="plan-figure">
      <span className="plan-label">{label}</span>
      <span className="plan-value">
        {value} <small>{unit}</small>
      </span>
    </div>
  );
}
